package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
)

// filled is a data file with a game of two teams, and the hub that runs it.
func filled(t *testing.T) *program {
	t.Helper()
	p := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	for _, name := range []string{"Marsh Wrens", "Bog Lemmings"} {
		awaited(t, dialed(t, p, map[string]any{"type": "join", "name": name}), "a seat", func(f bot.Frame) bool { return f.Type == "welcome" })
	}
	return p
}

func endGame(t *testing.T, p *program) {
	t.Helper()
	desk := deskOf(t, p)
	defer desk.Close()
	desk.act("end", nil)
}

func holds(t *testing.T, file, text string) bool {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Contains(data, []byte(text))
}

// refusedWith runs a command that must not succeed.
func refusedWith(t *testing.T, want string, args ...string) {
	t.Helper()
	if err := run(t.Context(), args, io.Discard); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("fieldsign %s: %v, want it to say %q", strings.Join(args, " "), err, want)
	}
}

func TestEraseCommand(t *testing.T) {
	p := filled(t)
	refusedWith(t, "--hub", "erase", "--data", p.data, "--game", p.code) // the running hub has the file
	refusedWith(t, "FIELDSIGN_HOST_KEY", "erase", "--hub", p.url(), "--game", p.code)
	t.Setenv("FIELDSIGN_HOST_KEY", "a guess")
	refusedWith(t, "host key", "erase", "--hub", p.url(), "--game", p.code)
	t.Setenv("FIELDSIGN_HOST_KEY", testKey)
	refusedWith(t, "still playing", "erase", "--hub", p.url(), "--game", p.code, "--team", "t1")
	endGame(t, p)
	printed(t, "erase", "--hub", p.url(), "--game", p.code, "--team", "t1")
	if holds(t, p.data, "Marsh Wrens") || !holds(t, p.data, "Bog Lemmings") {
		t.Error("the wrong name is gone, or none")
	}
	p.kill()
	refusedWith(t, p.code, "erase", "--data", p.data, "--game", "no-such-00")
	refusedWith(t, "no games", "erase", "--data", p.data+".none", "--everything")
	typed := strings.ToUpper(strings.ReplaceAll(p.code, "-", " "))
	printed(t, "erase", "--data", p.data, "--game", typed, "--team", "t2")
	got := readFile(t, exported(t, "--format", "jsonl", "--data", p.data, "--game", typed, "--names"))
	if strings.Contains(got, "Bog Lemmings") || !strings.Contains(got, "removed team") {
		t.Errorf("the export: %s", got)
	}
	printed(t, "erase", "--data", p.data, "--everything")
	if holds(t, p.data, p.code) {
		t.Error("the game is in the file yet")
	}
}

func readFile(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestBackupCommand(t *testing.T) {
	p := filled(t)
	dir := t.TempDir()
	running, stopped, torn := filepath.Join(dir, "running.backup"), filepath.Join(dir, "stopped.backup"), filepath.Join(dir, "torn.backup")
	refusedWith(t, "--hub", "backup", "--data", p.data, running)
	t.Setenv("FIELDSIGN_HOST_KEY", testKey)
	printed(t, "backup", "--hub", p.url(), running)
	refusedWith(t, "already", "backup", "--hub", p.url(), running)
	p.kill()
	printed(t, "backup", "--data", p.data, stopped)
	whole := readFile(t, running)
	if err := os.WriteFile(torn, []byte(whole[:len(whole)/2]), 0o600); err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(dir, "again.db")
	refusedWith(t, "cut off", "restore", "--data", again, torn)
	refusedWith(t, "one file", "restore", "--data", again)
	for _, from := range []string{running, stopped} {
		if got := printed(t, "restore", "--data", again, from).String(); !strings.Contains(got, "1 games") {
			t.Errorf("%s", got)
		}
		refusedWith(t, "there is a file already", "restore", "--data", again, from)
		back := start(t, again, freePort(t))
		if back.code != p.code {
			t.Errorf("restored game %s, want %s", back.code, p.code)
		}
		back.kill()
		os.Remove(again)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 3 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func TestHostKeyCommand(t *testing.T) {
	p := filled(t)
	t.Setenv("FIELDSIGN_HOST_KEY", testKey)
	fresh := strings.TrimSpace(printed(t, "host-key", "--hub", p.url()).String())
	refusedWith(t, "host key", "host-key", "--hub", p.url())
	t.Setenv("FIELDSIGN_HOST_KEY", fresh)
	var list []struct{ Code string }
	err := remote{hub: p.url()}.ask(t.Context(), "GET", "/games", func(r io.Reader) error { return json.NewDecoder(r).Decode(&list) })
	if err != nil || len(list) != 1 || list[0].Code != p.code {
		t.Errorf("by the new key: %v, %v", list, err)
	}
}

// With --keep 0 a finished game is there while its hub runs, and then no more.
func TestKeptTillItsEnd(t *testing.T) {
	t.Parallel()
	p := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--keep", "0")
	awaited(t, dialed(t, p, map[string]any{"type": "join", "name": "Marsh Wrens"}), "a seat", func(f bot.Frame) bool { return f.Type == "welcome" })
	endGame(t, p)
	if !holds(t, p.data, "Marsh Wrens") {
		t.Error("it is gone before anybody could read the debrief")
	}
	p.terminate()
	if holds(t, p.data, "Marsh Wrens") || holds(t, p.data, p.code) {
		t.Error("it is in the file yet")
	}
}

// A log that can't be replayed keeps nothing else back, but nobody is told that
// all is checked.
func TestBackupAndRestoreReplayEachLog(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data, backup, again := filepath.Join(dir, "games.db"), filepath.Join(dir, "x.backup"), filepath.Join(dir, "again.db")
	good := playedInto(t, data)
	s, err := bolt.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	for id, event := range map[string]string{"bad-log-11": `{"seq":1,"type":"created"}`, "Tournament bad-cup-22": `{"seq":1,"type":"drawn"}`} {
		if err := s.Append(t.Context(), store.Batch{Game: id, Records: []store.Record{{Seq: 1, Data: []byte(event)}}}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"backup", "--data", data, backup}, {"restore", "--data", again, backup}} {
		said := printed(t, args...).String()
		for _, want := range []string{"2 of its logs can't be replayed", "game bad-log-11: event 1", "tournament bad-cup-22: event 1"} {
			if !strings.Contains(said, want) || strings.Contains(said, "all checked") {
				t.Errorf("%s says %q, without %q", args[0], said, want)
			}
		}
	}
	printed(t, "export", "--format", "jsonl", "--game", good, "--data", again, "--out", filepath.Join(dir, "good"))
	for _, args := range [][]string{{"--game", "bad-log-11"}, {"--tournament", "bad-cup-22"}} {
		printed(t, append([]string{"erase", "--data", again}, args...)...)
	}
	printed(t, "backup", "--data", again, backup+"2")
	if said := printed(t, "restore", "--data", again+"2", backup+"2").String(); !strings.Contains(said, "1 games") || !strings.Contains(said, "all checked") {
		t.Errorf("without them: %s", said)
	}
}
