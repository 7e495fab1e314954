package fair

import (
	"time"

	"fieldsign/hub/link"
)

// The clock exchange as static/protocol.mjs runs it.
const (
	firstBurst = 8
	burst      = 3
	burstEvery = 10 * time.Second
)

// Phone is what a phone and its way to the hub are like.
type Phone struct {
	Out, Back Path          // from the hub to the phone, and back
	Drift     [2]float64    // between which its clock runs fast, in ppm
	Tick      time.Duration // of its clock; browsers blur theirs
	Deaf      bool          // no exchange after the first burst
	Sleeps    bool          // for some seconds before every third question, its clock standing still
	Lie       Lie
}

// Lie is how a phone cheats.
type Lie struct {
	Press time.Duration // by how much earlier it says that it was pressed
	Stamp time.Duration // by how much it sets its clock ahead in the exchange alone
	Hold  time.Duration // that it keeps every other answer of the exchange back
	Ping  time.Duration // that it keeps the answers to pings back, which takes more than a changed page
}

// phone is a phone in a world, with what the hub knows of its link.
type phone struct {
	Phone
	sim  *sim
	hub  *hub
	team string
	zero time.Duration // what its clock shows at the world's time 0
	rate float64

	asleep   bool
	left     int           // frames left of a burst
	answered int           // so far
	up, down time.Duration // when the last frame of each way arrived: none overtakes it

	link    link.Link
	replied time.Duration // when the hub last answered in the exchange, 0 before
}

func newPhone(p Phone, h *hub, team string) *phone {
	s := h.sim
	ppm := p.Drift[0] + s.dice.Float64()*(p.Drift[1]-p.Drift[0])
	made := &phone{Phone: p, sim: s, hub: h, team: team, zero: s.upTo(time.Hour), rate: 1 + ppm/1e6}
	s.at(s.upTo(burstEvery), func() { made.burst(firstBurst) })
	return made
}

// clock is what the phone's clock shows now.
func (p *phone) clock() time.Duration {
	return (p.zero + time.Duration(p.rate*float64(p.sim.now))).Truncate(p.Tick)
}

// send has something happen at the hub once a frame has got there.
func (p *phone) send(do func()) {
	p.up = max(p.up, p.sim.now+p.Back(p.sim.dice))
	p.sim.at(p.up, do)
}

// hear has something happen on the phone once a frame of the hub has got there.
func (p *phone) hear(do func()) {
	p.down = max(p.down, p.sim.now+p.Out(p.sim.dice))
	p.sim.at(p.down, do)
}

func (p *phone) burst(frames int) {
	if !p.Deaf {
		p.sim.at(p.sim.now+burstEvery, func() { p.burst(burst) })
	}
	if !p.asleep {
		p.left = frames
		p.ask()
	}
}

func (p *phone) ask() {
	p.left--
	stamp := p.clock() + p.Lie.Stamp
	p.send(func() { p.hub.clock(p, stamp) })
}

func (p *phone) reply() {
	if p.left == 0 || p.asleep {
		return
	}
	p.answered++
	if p.answered%2 == 0 {
		p.sim.at(p.sim.now+p.Lie.Hold, p.ask)
		return
	}
	p.ask()
}

// sleep stops the phone and its clock till a time.
func (p *phone) sleep(until time.Duration) {
	p.asleep = true
	fell := p.sim.now
	p.sim.at(until, func() {
		p.asleep = false
		p.zero -= until - fell
	})
}

func (p *phone) press() {
	truth, stamp := p.sim.now, p.clock()-p.Lie.Press
	p.send(func() { p.hub.press(p, stamp, truth) })
}
