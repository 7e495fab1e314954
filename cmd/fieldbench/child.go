//go:build linux

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"syscall"
	"time"
)

// The child is told in its environment what to be, so that a test's binary can
// be one too.
const (
	kindVariable  = "FIELDBENCH_SERVER"
	gamesVariable = "FIELDBENCH_GAMES"
	dirVariable   = "FIELDBENCH_DIR"
)

// hello is the child's first line.
type hello struct {
	Address string
	Games   []string
	At      []string // where each game's phones come to, or nothing where that is Address
}

// usage is its answer to each line it is sent.
type usage struct {
	Heap, Stack, Goroutines int64
	CPU                     time.Duration
}

// serveAsChild serves until its standard input ends.
func serveAsChild(name string) {
	k, _ := kindNamed(name)
	games, _ := strconv.Atoi(os.Getenv(gamesVariable))
	say := json.NewEncoder(os.Stdout)
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		fail(err)
	}
	codes, err := k.serve(l, games, os.Getenv(dirVariable))
	if err != nil {
		fail(err)
	}
	say.Encode(hello{l.Addr().String(), codes, elsewhere})
	for in := bufio.NewScanner(os.Stdin); in.Scan(); {
		say.Encode(measure(in.Text() == "memory"))
	}
	os.RemoveAll(os.Getenv(dirVariable)) // the parent may have been interrupted
	syscall.Kill(0, syscall.SIGKILL)     // the child, and what it has started
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, "fieldbench, the server under test:", err)
	os.Exit(1)
}

// measure collects garbage first where the memory is asked for: more than once,
// because pools let go, and stacks shrink, a step at each collection.
func measure(memory bool) usage {
	var u usage
	if memory {
		for range 4 {
			runtime.GC()
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		u.Heap, u.Stack = int64(m.HeapAlloc)-kept.Load(), int64(m.StackInuse)
	}
	u.Goroutines = int64(runtime.NumGoroutine())
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		fail(err)
	}
	u.CPU = time.Duration(r.Utime.Nano() + r.Stime.Nano())
	return u
}

// server is the child as its parent sees it. It belongs to one goroutine.
type server struct {
	hello
	command *exec.Cmd
	in      io.WriteCloser
	out     *json.Decoder
	dir     string
}

func startServer(k kind, games int) (*server, error) {
	dir, err := os.MkdirTemp("", "fieldbench")
	if err != nil {
		return nil, err
	}
	program, err := os.Executable()
	if err != nil {
		return nil, err
	}
	s := &server{command: exec.Command(program), dir: dir}
	s.command.Env = append(os.Environ(), kindVariable+"="+k.name, gamesVariable+"="+strconv.Itoa(games), dirVariable+"="+dir)
	s.command.Stderr = os.Stderr
	s.command.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if s.in, err = s.command.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := s.command.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.command.Start(); err != nil {
		return nil, err
	}
	s.out = json.NewDecoder(out)
	if err := s.out.Decode(&s.hello); err != nil {
		s.stop()
		return nil, fmt.Errorf("the server %s did not start: %w", k.name, err)
	}
	return s, nil
}

// at is where a game's phones come to.
func (h hello) at(game int) string {
	if len(h.At) > 0 {
		return h.At[game]
	}
	return h.Address
}

// usage asks for CPU and goroutines, and memory for all three.
func (s *server) usage() (usage, error)  { return s.ask("usage") }
func (s *server) memory() (usage, error) { return s.ask("memory") }

func (s *server) ask(what string) (u usage, err error) {
	if _, err = fmt.Fprintln(s.in, what); err == nil {
		err = s.out.Decode(&u)
	}
	return u, err
}

// stop ends the child at once: a server that hangs on a phone would not go.
func (s *server) stop() {
	s.in.Close()
	syscall.Kill(-s.command.Process.Pid, syscall.SIGKILL) // and what it has started
	s.command.Wait()
	os.RemoveAll(s.dir)
}
