package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fieldsign/hub/store/bolt"
)

const backupHelp = `fieldsign backup FILE copies the games and photos to a file, as they are in one moment.

  fieldsign backup monday.backup                              of a hub that is stopped
  fieldsign backup --hub http://localhost:7600 monday.backup  of one that runs

The copy has the nicknames in it: keep it as you keep fieldsign.db. Games on
Redis are backed up with Redis' own tools.
`

const restoreHelp = `fieldsign restore FILE makes a file of games of a backup, for a hub to start with.

  fieldsign restore --data fieldsign.db monday.backup

It checks all that is in the backup first, and overwrites nothing.
`

func runBackup(ctx context.Context, args []string, out io.Writer) error {
	var r remote
	f := flags("backup", backupHelp, out)
	r.flags(f)
	if err := parseWithEnvironment(f, args, whereOnly); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return errors.New("where to? Give one file: fieldsign backup FILE")
	}
	to := f.Arg(0)
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("there is a file %s already: give another name", to)
	}
	if err := r.backUp(ctx, to); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s is written and checked. Keep it as you keep the games: nicknames are in it.\n", to)
	return nil
}

// backUp writes the copy beside its place and reads it back before it gets its
// name: what has that name can be restored.
func (r remote) backUp(ctx context.Context, to string) error {
	part, err := os.CreateTemp(filepath.Dir(to), ".fieldsign-*")
	if err != nil {
		return fmt.Errorf("no backup can be written there: %w", err)
	}
	defer os.Remove(part.Name())
	if err := errors.Join(r.copyTo(ctx, part), part.Sync(), part.Close()); err != nil {
		return err
	}
	trial, err := os.MkdirTemp(filepath.Dir(to), ".fieldsign-*")
	if err != nil {
		return fmt.Errorf("the backup can't be checked: %w", err)
	}
	defer os.RemoveAll(trial)
	if _, err := restored(ctx, part.Name(), filepath.Join(trial, "games.db")); err != nil {
		return fmt.Errorf("the copy is not good: %w", err)
	}
	return os.Rename(part.Name(), to)
}

func (r remote) copyTo(ctx context.Context, w io.Writer) error {
	if r.hub != "" {
		return r.ask(ctx, "GET", "/backup", func(body io.Reader) error {
			_, err := io.Copy(w, body)
			return err
		})
	}
	s, err := r.open()
	if err != nil {
		return err
	}
	return errors.Join(s.Backup(ctx, w), s.Close())
}

func runRestore(ctx context.Context, args []string, out io.Writer) error {
	f := flags("restore", restoreHelp, out)
	data := f.String("data", "fieldsign.db", "the file to make; there must be none of that name yet")
	if err := parseWithEnvironment(f, args, whereOnly); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return errors.New("from what? Give one file: fieldsign restore FILE")
	}
	found, err := restored(ctx, f.Arg(0), *data)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s is ready: %d games and tournaments with %d events, %d photos, %d seasons, all checked.\n", *data, found.Games, found.Events, found.Photos, found.Seasons)
	return nil
}

func restored(ctx context.Context, from, to string) (bolt.Contents, error) {
	file, err := os.Open(from)
	if err != nil {
		return bolt.Contents{}, fmt.Errorf("the backup can't be read: %w", err)
	}
	defer file.Close()
	return bolt.Restore(ctx, file, to)
}
