//go:build unix

package socket

import "syscall"

// writeNow writes what the kernel takes without waiting, which may be nothing:
// net's descriptors don't block.
func writeNow(fd int, p []byte) (int, error) {
	for {
		switch n, err := syscall.Write(fd, p); err {
		case nil:
			return n, nil
		case syscall.EAGAIN:
			return 0, nil
		case syscall.EINTR:
		default:
			return 0, err
		}
	}
}
