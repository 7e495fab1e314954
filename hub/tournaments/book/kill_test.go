//go:build unix

package book_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"fieldsign/game/tournament"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/store/redis"
	"fieldsign/hub/store/redis/redistest"
	"fieldsign/hub/tournaments/book"
)

// This variable turns the test program into a child that keeps a tournament in
// the store that it names. It does each command that it reads from its input,
// and prints the event that the tournament then stands at.
const childStore = "FIELDSIGN_TEST_CUPS"

func TestMain(m *testing.M) {
	if at := os.Getenv(childStore); at != "" {
		if err := serve(at, os.Stdin, os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func openStore(at string) (store.Store, error) {
	if strings.HasPrefix(at, "redis:") {
		return redis.Open(at, redis.Options{})
	}
	return bolt.Open(at)
}

func serve(at string, in io.Reader, out io.Writer) error {
	s, err := openStore(at)
	if err != nil {
		return err
	}
	defer s.Close()
	all := book.Open(s)
	fmt.Fprintln(out, "ready")
	for lines := json.NewDecoder(in); ; {
		var c tournament.Command
		if err := lines.Decode(&c); err != nil {
			return err
		}
		if err := give(all, c); err != nil {
			return err
		}
		if err := all.Look(context.Background(), code, func(c book.Tournament) { fmt.Fprintln(out, c.Seq) }); err != nil {
			return err
		}
	}
}

// give has a command done. A creation that is repeated finds its own log.
func give(all *book.Book, c tournament.Command) error {
	if c.Type != tournament.Create {
		return all.Do(context.Background(), code, c)
	}
	return all.Create(context.Background(), c)
}

type child struct {
	*testing.T
	cmd   *exec.Cmd
	input *json.Encoder
	lines *bufio.Scanner
}

func start(t *testing.T, at string) *child {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childStore+"="+at)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	c := &child{t, cmd, json.NewEncoder(in), bufio.NewScanner(out)}
	c.says("ready")
	return c
}

func (c *child) says(want string) {
	c.Helper()
	if !c.lines.Scan() || c.lines.Text() != want {
		c.Fatalf("the child says %q, want %q", c.lines.Text(), want)
	}
}

func (c *child) send(command tournament.Command) {
	c.Helper()
	if err := c.input.Encode(command); err != nil {
		c.Fatal(err)
	}
}

// kill is kill -9.
func (c *child) kill() {
	c.Helper()
	if err := c.cmd.Process.Kill(); err != nil {
		c.Fatal(err)
	}
	c.cmd.Wait()
}

// killedAtEveryEvent plays a tournament with the process that keeps it killed
// twice at each event: while the command is on its way to the disk, and once its
// event was said. A command whose answer was lost is given again, as a page does.
func killedAtEveryEvent(t *testing.T, at string) {
	commands, end := course(t)
	want := tournament.State{}
	p := start(t, at)
	for i, c := range commands {
		p.send(c)
		time.Sleep(time.Duration(i%8) * 500 * time.Microsecond) // which of the two is first is not for this test to say
		p.kill()
		p = start(t, at)
		p.send(c)
		p.says(fmt.Sprint(i + 1))
		p.kill()
		events, err := tournament.Decide(want, c)
		if err != nil {
			t.Fatal(err)
		}
		want = tournament.Apply(want, events[0])
		same(t, at, want)
		p = start(t, at)
	}
	p.kill()
	same(t, at, end)
	t.Logf("%d events, killed at each", len(commands))
}

// same reads the tournament from its store and compares all of it.
func same(t *testing.T, at string, want tournament.State) {
	t.Helper()
	s, err := openStore(at)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	err = book.Open(s).Look(t.Context(), code, func(c book.Tournament) {
		if !reflect.DeepEqual(c.State, want) {
			t.Fatalf("at event %d the tournament is\n%+v\nwant\n%+v", want.Seq, c.State, want)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestKilledAtEveryEvent(t *testing.T) {
	killedAtEveryEvent(t, filepath.Join(t.TempDir(), "games.db"))
}

func TestKilledAtEveryEventOnRedis(t *testing.T) {
	killedAtEveryEvent(t, redistest.Start(t, redistest.Durable...).URL())
}

// Two hubs on one Redis give commands at once; each takes effect once, and both
// see the same.
func TestTwoHubsAtOnce(t *testing.T) {
	url := redistest.Start(t, redistest.Durable...).URL()
	var books []*book.Book
	for range 2 {
		s, err := redis.Open(url, redis.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		books = append(books, book.Open(s))
	}
	create := tournament.Command{Type: tournament.Create, By: "host", Code: code, Began: "now", Name: "Tournament", Settings: tournament.Settings{Format: tournament.Swiss}}
	if err := books[0].Create(t.Context(), create); err != nil {
		t.Fatal(err)
	}
	const each = 20
	errs := make(chan error, 2*each)
	for hub, all := range books {
		go func() {
			for i := range each {
				errs <- all.Do(context.Background(), code, tournament.Command{Type: tournament.Enter, By: "host", ID: fmt.Sprint(hub, " ", i), Name: fmt.Sprintf("Team %d of hub %d", i, hub)})
			}
		}()
	}
	for range 2 * each {
		if err := <-errs; err != nil {
			t.Error(err)
		}
	}
	var seen [2]tournament.State
	for i, all := range books {
		if err := all.Look(t.Context(), code, func(c book.Tournament) { seen[i] = c.State.Clone() }); err != nil {
			t.Fatal(err)
		}
	}
	if !reflect.DeepEqual(seen[0], seen[1]) || len(seen[0].Order) != 2*each {
		t.Errorf("%d and %d entrants, want %d for both", len(seen[0].Order), len(seen[1].Order), 2*each)
	}
}
