// Package season plans a club's meetings up to a contest: what each meeting
// shows for the first time, what it goes over again, and how much of it all the
// club is likely to know on the day. It is pure: days are numbers, results are
// handed in, and the same wish always gives the same plan. It must not know
// the catalogue, the hub or a child: an item's memory is the whole club's.
//
// # How a meeting is filled
//
// Each minute goes to what adds most to the day of the contest. An item is worth
// its weight times the recall that showing or asking it adds on that day, for
// each second it takes. An item is due when nine of ten no longer recall it, so
// what is known comes back at growing gaps and what was missed comes back sooner.
// Time that is left goes to what is not due.
//
// Two animals that are taken for each other are not met in the same meeting
// for the first time. They come together once each was met alone.
//
// What a meeting will find is not known when it is planned, so a planned answer
// counts as right with the chance that the memory gives it. A debrief's figures
// take its place once the meeting was held.
package season

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"fieldsign/game/memory"
)

// Day is a date as a number of days since any fixed date.
type Day int

// Item is what is learned as one: an animal by one of its subjects, such as the
// raccoon's track.
type Item struct {
	Animal  string `json:"animal"`
	Subject string `json:"subject"`
}

// Topic is an item and how much it counts at the contest.
type Topic struct {
	Item
	Weight float64 `json:"weight"` // over 0; 1 is usual
}

// Pair is two animals that are taken for each other by one subject.
type Pair struct {
	A       string `json:"a"`
	B       string `json:"b"`
	Subject string `json:"subject"`
}

func (p Pair) items() (a, b Item) { return Item{p.A, p.Subject}, Item{p.B, p.Subject} }

// Meeting is a day on which the club meets.
type Meeting struct {
	Day     Day `json:"day"`
	Minutes int `json:"minutes"`
}

// Pace is how long an item takes, in seconds.
type Pace struct {
	New    int `json:"new"`    // to be shown, handled and asked about for the first time
	Review int `json:"review"` // to be asked about once and explained
}

// UsualPace is common practice: three minutes with a specimen, a question a minute.
var UsualPace = Pace{New: 180, Review: 60}

// Wish is what the coach asks for.
type Wish struct {
	Contest  Day
	Meetings []Meeting // in the order of their days, all before the contest
	Topics   []Topic   // in the order in which they are met where nothing else decides
	Alike    []Pair
	Pace     Pace
}

// Held is a meeting that took place, and what its debrief tells.
type Held struct {
	Day     Day
	Answers []Answer
}

// Answer is how many of a club's answers on an item were right.
type Answer struct {
	Item
	Right, Of int
}

// Agenda is what a meeting is for.
type Agenda struct {
	Meeting
	New    []Item `json:"new"`
	Review []Item `json:"review"`
	Extra  []Item `json:"extra"` // not due; for the time that is left
	Pairs  []Pair `json:"pairs"` // to be told apart: both were met before and are asked about in this meeting
	Spare  int    `json:"spare"` // seconds that are too few for anything, or left when all was gone over
}

// Plan is a season ahead of a club.
type Plan struct {
	Agendas []Agenda `json:"agendas"` // of the meetings that were not held yet
	Left    []Item   `json:"left"`    // what no meeting has time to show
	Lacking int      `json:"lacking"` // seconds that showing what is left would take
	Known   Forecast `json:"known"`   // on the day of the contest
}

// Refusals of a wish. Each is wrapped with what was wrong.
var (
	ErrNoMeeting = errors.New("no meeting is left before the contest")
	ErrNoTopic   = errors.New("there is nothing to learn")
	ErrBadWish   = errors.New("the plan can't be made as asked")
)

func (w Wish) check() error {
	switch {
	case len(w.Topics) == 0:
		return ErrNoTopic
	case len(w.Meetings) == 0:
		return ErrNoMeeting
	case w.Pace.New <= 0 || w.Pace.Review <= 0:
		return fmt.Errorf("%w: an item takes at least a second, not %d and %d", ErrBadWish, w.Pace.New, w.Pace.Review)
	}
	for i, m := range w.Meetings {
		if m.Minutes <= 0 || m.Day >= w.Contest || i > 0 && m.Day <= w.Meetings[i-1].Day {
			return fmt.Errorf("%w: meeting %d must have minutes, and a day after the one before it and before the contest", ErrBadWish, i+1)
		}
	}
	seen := map[Item]bool{}
	for _, t := range w.Topics {
		if t.Weight <= 0 || seen[t.Item] {
			return fmt.Errorf("%w: %s, %s: an item stands once and has a weight over 0", ErrBadWish, t.Animal, t.Subject)
		}
		seen[t.Item] = true
	}
	return nil
}

// Make plans the meetings after the last one held. Meetings up to that day
// that were not held have been missed, and no longer count.
func Make(w Wish, held []Held) (Plan, error) {
	if err := w.check(); err != nil {
		return Plan{}, err
	}
	c := newClub(w, held)
	p := Plan{Agendas: []Agenda{}, Left: []Item{}}
	for _, m := range c.ahead() {
		p.Agendas = append(p.Agendas, c.fill(m))
	}
	for _, t := range w.Topics {
		if !c.known[t.Item].Met() {
			p.Left = append(p.Left, t.Item)
		}
	}
	p.Lacking = len(p.Left) * w.Pace.New
	p.Known = c.forecast()
	return p, nil
}

// Next is the agenda of the first meeting that was not held yet. It is what
// Make says of that one, at a fraction of the work.
func Next(w Wish, held []Held) (Agenda, error) {
	if err := w.check(); err != nil {
		return Agenda{}, err
	}
	c := newClub(w, held)
	ahead := c.ahead()
	if len(ahead) == 0 {
		return Agenda{}, ErrNoMeeting
	}
	return c.fill(ahead[0]), nil
}

// club is what a club remembers, as far as it is known.
type club struct {
	wish   Wish
	heard  Day // of the last meeting held
	known  map[Item]memory.State
	last   map[Item]Day // of the last answer
	alike  map[Item][]Item
	talent talent
}

func newClub(w Wish, held []Held) *club {
	c := &club{wish: w, heard: -1 << 31, known: map[Item]memory.State{}, last: map[Item]Day{}, alike: map[Item][]Item{}, talent: anyTalent()}
	for _, p := range w.Alike {
		a, b := p.items()
		c.alike[a] = append(c.alike[a], b)
		c.alike[b] = append(c.alike[b], a)
	}
	for _, h := range slices.SortedFunc(slices.Values(held), func(a, b Held) int { return cmp.Compare(a.Day, b.Day) }) {
		c.hear(h)
		c.heard = h.Day
	}
	return c
}

// ahead are the meetings after the last one held.
func (c *club) ahead() []Meeting {
	at, _ := slices.BinarySearchFunc(c.wish.Meetings, c.heard+1, func(m Meeting, day Day) int { return cmp.Compare(m.Day, day) })
	return c.wish.Meetings[at:]
}

// firstRight is the share that is right when an item was just shown. It is an
// assumption, and a debrief replaces it.
const firstRight = 0.7

func (c *club) since(i Item, day Day) float64 { return float64(day - c.last[i]) }

func (c *club) recall(i Item, day Day) float64 { return c.known[i].Recall(c.since(i, day)) }

// after is what an item's memory becomes when a share answers right.
func (c *club) after(i Item, day Day, share float64) memory.State {
	m, days := c.known[i], c.since(i, day)
	return memory.Between(share, m.After(days, memory.Good), m.After(days, memory.Again))
}

// expected is the share that will be right.
func (c *club) expected(i Item, day Day) float64 {
	if !c.known[i].Met() {
		return firstRight
	}
	return c.recall(i, day)
}

func (c *club) answer(i Item, day Day, share float64) {
	c.known[i] = c.after(i, day, share)
	c.last[i] = day
}

// guess is the chance of a right answer without knowing: one of four options.
const guess = 0.25

// doubted is how many answers as expected stand beside a debrief's, so that one
// child's slip does not count as the whole club's.
const doubted = 8

// hear takes over what a meeting's debrief tells.
func (c *club) hear(h Held) {
	for _, a := range h.Answers {
		if a.Of <= 0 {
			continue
		}
		if c.known[a.Item].Met() {
			c.talent.hear(c.recall(a.Item, h.Day), a.Right, a.Of)
		}
		knew := max(0, float64(a.Right)-guess*float64(a.Of)) / (1 - guess)
		share := (knew + doubted*c.expected(a.Item, h.Day)) / (float64(a.Of) + doubted)
		c.measure(a.Item, h.Day, share)
		c.answer(a.Item, h.Day, share)
	}
}

// measure moves an item's stability to where the curve passes through the share
// that recalled it: a club's answers measure recall, as one mind's can't.
func (c *club) measure(i Item, day Day, share float64) {
	m, days := c.known[i], c.since(i, day)
	if m.Met() && days > 0 {
		m.Stability = memory.StabilityFor(days, min(max(share, 0.02), 0.98))
		c.known[i] = m
	}
}
