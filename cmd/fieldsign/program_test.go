package main

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/ports"
)

// The program itself is what these tests start and kill. It is in the program of
// the tests, which so compiles and links it once.

// asProgram in the environment has the tests' program be fieldsign.
const asProgram = "FIELDSIGN_TESTS_BE_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	code := m.Run()
	endChromium()
	os.Exit(code)
}

const testKey = "key-of-the-tests"

// program is a running fieldsign.
type program struct {
	*testing.T
	cmd        *exec.Cmd
	port       int
	data, code string
}

// freePort is where a program can listen, and again when it is restarted.
func freePort(t *testing.T) int { return ports.Free(t) }

var codeLine = regexp.MustCompile(`Join code\s+(\S+)`)

// start runs the program and waits for its join code.
func start(t *testing.T, data string, port int, args ...string) *program {
	t.Helper()
	return startLogged(t, os.Stderr, data, port, args...)
}

func startLogged(t *testing.T, log io.Writer, data string, port int, args ...string) *program {
	t.Helper()
	binary, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p := &program{T: t, port: port, data: data}
	address := fmt.Sprintf("http://fieldsign.test:%d", port)
	p.cmd = exec.Command(binary, append([]string{"--listen", fmt.Sprintf("127.0.0.1:%d", port), "--data", data, "--address", address}, args...)...)
	p.cmd.Env = append(os.Environ(), "FIELDSIGN_HOST_KEY="+testKey, asProgram+"=1")
	p.cmd.Stderr = log
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.cmd.Process.Kill(); p.cmd.Wait() })
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if m := codeLine.FindStringSubmatch(lines.Text()); m != nil {
			p.code = m[1]
			go func() {
				for lines.Scan() {
				}
			}()
			return p
		}
	}
	t.Fatalf("fieldsign ended without a join code: %v", p.cmd.Wait())
	return nil
}

func (p *program) url() string { return fmt.Sprintf("http://127.0.0.1:%d", p.port) }

// kill is kill -9.
func (p *program) kill() {
	p.Helper()
	if err := p.cmd.Process.Signal(syscall.SIGKILL); err != nil {
		p.Fatal(err)
	}
	p.cmd.Wait()
}

func dialed(t *testing.T, p *program, first map[string]any) *bot.Conn {
	t.Helper()
	c, err := bot.Dial(t.Context(), p.url(), p.code)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Send(t.Context(), first); err != nil {
		t.Fatal(err)
	}
	return c
}

// awaited reads frames up to one that fits.
func awaited(t *testing.T, c *bot.Conn, what string, fits func(bot.Frame) bool) bot.Frame {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	for {
		f, err := c.Receive(ctx)
		if err != nil {
			t.Fatalf("waiting for %s: %v", what, err)
		}
		if fits(f) {
			return f
		}
	}
}

func done(id string) func(bot.Frame) bool {
	return func(f bot.Frame) bool { return f.Type == "done" && f.ID == id }
}

// Killed at each step of a buzz question, the next start has the same question,
// the same scores and every acknowledged step.
func TestKilledInABuzzRound(t *testing.T) {
	t.Parallel()
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	p := start(t, data, port)
	host := dialed(t, p, map[string]any{"type": "host", "key": testKey})
	wrens := dialed(t, p, map[string]any{"type": "join", "name": "Wrens"})
	token := awaited(t, wrens, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
	otters := dialed(t, p, map[string]any{"type": "join", "name": "Otters"})
	tokenOtters := awaited(t, otters, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
	round := map[string]any{"name": "R", "kind": "buzz", "subjects": []string{"skull"}, "count": 2, "seconds": 60, "points": 100, "penalty": 30}
	host.Send(t.Context(), map[string]any{"type": "do", "id": "1", "action": "plan", "plan": map[string]any{"title": "T", "seed": 9, "rounds": []any{round}}})
	awaited(t, host, "the plan", done("1"))
	host.Send(t.Context(), map[string]any{"type": "do", "id": "2", "action": "next"})
	asking := awaited(t, host, "the question", func(f bot.Frame) bool { return f.Phase == "asking" })
	q := asking.Question.ID
	steps := []struct {
		who  string
		send map[string]any
	}{
		{token, map[string]any{"type": "buzz", "id": "a", "question": q}},
		{token, map[string]any{"type": "answer", "id": "b", "question": q, "option": wrong(asking.Host.Key)}},
		{tokenOtters, map[string]any{"type": "buzz", "id": "c", "question": q}},
		{tokenOtters, map[string]any{"type": "answer", "id": "d", "question": q, "option": asking.Host.Key}},
	}
	scores := map[int]string{}
	for i, step := range steps {
		c := dialed(t, p, map[string]any{"type": "resume", "token": step.who})
		awaited(t, c, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
		c.Send(t.Context(), step.send)
		awaited(t, c, "its effect", done(step.send["id"].(string)))
		p.kill()
		p = start(t, data, port)
		again := dialed(t, p, map[string]any{"type": "resume", "token": step.who})
		back := awaited(t, again, "the state", func(f bot.Frame) bool { return f.Type == "state" })
		if back.Question == nil || back.Question.ID != q || i < 3 && (!back.Paused || back.Notice == "") {
			t.Fatalf("after step %d the game stands at %s", i, back.Raw)
		}
		again.Send(t.Context(), step.send) // repeated, it changes nothing
		if f := awaited(t, again, "the repetition", func(f bot.Frame) bool { return f.ID == step.send["id"] }); f.Type != "done" {
			t.Fatalf("step %d repeated: %s", i, f.Raw)
		}
		host = dialed(t, p, map[string]any{"type": "host", "key": testKey})
		state := awaited(t, host, "the host's state", func(f bot.Frame) bool { return f.Type == "state" })
		for _, team := range state.Host.Teams {
			scores[i] += fmt.Sprintln(team.Name, team.Score)
		}
		if state.Paused {
			host.Send(t.Context(), map[string]any{"type": "do", "id": fmt.Sprint("resume", i), "action": "resume"})
			awaited(t, host, "going on", done(fmt.Sprint("resume", i)))
		}
	}
	if want := "Wrens -30\nOtters 100\n"; scores[3] != want {
		t.Errorf("scores %s, want %s", scores[3], want)
	}
}

func TestWhichGameGoesOn(t *testing.T) {
	t.Parallel()
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	first := start(t, data, port)
	first.kill()
	second := start(t, data, port, "--new")
	second.kill()
	third := start(t, data, port)
	third.kill()
	if first.code == second.code || third.code != second.code {
		t.Errorf("games %s, %s and then %s: want the second again", first.code, second.code, third.code)
	}
	again := start(t, data, port, "--game", first.code)
	again.kill()
	if again.code != first.code {
		t.Errorf("asked for %s, got %s", first.code, again.code)
	}
	err := run(t.Context(), []string{"--listen", "127.0.0.1:0", "--data", data, "--game", "no-such-00"}, &strings.Builder{})
	if err == nil || !strings.Contains(err.Error(), first.code) {
		t.Errorf("an unknown game: %v", err)
	}
}

func TestPortInUse(t *testing.T) {
	t.Parallel()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	data := filepath.Join(t.TempDir(), "games.db")
	err = run(t.Context(), []string{"--listen", l.Addr().String(), "--data", data}, &strings.Builder{})
	if err == nil || !strings.Contains(err.Error(), "in use") || !strings.Contains(err.Error(), "--listen") {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(data); err == nil {
		t.Error("the data file was touched")
	}
}

func TestDataInUse(t *testing.T) {
	t.Parallel()
	data := filepath.Join(t.TempDir(), "games.db")
	start(t, data, freePort(t))
	err := run(t.Context(), []string{"--listen", "127.0.0.1:0", "--data", data}, &strings.Builder{})
	if err == nil || !strings.Contains(err.Error(), "--data") {
		t.Errorf("got %v", err)
	}
}

func TestBadCommands(t *testing.T) {
	t.Parallel()
	broken := t.TempDir()
	os.WriteFile(filepath.Join(broken, "traits.csv"), []byte("trait,subject\nx,y\n"), 0o644)
	for want, args := range map[string][]string{
		"no command":  {"dance"},
		"--rehearse":  {"--rehearse", "99"},
		"no roster":   {"questions", "--roster", "zoo"},
		"no subject":  {"questions", "--subjects", "bark"},
		"--format":    {"questions", "--format", "xml"},
		"traits.csv":  {"catalogue", "check", "--catalogue", broken},
		"difficulty":  {"questions", "--difficulty", "9"},
		"1 to 100000": {"questions", "--count", "0"},
		"not defined": {"--nonsense"},
		"different":   {"questions", "--roster", "waterside", "--template", "count-the-teeth", "--count", "500"},
		"no template": {"questions", "--template", "riddle"},
	} {
		if err := run(t.Context(), args, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want it to say %q", args, err, want)
		}
	}
}

// A word that no flag takes is not passed over: who forgets --roster before a roster would get another's questions.
func TestStrayWords(t *testing.T) {
	t.Parallel()
	for _, command := range []string{"", "questions", "catalogue", "catalogue check", "foodweb", "key", "paper", "guide", "export", "erase", "host-key"} {
		args := append(strings.Fields(cmp.Or(command, "--new")), "furbearers")
		want := fmt.Sprintf("%q is no flag of %s;", "furbearers", strings.TrimSpace("fieldsign "+command))
		if err := run(t.Context(), args, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want it to say %s", args, err, want)
		}
	}
}

// wrong is an option that every question has and that is not the key.
func wrong(key int) int {
	if key == 0 {
		return 1
	}
	return 0
}

// need skips a test whose tool is not installed, or fails it where all must run.
func need(t *testing.T, tool string) string {
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
