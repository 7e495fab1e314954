package fair

import (
	"fmt"
	"time"

	"fieldsign/game"
)

// hub runs one game as the real hub does, with the real rules and the real
// estimate of each link, and keeps account of every contest for the buzz.
type hub struct {
	sim      *sim
	phones   []*phone
	state    game.State
	contests []contest
}

// contest is what came of one question.
type contest struct {
	presses []press // in the order of arrival
	winner  string
	drawn   []string      // the teams among which a draw decided, if one did
	waited  time.Duration // from the first arrival to the giving of the buzz
}

// press is one press as it was, and as the hub took it.
type press struct {
	team    string
	truth   time.Duration // when the finger came down
	arrived time.Duration
	bound   time.Duration // the stated error
	most    time.Duration // that it may be credited before its arrival
	gain    time.Duration // that it was credited before the truth
	lost    bool          // it came after the buzz was given
}

func newHub(s *sim, phones []Phone, teams, questions int, wait time.Duration) *hub {
	h := &hub{sim: s}
	r := game.Round{Name: "Buzz", Kind: game.Buzz, Seconds: 30, Points: 100, Wait: int(wait.Milliseconds())}
	for i := range questions {
		r.Questions = append(r.Questions, game.Question{ID: fmt.Sprintf("q%d", i+1), Options: []string{"a", "b"}})
	}
	h.must(game.Command{Type: game.Create, By: "hub", Plan: game.Plan{Seed: s.dice.Uint64(), Rounds: []game.Round{r}}})
	for i := range teams {
		h.must(game.Command{Type: game.Join, By: "hub", Name: fmt.Sprintf("Team %d", i+1)})
		h.phones = append(h.phones, newPhone(phones[i%len(phones)], h, fmt.Sprintf("t%d", i+1)))
	}
	return h
}

// open asks the next question.
func (h *hub) open() {
	h.must(game.Command{Type: game.Next, By: "host"})
	h.contests = append(h.contests, contest{})
}

// clock takes a frame of the exchange and answers it at once.
func (h *hub) clock(p *phone, stamp time.Duration) {
	if p.replied > 0 {
		p.link.Sample(p.replied, stamp, h.sim.now)
	}
	p.replied = h.sim.now
	p.hear(p.reply)
	h.ping(p)
}

// ping has the phone's browser answer, which no lie of its page delays.
func (h *hub) ping(p *phone) {
	sent := h.sim.now
	p.hear(func() {
		if !p.asleep {
			h.sim.at(h.sim.now+p.Lie.Ping, func() { p.send(func() { p.link.Trip(h.sim.now-sent, h.sim.now) }) })
		}
	})
}

func (h *hub) press(p *phone, stamp, truth time.Duration) {
	c := &h.contests[len(h.contests)-1]
	t := h.timing(p, stamp)
	most := min(t.Back, int64(h.round().Wait)*1000)
	c.presses = append(c.presses, press{team: p.team, truth: truth, arrived: h.sim.now,
		bound: micros(min(t.Bound, most)), most: micros(most)})
	mine := &c.presses[len(c.presses)-1]
	events, err := h.decide(game.Command{Type: game.PressBuzz, By: p.team, Question: h.question().ID, Timing: t})
	mine.lost = err != nil
	for _, e := range events {
		if e.Type == game.Pressed {
			mine.gain = truth - micros(e.Press.At)
		}
	}
}

func (h *hub) timing(p *phone, stamp time.Duration) game.Timing {
	t := game.Timing{Got: h.sim.now.Microseconds(), Back: p.link.Longest().Microseconds()}
	at, bound, ok := p.link.Hub(stamp, h.sim.now)
	if ok {
		t.Pressed, t.Bound = at.Microseconds(), (bound + time.Microsecond - 1).Microseconds()
	}
	for _, other := range h.phones {
		if other != p {
			t.Wait = max(t.Wait, other.link.Longest().Microseconds())
		}
	}
	return t
}

// decide has the game take a command, notes who got the buzz, and has the game
// woken when it wants to be.
func (h *hub) decide(c game.Command) ([]game.Event, error) {
	events, err := game.Decide(h.state, c, h.sim.now.Milliseconds())
	for _, e := range events {
		h.state = game.Apply(h.state, e)
		if e.Type == game.GotBuzz {
			h.given(e)
		}
	}
	if at, running := h.state.Wake(); running && len(events) > 0 {
		h.sim.at(time.Duration(at)*time.Millisecond, h.wake)
	}
	return events, err
}

func (h *hub) wake() {
	if at, running := h.state.Wake(); running && at <= h.sim.now.Milliseconds() {
		h.must(game.Command{Type: game.Tick, By: "hub"})
	}
}

// given keeps account of the verdict; a right answer then ends the question.
func (h *hub) given(e game.Event) {
	c := &h.contests[len(h.contests)-1]
	c.winner, c.drawn, c.waited = e.Team, e.Drawn, h.sim.now-c.presses[0].arrived
	h.sim.at(h.sim.now, func() { h.must(game.Command{Type: game.Rule, By: "host", Right: true}) })
}

// must is for commands that the game can't refuse here.
func (h *hub) must(c game.Command) {
	if _, err := h.decide(c); err != nil {
		panic(fmt.Sprintf("the simulated game refused %s at %v: %v", c.Type, h.sim.now, err))
	}
}

func (h *hub) round() *game.Round       { r, _, _ := h.state.Current(); return r }
func (h *hub) question() *game.Question { _, q, _ := h.state.Current(); return q }

func micros(n int64) time.Duration { return time.Duration(n) * time.Microsecond }
