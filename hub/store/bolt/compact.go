package bolt

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// copyAtOnce bounds how many bytes a compaction copies in one transaction.
const copyAtOnce = 16 << 20

// ErrNotCleared: what was deleted is gone, but its bytes are in the file yet.
var ErrNotCleared = errors.New("deleted, but the file could not be cleared of it: make room on the disk, then delete it once more")

// fresh is the file that is going to take the store's place.
func (s *Store) fresh() string { return s.path + ".fresh" }

// spool is the pattern of the files in which backups are made ready.
func (s *Store) spool() string { return s.path + ".spool-*" }

// clearAway removes what a compaction or a backup left that was cut off: copies
// of what may have been deleted since. Only who holds the store's lock may.
func (s *Store) clearAway() error {
	left, err := filepath.Glob(s.spool())
	if err != nil {
		left = nil // a folder with a pattern's characters in its name
	}
	for _, name := range append(left, s.fresh()) {
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("a file that an earlier start left can't be removed: %w", err)
		}
	}
	return nil
}

// compact puts a copy without free pages in the file's place. It runs on the
// committer, so that nothing is written meanwhile; readers wait for the change
// alone. Whenever it is cut off, the path names one whole file or the other.
func (s *Store) compact() error {
	if !s.stale {
		return nil
	}
	if err := guard(s.copyFresh); err != nil {
		os.Remove(s.fresh())
		return fmt.Errorf("store: %w (%s: %w)", ErrNotCleared, s.path, err)
	}
	if err := guard(s.takeFresh); err != nil {
		failed := fmt.Errorf("%w (%s: %w)", ErrReadOnly, s.path, err)
		s.failed.Store(&failed)
		return failed
	}
	s.stale = false
	return nil
}

func (s *Store) copyFresh() error {
	db, err := bbolt.Open(s.fresh(), 0o600, &bbolt.Options{Timeout: lockWait, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return err
	}
	return errors.Join(bbolt.Compact(db, s.db, copyAtOnce), db.Close())
}

// takeFresh closes the old file before it changes the name, as Windows wants it.
func (s *Store) takeFresh() error {
	s.swap.Lock()
	defer s.swap.Unlock()
	if err := s.db.Close(); err != nil {
		return err
	}
	if err := os.Rename(s.fresh(), s.path); err != nil {
		return errors.Join(err, s.open())
	}
	return errors.Join(s.open(), syncFolder(filepath.Dir(s.path)))
}
