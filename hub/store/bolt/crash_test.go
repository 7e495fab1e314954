package bolt

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"testing"
)

// These variables turn the test program into a child that writes to the file
// until it is killed, or until it may not.
const (
	childFile  = "FIELDSIGN_TEST_BOLT_FILE"
	childLimit = "FIELDSIGN_TEST_BOLT_LIMIT" // the file's largest size
	childSyncs = "FIELDSIGN_TEST_BOLT_SYNCS" // after so many records of its first game no sync succeeds
)

const childGames = 8

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		if err := writeUntilRefused(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// writeUntilRefused is the child: it appends to childGames games at once, and
// prints a line for each record that was accepted.
func writeUntilRefused(path string) error {
	if err := limitFileSize(os.Getenv(childLimit)); err != nil {
		return err
	}
	s, err := Open(path)
	if err != nil {
		return err
	}
	games, err := s.Games(context.Background())
	if err != nil {
		return err
	}
	last := map[string]uint64{}
	for _, g := range games {
		last[g.ID] = g.Last
	}
	errs := make(chan error, childGames)
	for g := range childGames {
		id := fmt.Sprint("game-", g)
		go func() { errs <- appendForEver(s, id, last[id]) }()
	}
	var refused error
	for range childGames {
		refused = errors.Join(refused, <-errs)
	}
	return errors.Join(refused, s.Close())
}

func appendForEver(s *Store, id string, last uint64) error {
	for {
		count := 1 + rand.IntN(3)
		if err := s.Append(context.Background(), numbered(id, int(last)+1, count)); err != nil {
			return err
		}
		last += uint64(count)
		fmt.Printf("%s %d\n", id, last)
		if most, err := strconv.ParseUint(os.Getenv(childSyncs), 10, 64); err == nil && id == "game-0" && last >= most {
			if err := failSyncs(); err != nil {
				return err
			}
		}
	}
}

// child starts one on the file; its accepted records come from lines.
func child(t *testing.T, path, limit string, stderr io.Writer, more ...string) (cmd *exec.Cmd, lines *bufio.Scanner) {
	t.Helper()
	cmd = exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childFile+"="+path, childLimit+"="+limit)
	cmd.Env = append(cmd.Env, more...)
	cmd.Stderr = stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, bufio.NewScanner(out)
}

// accept notes the accepted record that the line tells.
func accept(t *testing.T, accepted map[string]uint64, line string) {
	t.Helper()
	var id string
	var seq uint64
	if _, err := fmt.Sscan(line, &id, &seq); err != nil {
		t.Fatalf("the child printed %q: %v", line, err)
	}
	accepted[id] = max(accepted[id], seq)
}

// TestKill kills a child at random points. What it shows is that the order of
// writing is right; that the disk keeps what it was told to needs a cut of
// power, which no test can do.
func TestKill(t *testing.T) {
	const points, seed = 15, 7
	random := rand.New(rand.NewPCG(seed, seed))
	path := tempFile(t)
	accepted := map[string]uint64{}
	for point := range points {
		cmd, lines := child(t, path, "", os.Stderr)
		wait := 1 + random.IntN(400)
		for range wait {
			if !lines.Scan() {
				t.Fatalf("seed %d, point %d: the child ended by itself: %v", seed, point, cmd.Wait())
			}
			accept(t, accepted, lines.Text())
		}
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for lines.Scan() { // said before it died
			accept(t, accepted, lines.Text())
		}
		cmd.Wait() // it reports the kill
		wantAccepted(t, path, accepted)
	}
	t.Logf("%d kills, accepted up to %v", points, accepted)
}

// wantAccepted opens the file and reads every log: no gap, nothing lost.
func wantAccepted(t *testing.T, path string, accepted map[string]uint64) {
	t.Helper()
	s := open(t, path)
	defer closeStore(t, s)
	for id, last := range accepted {
		if n, err := readNumbered(s, id); err != nil || n < last {
			t.Fatalf("%s: %d records, error %v; %d were accepted", id, n, err, last)
		}
	}
}

// TestInUse opens a file that a living process holds.
func TestInUse(t *testing.T) {
	path := tempFile(t)
	cmd, lines := child(t, path, "", os.Stderr)
	defer cmd.Wait()
	defer cmd.Process.Kill()
	if !lines.Scan() {
		t.Fatal("the child doesn't write")
	}
	if _, err := Open(path); !errors.Is(err, ErrInUse) {
		t.Errorf("Open: %v, want ErrInUse", err)
	}
}
