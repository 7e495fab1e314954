package bolt

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
)

// A backup is a line that says what it is, the file as it stood in one read
// transaction, and the SHA-256 of both.
var backupHead = []byte("Fieldsign backup 1\n")

var (
	// ErrTorn: the backup is cut off, or not one byte of it may be trusted.
	ErrTorn = errors.New("this is no whole backup of Fieldsign: it was cut off, changed or is another file; take another copy")
	// ErrThere: a restore never overwrites.
	ErrThere = errors.New("there is a file already: move it away first, or restore to another name")
)

var _ store.Backer = (*Store)(nil)

// Backup spools the copy to a file beside the store's first, since a slow
// reader inside a transaction would hold up the games.
func (s *Store) Backup(ctx context.Context, w io.Writer) error {
	spool, err := os.CreateTemp(filepath.Dir(s.path), filepath.Base(s.spool()))
	if err != nil {
		return fmt.Errorf("no backup: %w", err)
	}
	defer func() { spool.Close(); os.Remove(spool.Name()) }()
	sum := sha256.New()
	out := io.MultiWriter(spool, sum)
	if _, err := out.Write(backupHead); err != nil {
		return fmt.Errorf("no backup: %w", err)
	}
	err = s.view(ctx, gamesKey, func(games *bbolt.Bucket) error {
		_, err := games.Tx().WriteTo(out)
		return err
	})
	if err == nil {
		_, err = spool.Write(sum.Sum(nil))
	}
	if err == nil {
		_, err = spool.Seek(0, io.SeekStart)
	}
	if err == nil {
		_, err = io.Copy(w, spool)
	}
	if err != nil {
		return fmt.Errorf("no backup: %w", err)
	}
	return nil
}

// Contents is what a restored store holds.
type Contents struct{ Games, Events, Photos, Seasons int }

// Restore makes a new store's file at path of a backup. It reads and checks
// every record and photo before the file gets its name, and overwrites nothing.
func Restore(ctx context.Context, r io.Reader, path string) (Contents, error) {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return Contents{}, fmt.Errorf("%s: %w", path, errors.Join(ErrThere, err))
	}
	part, err := os.CreateTemp(filepath.Dir(path), ".fieldsign-restore-*")
	if err != nil {
		return Contents{}, err
	}
	defer os.Remove(part.Name())
	err = unpack(r, part)
	if err := errors.Join(err, part.Sync(), part.Close()); err != nil {
		return Contents{}, err
	}
	found, err := inspect(ctx, part.Name())
	if err != nil {
		return found, err
	}
	if err := publish(part.Name(), path); err != nil {
		return found, err
	}
	return found, syncFolder(filepath.Dir(path))
}

// publish gives the file its name. A link fails where there is a file by now;
// a rename, for disks without links, would take its place.
func publish(part, path string) error {
	err := os.Link(part, path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		err = os.Rename(part, path)
	}
	return err
}

// unpack writes what is between the head and the sum, and checks both.
func unpack(r io.Reader, w io.Writer) error {
	sum := sha256.New()
	head := make([]byte, len(backupHead))
	if _, err := io.ReadFull(r, head); err != nil || !bytes.Equal(head, backupHead) {
		return ErrTorn
	}
	sum.Write(head)
	kept := &tail{w: io.MultiWriter(w, sum)}
	if _, err := io.Copy(kept, r); err != nil {
		return err
	}
	return kept.check(sum)
}

// tail writes all but the last bytes that it is given, which are the sum.
type tail struct {
	w    io.Writer
	last []byte
}

func (t *tail) Write(p []byte) (int, error) {
	t.last = append(t.last, p...)
	if more := len(t.last) - sha256.Size; more > 0 {
		if _, err := t.w.Write(t.last[:more]); err != nil {
			return 0, err
		}
		t.last = append(t.last[:0], t.last[more:]...)
	}
	return len(p), nil
}

func (t *tail) check(sum hash.Hash) error {
	if !bytes.Equal(sum.Sum(nil), t.last) {
		return ErrTorn
	}
	return nil
}

// inspect opens a store and reads all of it.
func inspect(ctx context.Context, path string) (found Contents, err error) {
	s, err := Open(path)
	if err != nil {
		return found, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	games, err := s.Games(ctx)
	if err != nil {
		return found, err
	}
	for _, g := range games {
		err := s.Read(ctx, g.ID, 0, func(store.Record) error { found.Events++; return nil })
		if err != nil {
			return found, err
		}
		if _, err := s.Standings(ctx, g.ID); err != nil {
			return found, err
		}
	}
	photos, err := s.Photos(ctx)
	if err != nil {
		return found, err
	}
	for _, p := range photos {
		if _, err := s.Photo(ctx, p.ID); err != nil {
			return found, err
		}
	}
	seasons, err := s.Seasons(ctx)
	if err != nil {
		return found, err
	}
	for _, season := range seasons {
		if _, err := s.Results(ctx, season.ID); err != nil {
			return found, err
		}
	}
	found.Games, found.Photos, found.Seasons = len(games), len(photos), len(seasons)
	return found, nil
}
