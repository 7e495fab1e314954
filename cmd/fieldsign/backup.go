package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fieldsign/hub/retention"
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
	unfit, err := r.backUp(ctx, to)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s is written and %s. Keep it as you keep the games: nicknames are in it.\n", to, checked(unfit))
	return nil
}

// checked says how a check of logs went.
func checked(unfit []error) string {
	if len(unfit) == 0 {
		return "all checked"
	}
	said := fmt.Sprintf("checked: %d of its logs can't be replayed, and a hub sets them aside:", len(unfit))
	for _, err := range unfit {
		said += "\n  " + err.Error()
	}
	return said + "\nAll others are good"
}

// backUp writes the copy beside its place and reads it back before it gets its
// name: what has that name can be restored.
func (r remote) backUp(ctx context.Context, to string) (unfit []error, err error) {
	part, err := os.CreateTemp(filepath.Dir(to), ".fieldsign-*")
	if err != nil {
		return nil, fmt.Errorf("no backup can be written there: %w", err)
	}
	defer os.Remove(part.Name())
	if err := errors.Join(r.copyTo(ctx, part), part.Sync(), part.Close()); err != nil {
		return nil, err
	}
	trial, err := os.MkdirTemp(filepath.Dir(to), ".fieldsign-*")
	if err != nil {
		return nil, fmt.Errorf("the backup can't be checked: %w", err)
	}
	defer os.RemoveAll(trial)
	if _, unfit, err = restored(ctx, part.Name(), filepath.Join(trial, "games.db")); err != nil {
		return nil, fmt.Errorf("the copy is not good: %w", err)
	}
	return unfit, os.Rename(part.Name(), to)
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
	found, unfit, err := restored(ctx, f.Arg(0), *data)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s is ready: %d games and tournaments with %d events, %d photos, %d seasons, %s.\n", *data, found.Games, found.Events, found.Photos, found.Seasons, checked(unfit))
	return nil
}

// restored makes a file of games, and replays every log in it. One that can't
// be replayed keeps nothing else back.
func restored(ctx context.Context, from, to string) (found bolt.Contents, unfit []error, err error) {
	file, err := os.Open(from)
	if err != nil {
		return found, nil, fmt.Errorf("the backup can't be read: %w", err)
	}
	defer file.Close()
	if found, err = bolt.Restore(ctx, file, to); err != nil {
		return found, nil, err
	}
	s, err := bolt.Open(to)
	if err != nil {
		return found, nil, err
	}
	unfit, err = retention.Unfit(ctx, s)
	return found, unfit, errors.Join(err, s.Close())
}
