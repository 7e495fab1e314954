package faults

import (
	"context"
	"math/rand/v2"
	"strings"
	"time"

	"github.com/google/uuid"

	"fieldsign/hub/bot"
)

const (
	again    = 200 * time.Millisecond // until a command is repeated, or another hub tried
	patience = 3 * time.Second        // with a hub that answers nothing
	dialing  = 3 * time.Second
)

// passing are refusals after which a command is repeated under its id.
var passing = map[string]bool{"not_stored": true, "paused": true, "too_fast": true}

// Game is one that phones and a host play, by any of its hubs.
type Game struct {
	Code    string
	Hubs    []string // their addresses
	HostKey string
	Journal *Journal
}

// session is a connection to one of the hubs. What is received comes over
// frames, which is closed with the connection.
type session struct {
	conn   *bot.Conn
	frames chan bot.Frame
	began  time.Duration // on the journal's clock, before it was dialed
	stop   context.CancelFunc
}

func (g *Game) connect(ctx context.Context, dice *rand.Rand, first map[string]any) (*session, error) {
	s := &session{frames: make(chan bot.Frame, 64), began: g.Journal.now()}
	ctx, s.stop = context.WithCancel(ctx)
	short, cancel := context.WithTimeout(ctx, dialing)
	defer cancel()
	var err error
	if s.conn, err = bot.Dial(short, g.Hubs[dice.IntN(len(g.Hubs))], g.Code); err == nil {
		err = s.conn.Send(short, first)
	}
	if err != nil {
		s.stop()
		return nil, err
	}
	go s.receive(ctx)
	return s, nil
}

func (s *session) receive(ctx context.Context) {
	defer close(s.frames)
	for {
		f, err := s.conn.Receive(ctx)
		if err != nil {
			return
		}
		select {
		case s.frames <- f:
		case <-ctx.Done():
			return
		}
	}
}

// end drops the connection, and waits until nothing more comes.
func (s *session) end() {
	s.stop()
	s.conn.Drop()
	for range s.frames {
	}
}

// pause waits; false says that the context has ended.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-time.After(d):
		return true
	case <-ctx.Done():
		return false
	}
}

// Phone is a team that presses and answers at random. It belongs to one goroutine.
type Phone struct {
	Game  *Game
	Name  string
	Dice  *rand.Rand
	Think time.Duration // the longest that it thinks

	token, team string
	pending     *Op
	asked       string    // the pending command's question
	sent        time.Time // when the pending command last was
	turn        turn      // the last in which it acted
	shown       turn      // the last that it was shown
}

// turn is a chance to act: a rebound, or getting the buzz, is a new one.
type turn struct {
	at     Place
	locked int
	holder string
	phase  string
}

// Play plays until the game or the context ends.
func (p *Phone) Play(ctx context.Context) {
	for {
		if p.session(ctx) || !pause(ctx, again) {
			break
		}
	}
	if p.pending != nil {
		p.Game.Journal.note(*p.pending)
	}
}

// session tells whether the game has ended.
func (p *Phone) session(ctx context.Context) bool {
	hello := map[string]any{"type": "join", "name": p.Name}
	if p.token != "" {
		hello = map[string]any{"type": "resume", "token": p.token}
	}
	s, err := p.Game.connect(ctx, p.Dice, hello)
	if err != nil {
		return false
	}
	defer s.end()
	p.sent = time.Now()
	var due <-chan time.Time
	var state bot.Frame
	look := time.NewTicker(again)
	defer look.Stop()
	for {
		select {
		case f, ok := <-s.frames:
			if !ok {
				return false
			}
			p.hear(ctx, s, f)
			if f.Type != "state" {
				continue
			}
			if state = f; f.Phase == "ended" {
				return true
			}
			if p.pending == nil && p.mayAct(f) {
				due = time.After(time.Duration(p.Dice.Int64N(int64(p.Think) + 1)))
			}
		case <-due:
			due = nil
			if p.pending == nil && p.mayAct(state) {
				p.act(ctx, s, state)
			}
		case <-look.C:
			if p.pending == nil && due == nil && p.mayAct(state) { // it was paused, or an answer was still due
				due = time.After(0)
			}
			if quiet := time.Since(p.sent); p.pending != nil && quiet > patience || p.token == "" && quiet > patience {
				return false
			}
		}
	}
}

func (p *Phone) hear(ctx context.Context, s *session, f bot.Frame) {
	switch {
	case f.Type == "welcome":
		p.token, p.team = f.Token, f.Team
		p.Game.Journal.seat(p.Name, p.team)
		if p.pending != nil {
			p.say(ctx, s)
		}
	case f.Type == "state":
		p.see(s, f)
	case p.pending == nil || f.ID != p.pending.ID:
	case f.Type == "refused" && passing[f.Code]:
		frame := p.frame()
		time.AfterFunc(again, func() { p.Game.resend(ctx, s, frame) })
		p.sent = time.Now()
	case f.Type == "done" || f.Type == "refused":
		op := *p.pending
		p.pending = nil
		op.Return, op.Code = p.Game.Journal.now(), Done
		if f.Type == "refused" {
			op.Code = f.Code
		}
		if name, beaten := strings.CutSuffix(f.Message, " buzzed first."); beaten {
			op.Holder = p.Game.Journal.teamOf(name)
		}
		p.Game.Journal.note(op)
	}
}

// see notes what a state shows, where that is another turn than the last shown.
func (p *Phone) see(s *session, f bot.Frame) {
	p.Game.Journal.hear(f.Notice)
	t, ok := turnOf(f)
	if !ok || f.Paused || t == p.shown {
		return
	}
	p.shown = t
	p.Game.Journal.note(lookOf(f, t, s.began, p.Game.Journal.now()))
}

func lookOf(f bot.Frame, t turn, call, now time.Duration) Op {
	return Op{What: Look, At: t.at, Contest: f.Round.Kind == "buzz", Code: f.Phase, Holder: t.holder, Locked: t.locked, Call: call, Return: now}
}

func turnOf(f bot.Frame) (turn, bool) {
	if f.Question == nil || f.Round == nil {
		return turn{}, false
	}
	t := turn{at: Place{f.Round.N, f.Question.N}, phase: f.Phase}
	if f.Buzz != nil {
		t.locked, t.holder = f.Buzz.Locked, f.Buzz.Team
	}
	return t, true
}

// mayAct tells whether the state has something for it to do that it hasn't done.
func (p *Phone) mayAct(f bot.Frame) bool {
	t, ok := turnOf(f)
	open := f.Phase == "asking" || f.Phase == "buzzed" && t.holder == p.team
	return ok && open && !f.Paused && t != p.turn && p.token != ""
}

func (p *Phone) act(ctx context.Context, s *session, f bot.Frame) {
	p.turn, _ = turnOf(f)
	what := Answer
	if f.Round.Kind == "buzz" && f.Phase == "asking" {
		what = Buzz
	}
	p.pending = &Op{What: what, At: p.turn.at, Contest: f.Round.Kind == "buzz", Team: p.team, ID: uuid.NewString(), Call: p.Game.Journal.now()}
	if what == Answer {
		p.pending.Option = p.Dice.IntN(max(1, len(f.Question.Options)))
	}
	p.asked = f.Question.ID
	p.say(ctx, s)
}

func (p *Phone) say(ctx context.Context, s *session) {
	p.pending.Attempts++
	p.sent = time.Now()
	p.Game.resend(ctx, s, p.frame())
}

func (p *Phone) frame() map[string]any {
	if p.pending == nil {
		return nil
	}
	return map[string]any{"type": p.pending.What, "id": p.pending.ID, "question": p.asked, "option": p.pending.Option, "at": bot.Now()}
}

// resend sends a frame. Where the connection is gone, the next one sends it anew.
func (g *Game) resend(ctx context.Context, s *session, frame map[string]any) {
	if frame == nil {
		return
	}
	short, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	_ = s.conn.Send(short, frame)
}
