//go:build unix

package redistest

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"fieldsign/hub/lab/ports"
)

// patience is how long a server may take to answer, or a set to form.
const patience = time.Minute

// Need skips a test whose tool is not installed, or fails it where all must run.
func Need(t testing.TB, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	switch {
	case err == nil:
	case os.Getenv("FIELDSIGN_ALL") != "":
		t.Fatalf("%s is not installed: run make tools", tool)
	default:
		t.Skipf("%s is not installed: run make tools", tool)
	}
	return path
}

// Server is a redis-server process. Its methods are for the test's goroutine.
type Server struct {
	Port int
	Dir  string

	t      testing.TB
	binary string
	args   []string
	cmd    *exec.Cmd
	open   *os.File // comes to its end with the last of the server's processes
}

// Durable are settings under which an accepted write survives a crash.
var Durable = []string{"--appendonly", "yes", "--appendfsync", "always"}

// Start starts a server with settings such as "--appendonly", "yes", and waits
// until it answers. By default it keeps nothing.
func Start(t testing.TB, settings ...string) *Server {
	t.Helper()
	s := prepare(t, settings...)
	s.Restart()
	return s
}

func prepare(t testing.TB, settings ...string) *Server {
	t.Helper()
	s := &Server{Port: ports.Free(t), Dir: folder(t), t: t, binary: Need(t, "redis-server")}
	s.args = append([]string{"--port", strconv.Itoa(s.Port), "--bind", "127.0.0.1", "--dir", s.Dir, "--save", "", "--logfile", "log"}, settings...)
	t.Cleanup(s.Kill)
	return s
}

// folder is where a server keeps its files. A test's are in memory where they can
// be: what is killed is the server and not the machine, and a disk to which a
// compiler writes makes Redis wait for seconds. A benchmark's are on the disk.
func folder(t testing.TB) string {
	if _, timed := t.(*testing.B); timed {
		return t.TempDir()
	}
	dir, err := os.MkdirTemp("/dev/shm", "fieldsign-redis-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// begin starts the process and doesn't wait for it to answer.
func (s *Server) begin() {
	s.t.Helper()
	open, held, err := os.Pipe()
	if err != nil {
		s.t.Fatal(err)
	}
	defer held.Close()
	s.open = open
	s.cmd = exec.Command(s.binary, s.args...)
	s.cmd.Dir = s.Dir
	s.cmd.ExtraFiles = []*os.File{held}
	if err := s.cmd.Start(); err != nil {
		open.Close()
		s.t.Fatal(err)
	}
}

// Restart starts the server again on its port and files, once it was killed.
func (s *Server) Restart() {
	s.t.Helper()
	s.begin()
	s.await()
}

func (s *Server) await() {
	s.t.Helper()
	Eventually(s.t, "a Redis server that answers", func() error {
		answer, err := s.ping()
		if err == nil && answer != "+PONG" {
			err = fmt.Errorf("it says %s", answer)
		}
		if err != nil {
			err = fmt.Errorf("%w; its log ends: %s", err, s.logEnd())
		}
		return err
	})
}

func (s *Server) ping() (string, error) {
	conn, err := net.DialTimeout("tcp", s.Addr(), time.Second)
	if err != nil {
		return "", err
	}
	defer conn.Close()
	conn.SetDeadline(time.Now().Add(time.Second))
	if _, err := conn.Write([]byte("PING\r\n")); err != nil {
		return "", err
	}
	line, err := bufio.NewReader(conn).ReadString('\n')
	return strings.TrimSpace(line), err
}

func (s *Server) logEnd() string {
	text, _ := os.ReadFile(filepath.Join(s.Dir, "log"))
	return string(text[max(0, len(text)-600):])
}

// Addr is the server's host and port.
func (s *Server) Addr() string { return "127.0.0.1:" + strconv.Itoa(s.Port) }

// URL is the server's address for the store.
func (s *Server) URL() string { return "redis://" + s.Addr() }

// Kill is kill -9. A process that was writing a file for the server ends by
// itself, and is waited for: the folder is then nobody's.
func (s *Server) Kill() {
	if s.cmd != nil {
		s.cmd.Process.Kill()
		s.cmd.Wait()
		s.cmd = nil
		io.Copy(io.Discard, s.open)
		s.open.Close()
	}
}

// Pause freezes the server until Resume: its connections stay open, unanswered.
func (s *Server) Pause() { s.signal(syscall.SIGSTOP) }

// Resume wakes a frozen server.
func (s *Server) Resume() { s.signal(syscall.SIGCONT) }

func (s *Server) signal(sig syscall.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		s.t.Fatal(err)
	}
}

// CLI runs one command by redis-cli and returns what it prints.
func (s *Server) CLI(args ...string) (string, error) {
	s.t.Helper()
	out, err := exec.Command(Need(s.t, "redis-cli"), append([]string{"-p", strconv.Itoa(s.Port)}, args...)...).CombinedOutput()
	return strings.TrimSpace(string(out)), err
}

// Do is CLI where the command must succeed.
func (s *Server) Do(args ...string) string {
	s.t.Helper()
	out, err := s.CLI(args...)
	if err != nil || strings.HasPrefix(out, "ERR ") {
		s.t.Fatalf("redis-cli %q: %v: %s", args, err, out)
	}
	return out
}

// AwaitFollowers waits until so many replicas have all that was written here.
// The command WAIT would look at nothing but its own connection's writes.
func (s *Server) AwaitFollowers(n int) {
	s.t.Helper()
	Eventually(s.t, "following of all replicas", func() error {
		info := s.Do("info", "replication")
		end := value(info, "master_repl_offset:")
		if at := strings.Count(info, ",offset="+end+","); at < n {
			return fmt.Errorf("%d of %d have all: %s", at, n, info)
		}
		return nil
	})
}

// value is what stands behind a name in what INFO tells.
func value(info, name string) string {
	_, rest, _ := strings.Cut(info, name)
	v, _, _ := strings.Cut(rest, "\n")
	return strings.TrimSpace(v)
}

// Eventually waits until check has nothing to say.
func Eventually(t testing.TB, what string, check func() error) {
	t.Helper()
	end := time.Now().Add(patience)
	for {
		err := check()
		if err == nil {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("no %s within %v: %v", what, patience, err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}
