package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Stations of a practical exam: each has one animal's specimen and questions
// about it. The first is whose it is; so that no other tells that, the others
// call it "this animal".

// StationWish is what the stations of a round should be.
type StationWish struct {
	Subjects   []string // none: skull, track and scat
	Stations   int
	Each       int // questions at a station
	Seed       uint64
	Difficulty int // of telling whose it is; 0: any
	Replicas   []Replica

	Species map[string]float64 // what a debrief asks for, as in Wish
	Traits  map[string]float64

	NoMemory bool // as in Wish
}

// Replica is the teacher's own, and the number of the station where it lies.
// Species is a scientific name.
type Replica struct {
	Station          int
	Species, Subject string
}

// Station is a specimen and its questions. It has a plate unless it has a replica.
type Station struct {
	Species   string
	Subject   string
	Plate     *PlateRef
	Questions []Question
}

// Bounds of a wish.
const (
	MinStations = 2
	MaxStations = 20
	MaxEach     = 5
)

func (w StationWish) check(subjects []string) error {
	switch {
	case w.Stations < MinStations || w.Stations > MaxStations:
		return fmt.Errorf("there are %d to %d stations, not %d", MinStations, MaxStations, w.Stations)
	case w.Each < 1 || w.Each > MaxEach:
		return fmt.Errorf("a station has 1 to %d questions, not %d", MaxEach, w.Each)
	}
	taken := map[int]bool{}
	for _, r := range w.Replicas {
		switch {
		case r.Station < 1 || r.Station > w.Stations:
			return fmt.Errorf("a replica lies at a station from 1 to %d, not %d", w.Stations, r.Station)
		case taken[r.Station]:
			return fmt.Errorf("station %d has two replicas: one animal lies at a station", r.Station)
		case !slices.Contains(subjects, r.Subject):
			return fmt.Errorf("station %d: a replica is one of %s, not %q", r.Station, strings.Join(subjects, ", "), r.Subject)
		}
		taken[r.Station] = true
	}
	return nil
}

// aboutOne are the templates that a station asks by, once it was asked whose it is.
func aboutOne() []template {
	return slices.DeleteFunc(slices.Clone(templates), func(t template) bool { return !t.atStations })
}

// whose asks whose a station's specimen is: by what its plate shows, or by what
// a replica in the hand does.
type whose func(m *maker, key int) (Question, bool)

// whoseReplica asks by any trait of the specimen itself.
func whoseReplica(m *maker, key int) (Question, bool) {
	v := plateView{name: m.subject, subject: m.subject}
	for id, t := range m.traits {
		if !trailView.reads(t) && t.From == "" && t.Kind != catalogue.Formula {
			v.traits = append(v.traits, id)
		}
	}
	q, ok := m.shown(key, v)
	q.Plate = nil
	return q, ok
}

// Stations computes the stations of a round. An animal has a second station
// only once all others have had one, unless it weighs more. Questions are
// numbered through.
func (b *Bank) Stations(w StationWish) ([]Station, error) {
	if err := w.check(catalogue.Subjects[1:]); err != nil {
		return nil, err
	}
	wish := Wish{Subjects: w.Subjects, Count: w.Stations * w.Each, Seed: w.Seed, Difficulty: w.Difficulty, Species: w.Species, Traits: w.Traits, NoMemory: w.NoMemory}
	if err := wish.check(); err != nil {
		return nil, err
	}
	if slices.Contains(wish.Subjects, catalogue.Subjects[0]) {
		return nil, fmt.Errorf("no specimen of an %s lies at a station: choose from %s", catalogue.Subjects[0], strings.Join(catalogue.Subjects[1:], ", "))
	}
	c := circuit{newPlanner(b, wish), w, map[place]bool{}, nil}
	replicas, err := c.replicas(b)
	if err != nil {
		return nil, err
	}
	var all []Station
	for n := 1; n <= w.Stations; n++ {
		st, ok := replicas[n], replicas[n].Questions != nil
		if !ok {
			if st, ok = c.next(); !ok {
				return nil, fmt.Errorf("this roster gives only %d of %d stations with %d questions each: %s, or for fewer questions", len(all), w.Stations, w.Each, wish.remedy())
			}
		}
		all = append(all, st)
	}
	number(all)
	return all, nil
}

// circuit is a planner that works for stations.
type circuit struct {
	*planner
	wish   StationWish
	used   map[place]bool
	coming []string // species, in the order of their turns
}

type place struct{ species, subject string }

// replicas computes the given stations first, so that no other takes their animals.
func (c *circuit) replicas(b *Bank) (map[int]Station, error) {
	out := map[int]Station{}
	for _, r := range c.wish.Replicas {
		given := newPlanner(b, Wish{Subjects: []string{r.Subject}, Count: c.wish.Each, Seed: c.planner.wish.Seed + uint64(r.Station), NoMemory: c.wish.NoMemory})
		st, ok := given.station(0, r.Species, c.wish.Each, 0, whoseReplica)
		if !ok {
			return nil, fmt.Errorf("station %d: the catalogue doesn't give %d questions about the %s of %s in this roster: choose another animal or subject, or fewer questions",
				r.Station, c.wish.Each, r.Subject, r.Species)
		}
		out[r.Station] = st
		c.used[place{r.Species, r.Subject}] = true
	}
	return out, nil
}

// next is a station of the next animal in turn that can have one. Turns by
// weight may leave some animals out, so in the end all are asked alike.
func (c *circuit) next() (Station, bool) {
	st, ok := c.inTurn()
	if !ok && c.keyed != nil {
		c.keyed, c.coming = nil, nil
		return c.inTurn()
	}
	return st, ok
}

func (c *circuit) inTurn() (Station, bool) {
	for range 2 * len(c.species) * len(c.makers) {
		if len(c.coming) == 0 {
			c.coming = c.turn()
		}
		species := c.coming[0]
		c.coming = c.coming[1:]
		for _, s := range rarest(c.dice, len(c.makers), func(i int) float64 { return c.subjects[i] }) {
			at := place{species, c.makers[s].subject}
			if c.used[at] {
				continue
			}
			c.used[at] = true
			if st, ok := c.station(s, species, c.wish.Each, c.wish.Difficulty, whosePlate); ok {
				c.subjects[s]++
				return st, true
			}
		}
	}
	return Station{}, false
}

// station asks about a species in the subject of a maker.
func (p *planner) station(maker int, species string, each, difficulty int, ask whose) (Station, bool) {
	m, before := p.makers[maker], len(p.set)
	key, in := p.places[maker][species]
	if !in {
		return Station{}, false
	}
	p.wish.Difficulty, m.wish = difficulty, difficulty
	here := map[string]int{}
	if !p.askOne(m, key, asking(ask), here) {
		return Station{}, false
	}
	p.wish.Difficulty, m.wish = 0, 0
	for len(p.set)-before < each && p.askOne(m, key, aboutOne(), here) {
	}
	questions := slices.Clone(p.set[before:])
	if len(questions) < each {
		p.set = p.set[:before]
		return Station{}, false
	}
	st := Station{Species: species, Subject: m.subject, Plate: questions[0].Plate, Questions: questions}
	for i := range questions {
		questions[i] = m.book.at(questions[i], m.species[key])
	}
	return st, true
}

func asking(ask whose) []template {
	return []template{{name: whosePlateName, make: ask, weight: 1, drawn: true}}
}

// at is the question as a station has it.
func (b *phrasebook) at(q Question, s catalogue.Species) Question {
	q.Plate = nil // it is the station's
	q.Prompt = b.unname(q.Prompt, b.the(s))
	return q
}

// askOne adds a question by one of the templates given, those first that were
// asked least at this station, and then in all. Nothing is told before the end of the round, so a trait may come
// again where there is no other.
func (p *planner) askOne(m *maker, key int, by []template, here map[string]int) bool {
	defer func() { p.leave = leave{} }()
	for _, p.leave = range []leave{{}, {spending: true, forgiving: true}, {spending: true, forgiving: true, lenient: besideStrangers}} {
		ask := func() bool { return p.byTiers(m, func() bool { return p.askAt(m, key, by, here) }) }
		if p.weighty(ask) || ask() {
			return true
		}
	}
	return false
}

func (p *planner) askAt(m *maker, key int, by []template, here map[string]int) bool {
	const most = 1e6 // more than a template is ever asked
	use := func(t int) int { return most*here[by[t].name] + p.asked[by[t].name] }
	for _, t := range rarest(p.dice, len(by), use) {
		if p.wanted(by[t], m.subject) && p.try(by[t], m, key) {
			here[by[t].name]++
			return true
		}
	}
	return false
}

// number gives ids by what is read, now that no name is in it.
func number(all []Station) {
	n := 0
	for _, st := range all {
		for i := range st.Questions {
			n++
			st.Questions[i].ID = fmt.Sprintf("q%d-%016x", n, hash(st.Questions[i].wording()))
		}
	}
}
