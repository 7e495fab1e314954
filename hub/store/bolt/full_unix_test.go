//go:build unix

package bolt

import (
	"bytes"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// limitFileSize makes writes beyond the limit fail, as on a full disk.
func limitFileSize(limit string) error {
	if limit == "" {
		return nil
	}
	n, err := strconv.ParseUint(limit, 10, 64)
	if err != nil {
		return err
	}
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n})
}

// TestDiskFull lets a child write until there is no room: all that it was told
// is kept is there, and the refusal says why.
func TestDiskFull(t *testing.T) {
	path := tempFile(t)
	var said bytes.Buffer
	cmd, lines := child(t, path, "200000", &said)
	accepted := map[string]uint64{}
	for lines.Scan() {
		accept(t, accepted, lines.Text())
	}
	err := cmd.Wait()
	if err == nil || strings.Count(said.String(), ErrReadOnly.Error()) != childGames {
		t.Errorf("the child ended with %v and said %q; want ErrReadOnly from each writer", err, said.String())
	}
	if len(accepted) != childGames {
		t.Errorf("accepted %v before the disk was full; want some of each game", accepted)
	}
	wantAccepted(t, path, accepted)
	t.Logf("accepted up to %v, then: %s", accepted, strings.SplitN(said.String(), "\n", 2)[0])
}
