package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
)

// Every command that writes a file writes over its own kind alone, unless it is
// forced; over the games it never does.
func TestNothingElseIsWrittenOver(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data := filepath.Join(dir, "fieldsign.db")
	code := playedInto(t, data)
	commands := map[string][]string{
		"quiz.pdf":   {"paper", "--roster", "furbearers", "--count", "2", "--kind", "quiz", "--out"},
		"plates.pdf": {"plates", "--species", "bobcat", "--pdf"},
		"set.zip":    {"export", "--format", "qti", "--roster", "furbearers", "--count", "2", "--out"},
		"names.zip":  {"export", "--format", "dwc", "--roster", "furbearers", "--out"},
		"skulls.nex": {"export", "--format", "nexus", "--roster", "furbearers", "--out"},
		"game.jsonl": {"export", "--format", "jsonl", "--game", code, "--data", data, "--out"},
	}
	thesis := []byte("%PDF-1.4\nhis only copy\n")
	for name, args := range commands {
		to := func(file string, more ...string) []string {
			return append(append(args[:len(args):len(args)], file), more...)
		}
		file := filepath.Join(dir, name)
		printed(t, to(file)...)
		printed(t, to(file)...) // its own kind
		for other := range commands {
			if filepath.Ext(other) != filepath.Ext(name) || other == "names.zip" && name == "set.zip" {
				older := filepath.Join(dir, "older "+other)
				printed(t, append(commands[other][:len(commands[other]):len(commands[other])], older)...)
				refusedWith(t, "which is not a", to(older)...)
			}
		}
		old := filepath.Join(dir, "thesis")
		if err := os.WriteFile(old, thesis, 0o600); err != nil {
			t.Fatal(err)
		}
		refusedWith(t, "--force", to(old)...)
		if kept, err := os.ReadFile(old); err != nil || !bytes.Equal(kept, thesis) {
			t.Errorf("%s has written over another file: %v", name, err)
		}
		printed(t, to(old, "--force")...)
		refusedWith(t, "file of games", to(data)...)
		refusedWith(t, "file of games", to(data, "--force")...)
	}
	printed(t, "export", "--format", "jsonl", "--game", code, "--data", data, "--out", filepath.Join(dir, "again")) // the games are there yet
	if left, err := filepath.Glob(filepath.Join(dir, "*.part-*")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// playedInto makes a file with one game.
func playedInto(t *testing.T, file string) (code string) {
	t.Helper()
	s, err := bolt.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	event := []byte(`{"seq":1,"type":"created","by":"hub","code":"otter-den-42","plan":{"rounds":null}}`)
	if err := errors.Join(s.Append(t.Context(), store.Batch{Game: "otter-den-42", Records: []store.Record{{Seq: 1, Data: event}}}), s.Close()); err != nil {
		t.Fatal(err)
	}
	return "otter-den-42"
}

// A start that fails over its roster or its other files leaves no file of games.
func TestAFailedStartMakesNoGames(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data := filepath.Join(dir, "fieldsign.db")
	for want, args := range map[string][]string{
		"nowhere.csv": {"--roster", filepath.Join(dir, "nowhere.csv")},
		"no roster":   {"--roster", "zoo"},
		"no-words":    {"--names-refused", filepath.Join(dir, "no-words")},
	} {
		err := run(t.Context(), append([]string{"--listen", "127.0.0.1:0", "--data", data}, args...), &strings.Builder{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v", args, err)
		}
		if _, err := os.Stat(data); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%v: there is a file of games: %v", args, err)
		}
	}
}
