package bolt

import (
	"bytes"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"unsafe"

	"golang.org/x/sys/unix"
)

// failSyncs has the kernel answer every fsync and fdatasync of this process
// with an I/O error from now on, while writes go on: a seccomp filter, on all
// threads, which nothing can take back.
func failSyncs() error {
	const load, equal, ret = unix.BPF_LD | unix.BPF_W | unix.BPF_ABS, unix.BPF_JMP | unix.BPF_JEQ | unix.BPF_K, unix.BPF_RET | unix.BPF_K
	filter := []unix.SockFilter{
		{Code: load, K: 0}, // the number of the call
		{Code: equal, K: syscall.SYS_FSYNC, Jt: 1},
		{Code: equal, K: syscall.SYS_FDATASYNC, Jf: 1},
		{Code: ret, K: unix.SECCOMP_RET_ERRNO | uint32(syscall.EIO)},
		{Code: ret, K: unix.SECCOMP_RET_ALLOW},
	}
	program := unix.SockFprog{Len: uint16(len(filter)), Filter: &filter[0]}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := unix.Prctl(unix.PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0); err != nil {
		return err
	}
	if _, _, errno := unix.Syscall(unix.SYS_SECCOMP, unix.SECCOMP_SET_MODE_FILTER, unix.SECCOMP_FILTER_FLAG_TSYNC, uintptr(unsafe.Pointer(&program))); errno != 0 {
		return errno
	}
	return nil
}

// TestFailedSync has the disk fail to sync under eight writers: from then on
// nothing is acknowledged, and all that was before is there.
func TestFailedSync(t *testing.T) {
	path := tempFile(t)
	var said bytes.Buffer
	cmd, lines := child(t, path, "", &said, childSyncs+"=100")
	accepted := map[string]uint64{}
	for lines.Scan() {
		accept(t, accepted, lines.Text())
	}
	err := cmd.Wait()
	if err == nil || strings.Count(said.String(), ErrReadOnly.Error()) != childGames || !strings.Contains(said.String(), syscall.EIO.Error()) {
		t.Errorf("the child ended with %v and said %q; want ErrReadOnly from each writer", err, said.String())
	}
	wantAccepted(t, path, accepted)
	t.Logf("accepted up to %v, then: %s", accepted, strings.SplitN(said.String(), "\n", 2)[0])
}
