package hub

import (
	"syscall"
	"unsafe"
)

// writeNow writes what the kernel takes without waiting, which may be nothing:
// net's descriptors don't block. So the scheduler is not told of it: it
// would at times give the core to another thread in the middle of a broadcast.
func writeNow(fd int, p []byte) (int, error) {
	for {
		n, _, err := syscall.RawSyscall(syscall.SYS_WRITE, uintptr(fd), uintptr(unsafe.Pointer(unsafe.SliceData(p))), uintptr(len(p)))
		switch err {
		case 0:
			return int(n), nil
		case syscall.EAGAIN:
			return 0, nil
		case syscall.EINTR:
		default:
			return 0, err
		}
	}
}
