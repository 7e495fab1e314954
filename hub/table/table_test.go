package table

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"
	"github.com/prometheus/client_golang/prometheus"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
	"fieldsign/questions/catalogue"
)

const (
	hostKey = "the-host-key-of-the-tests"
	code    = "otter-burrow-42"
)

// house is all that a table needs, with no socket and no disk. Within synctest.Test
// its clock is the bubble's.
func house(t testing.TB, s store.Store) *House {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	var running sync.WaitGroup
	t.Cleanup(func() { cancel(); running.Wait() })
	began, quiet := time.Now(), slog.New(slog.NewTextHandler(io.Discard, nil))
	planner := plan.New(catalogue.Builtin(), "furbearers", func(string) (debrief.Advice, error) { return debrief.Advice{}, nil })
	return &House{
		Context: ctx, Clock: func() time.Duration { return time.Since(began) }, Store: s, Planner: planner, Pictures: picture.New(s, planner.Catalogue, quiet),
		Gate: gate.New(0, hostKey, nil), Refused: names.Builtin(), Metrics: NewMetrics(prometheus.NewRegistry()), Log: quiet,
		JoinAt: func() string { return "hub.example" }, JoinURL: func(code string) string { return "http://hub.example/team?game=" + code },
		Later: running.Go, Begun: func(game.State) {}, Ended: func(game.State) {},
	}
}

// open creates a game with one question to buzz for and one for all, and runs it.
func (h *House) open(t testing.TB) *Table {
	t.Helper()
	planned, err := h.Planner.Make(plan.Wish{Title: "Test", Roster: "furbearers", Seed: 5, Rounds: []plan.RoundWish{
		{Name: "Buzz", Kind: game.Buzz, Subjects: []string{"skull"}, Count: 1, Seconds: 60, Points: 100, Wait: 250},
		{Name: "Open", Kind: game.Open, Subjects: []string{"track"}, Count: 1, Seconds: 60, Points: 100},
	}}, game.Plan{})
	if err != nil {
		t.Fatal(err)
	}
	table := New(h, code)
	h.Later(func() { table.Run(func() {}) })
	if err := table.Do(game.Command{Type: game.Create, By: "hub", Code: code, Began: "2026-11-29T18:00:00Z", Plan: planned}); err != nil {
		t.Fatal(err)
	}
	return table
}

// seat is a client of a table that has no socket: what it is sent stays here.
type seat struct {
	testing.TB
	table    *Table
	listener socket.Listener

	mu   sync.Mutex
	sent []frame
	bye  socket.Goodbye
}

// frame is the part of what is sent that the tests look at.
type frame struct {
	Type, ID, Code, Phase, Token, Notice string
	Paused                               bool
	Left                                 int64
	Question                             *struct{ ID string }
	Reveal                               *struct{ Key int }
	Buzz                                 *struct{ Team string }
	Host                                 *struct{ Key int }
	Leaders                              []game.Standing
	Team, Name, Verdict                  string
	Score                                int
}

func (s *seat) Send(frames []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(frames) > 0 {
		length, head := int(frames[1]), 2
		switch length {
		case 126:
			length, head = int(binary.BigEndian.Uint16(frames[2:])), 4
		case 127:
			length, head = int(binary.BigEndian.Uint64(frames[2:])), 10
		}
		if frames[0]&0xf == websocket.TextMessage {
			var f frame
			if err := json.Unmarshal(frames[head:head+length], &f); err != nil {
				s.Errorf("%s: %v", frames[head:head+length], err)
			}
			s.sent = append(s.sent, f)
		}
		frames = frames[head+length:]
	}
}

func (s *seat) Close(bye socket.Goodbye) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.bye == (socket.Goodbye{}) { // nothing follows the first
		s.bye = bye
	}
}

func (s *seat) Drop()                    {}
func (s *seat) Wake()                    {}
func (s *seat) Stay()                    {}
func (s *seat) Allow(int)                {}
func (s *seat) TooSlow() bool            { return false }
func (s *seat) Over() bool               { return false }
func (s *seat) LastHeard() time.Duration { return s.table.house.Clock() }
func (s *seat) Remote() string           { return "192.0.2.1:4711" }

// sit has somebody come to the table, with a first frame.
func sit(t testing.TB, table *Table, first string) *seat {
	t.Helper()
	s := come(t, table)
	s.say(first)
	return s
}

// come has somebody come who says nothing yet.
func come(t testing.TB, table *Table) *seat {
	t.Helper()
	s := &seat{TB: t, table: table}
	var ok bool
	if s.listener, ok = table.Sit(s); !ok {
		t.Fatal("the table has ended")
	}
	return s
}

// say sends a frame, and waits until all that follows from it has happened.
func (s *seat) say(text string) {
	s.listener.Hear(socket.Heard{Frame: &socket.Frame{Kind: websocket.TextMessage, Data: []byte(text)}, Frames: 1, At: s.table.house.Clock()})
	synctest.Wait()
}

// do sends a command and expects its answer: "done", or the code of a refusal.
func (s *seat) do(want, format string, a ...any) {
	s.Helper()
	before := len(s.frames())
	id := fmt.Sprint("c", before)
	s.say(fmt.Sprintf(`{"id":%q,`, id) + fmt.Sprintf(format, a...) + "}")
	answers := s.frames()[before:]
	i := slices.IndexFunc(answers, func(f frame) bool { return f.ID == id })
	if i < 0 {
		s.Fatalf("%s: no answer", fmt.Sprintf(format, a...))
	}
	if got := answers[i]; got.Type != want && got.Code != want {
		s.Fatalf("%s: %s %s, want %s", fmt.Sprintf(format, a...), got.Type, got.Code, want)
	}
}

// goodbye is what the seat was told in the end.
func (s *seat) goodbye() socket.Goodbye {
	synctest.Wait()
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.bye
}

// frames are what the seat was sent.
func (s *seat) frames() []frame {
	synctest.Wait()
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.sent)
}

// last is the last frame of a type that was sent.
func (s *seat) last(kind string) frame {
	s.Helper()
	for _, f := range slices.Backward(s.frames()) {
		if f.Type == kind {
			return f
		}
	}
	s.Fatalf("no %s was sent", kind)
	return frame{}
}

// is holds the state that was shown last against what it should be.
func (s *seat) is(phase game.Phase, paused bool) frame {
	s.Helper()
	synctest.Wait()
	f := s.last("state")
	if f.Phase != string(phase) || f.Paused != paused {
		s.Fatalf("%s is shown (paused: %v), want %s (%v)", f.Phase, f.Paused, phase, paused)
	}
	return f
}

// Who comes while presses contend is told the question's time, not the contest's:
// nobody learns that somebody has pressed.
func TestTimeLeftWhilePressesContend(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		table := house(t, memory.New()).open(t)
		host := sit(t, table, `{"type":"host","key":"`+hostKey+`"}`)
		a := sit(t, table, `{"type":"join","name":"Wrens"}`)
		sit(t, table, `{"type":"join","name":"Otters"}`)
		table.Look(func(*game.State) { table.audience.Phone(1).Link.Trip(200*time.Millisecond, table.house.Clock()) })
		host.do("done", `"type":"do","action":"next"`)
		time.Sleep(10 * time.Second)
		a.do("done", `"type":"buzz","question":%q`, a.is(game.Asking, false).Question.ID)
		time.Sleep(100 * time.Millisecond)
		board := sit(t, table, `{"type":"board"}`)
		if left := board.is(game.Asking, false).Left; left != 49_900 {
			t.Errorf("%d ms are left, want 49900", left)
		}
		time.Sleep(time.Second)
		board.is(game.Buzzed, false)
	})
}

// A game is played from its lobby to its end, by a table that has no socket, no
// disk and no wall clock: buzzes, a rebound, a pause, extra time, reveals.
func TestAGameAtATable(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := house(t, memory.New())
		var begun, ended []string
		h.Begun = func(s game.State) { begun = append(begun, s.Code) }
		h.Ended = func(s game.State) { ended = append(ended, s.Code) }
		table := h.open(t)
		host := sit(t, table, `{"type":"host","key":"`+hostKey+`"}`)
		a, b := sit(t, table, `{"type":"join","name":"Wrens"}`), sit(t, table, `{"type":"join","name":"Otters"}`)
		c := sit(t, table, `{"type":"join","name":"Herons"}`)
		board := sit(t, table, `{"type":"board"}`)
		act := func(format string, a ...any) { t.Helper(); host.do("done", `"type":"do",`+format, a...) }
		act(`"action":"extend","team":"t3","extra":50`)

		// The first press has the buzz, a wrong answer gives it on.
		act(`"action":"next"`)
		q := a.is(game.Asking, false).Question.ID
		a.do("done", `"type":"buzz","question":%q`, q)
		time.Sleep(time.Second) // in which an earlier press might still have come
		if f := board.is(game.Buzzed, false); f.Buzz.Team != "t1" || f.Reveal != nil {
			t.Errorf("after the buzz: %+v", f)
		}
		b.do("beaten", `"type":"buzz","question":%q`, q)
		act(`"action":"rule","right":false`)
		a.is(game.Asking, false)
		a.do("locked_out", `"type":"buzz","question":%q`, q)
		b.do("done", `"type":"buzz","question":%q`, q)
		time.Sleep(time.Second)
		if f := a.is(game.Buzzed, false); f.Buzz.Team != "t2" {
			t.Errorf("after the rebound: %+v", f)
		}
		act(`"action":"rule","right":true`)
		if f := a.is(game.Revealed, false); f.Reveal == nil || f.Reveal.Key != host.last("state").Host.Key {
			t.Errorf("the reveal: %+v", f)
		}
		if you := b.last("you"); you.Score != 100 || you.Verdict != "right" {
			t.Errorf("who had it right is told %+v", you)
		}

		// While the game is paused, its clock stands.
		act(`"action":"next"`)
		act(`"action":"next"`)
		q = a.is(game.Asking, false).Question.ID
		key := host.last("state").Host.Key
		time.Sleep(20 * time.Second)
		act(`"action":"pause"`)
		time.Sleep(time.Hour)
		if f := a.is(game.Asking, true); f.Left != 40_000 || f.Reveal != nil {
			t.Errorf("paused: %+v", f)
		}
		a.do("paused", `"type":"answer","question":%q,"option":0`, q)
		act(`"action":"resume"`)
		a.do("done", `"type":"answer","question":%q,"option":%d`, q, (key+1)%2)

		// Whoever has extra time may answer longer.
		time.Sleep(41 * time.Second)
		a.is(game.Asking, false)
		b.do("too_late", `"type":"answer","question":%q,"option":%d`, q, key)
		c.do("done", `"type":"answer","question":%q,"option":%d`, q, key)
		time.Sleep(30 * time.Second)
		if f := board.is(game.Revealed, false); f.Reveal == nil || f.Reveal.Key != key {
			t.Errorf("the reveal: %+v", f)
		}
		if you := c.last("you"); you.Score != 100 || you.Verdict != "right" {
			t.Errorf("who had extra time is told %+v", you)
		}
		act(`"action":"end"`)
		if f := board.is(game.Ended, false); len(f.Leaders) != 3 || f.Leaders[2].Name != "Wrens" {
			t.Errorf("at the end: %+v", f)
		}
		if !slices.Equal(begun, []string{code}) || !slices.Equal(ended, begun) {
			t.Errorf("begun: %v, ended: %v", begun, ended)
		}

		// What was stored is the whole game.
		again := New(h, code)
		if err := again.Load(); err != nil {
			t.Fatal(err)
		}
		table.Look(func(s *game.State) {
			if again.state.Seq != s.Seq || again.state.Phase != game.Ended {
				t.Errorf("%d events and %s are stored, want %d", again.state.Seq, again.state.Phase, s.Seq)
			}
		})
		table.Dismiss("erased")
		if host.goodbye().Why != "erased" {
			t.Errorf("the host was told %+v", host.goodbye())
		}
	})
}
