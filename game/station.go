package game

import (
	"fmt"
	"slices"

	"fieldsign/refusal"
)

// The rules of a station round. It is a practical exam: each team has a start
// station, all move on to the next one at a signal by the game's clock, and
// what is answered at a station is locked when the signal comes.
//
// Until the signal a team may change an answer, and the last one counts: as on
// an exam sheet, all questions of a station are seen at once, nothing is told
// before the round is over, and speed earns nothing. So a second thought gains
// no one an unfair point, and a finger that slipped costs none.
//
// With more teams than stations some share one; with fewer, some stand empty.
// A team that comes late begins where there is most room, and has no turn at
// the stations that the others were at before.

// Bounds of a station round.
const (
	minStations = 2
	maxStations = 20
	maxEach     = 5
)

// Station is a place with a specimen: a plate, or the teacher's own replica,
// of which nothing is shown. It tells the key. Count is of its questions; 0 is
// an equal share of the round's.
type Station struct {
	Species string `json:"species"`
	Subject string `json:"subject"`
	Plate   Plate  `json:"plate,omitzero"`
	Replica bool   `json:"replica,omitempty"`
	Count   int    `json:"count,omitempty"`
}

// Entry is a place on a team's answer sheet.
type Entry struct {
	Option int   `json:"option"` // or -1
	Took   int64 `json:"took"`   // ms from the rotation's start to the answer
}

func (r Round) checkStations(bad func(string, ...any) error) error {
	n := len(r.Stations)
	switch {
	case r.Kind != Rotating && (n > 0 || r.Walk != 0):
		return bad("only a station round has stations and time to walk.")
	case r.Kind != Rotating:
		return nil
	case n < minStations || n > maxStations:
		return bad("there are %d to %d stations, not %d.", minStations, maxStations, n)
	case r.Walk < 0 || r.Walk > maxSeconds:
		return bad("the time to walk is 0 to %d seconds, not %d.", maxSeconds, r.Walk)
	}
	sum := 0
	for i, st := range r.Stations {
		if each := r.count(i); each < 1 || each > maxEach {
			return bad("station %d has 1 to %d questions, not %d.", i+1, maxEach, each)
		}
		sum += r.count(i)
		if invalid(st.Species) || invalid(st.Subject) {
			return bad("station %d holds text that is not UTF-8.", i+1)
		}
	}
	if sum != len(r.Questions) {
		return bad("the %d stations have %d questions between them, and there are %d.", n, sum, len(r.Questions))
	}
	return nil
}

// Each is the most questions that a station has; in a round of another kind, all of them.
func (r Round) Each() int {
	if len(r.Stations) == 0 {
		return len(r.Questions)
	}
	most := 0
	for i := range r.Stations {
		most = max(most, r.count(i))
	}
	return most
}

// At is where a station's questions begin and end among the round's.
func (r Round) At(station int) (from, to int) {
	for i := range station {
		from += r.count(i)
	}
	return from, from + r.count(station)
}

// StationOf is the station, counted from 0, that has a question.
func (r Round) StationOf(question int) (station int) {
	for _, to := r.At(0); question >= to; _, to = r.At(station) {
		station++
	}
	return station
}

func (r Round) count(station int) int {
	if n := r.Stations[station].Count; n > 0 {
		return n
	}
	return len(r.Questions) / len(r.Stations)
}

// AtStations holds from the opening of a station round until it is left.
func (s *State) AtStations() bool {
	return s.Phase == Visiting || s.Phase == Walking || s.Phase == Marked
}

// timed holds while the clock of a rotation or of a walk runs or is paused.
// Before the first rotation it waits for the host: teams have to find their places.
func (s *State) timed() bool { return s.Phase == Visiting || s.Phase == Walking && s.Turn > 0 }

// Place is the station, counted from 0, at which a team is, or to which it walks.
func (s *State) Place(team int) int {
	return (s.Teams[team].Start + s.passed()) % len(s.round().Stations)
}

// passed is how many stations a team that has been there from the start has left.
func (s *State) passed() int {
	if s.Phase == Walking {
		return s.Turn
	}
	return max(0, s.Turn-1)
}

// Visited reports whether a team has had its turn at a station, or has it now.
func (s *State) Visited(team, station int) bool {
	n, t := len(s.round().Stations), &s.Teams[team]
	turn := (station-t.Start+n)%n + 1
	return turn >= t.From && turn <= s.Turn
}

// Filled counts a team's answers at the station where it is.
func (s *State) Filled(team int) (n int) {
	from, to := s.round().At(s.Place(team))
	for _, e := range s.Teams[team].Sheet[from:to] {
		if e.Option >= 0 {
			n++
		}
	}
	return n
}

// PicksOf counts the answers to a question of a station round by option.
func (s *State) PicksOf(question int) []int {
	picks := make([]int, len(s.round().Questions[question].Options))
	for i := range s.Teams {
		if t := &s.Teams[i]; !t.Removed && t.Sheet[question].Option >= 0 {
			picks[t.Sheet[question].Option]++
		}
	}
	return picks
}

// place gives the teams their start stations, in the order of their coming.
func (s *State) place() {
	s.settle(Walking, "")
	s.Turn, s.Added, s.Deadline, s.Left = 0, 0, 0, 0
	s.Keys = make([]int, len(s.round().Questions))
	for n, q := range s.round().Questions {
		s.Keys[n] = q.Key
	}
	next := 0
	for i := range s.Teams {
		t := &s.Teams[i]
		t.Start, t.From, t.Sheet = next%len(s.round().Stations), 1, s.blank()
		if !t.Removed {
			next++
		}
	}
}

func (s *State) blank() []Entry {
	return slices.Repeat([]Entry{{Option: -1}}, len(s.round().Questions))
}

// placeLate has the newest team begin where there is most room, at the lowest
// number among equals.
func (s *State) placeLate() {
	stations := len(s.round().Stations)
	crowd := make([]int, stations) // by where teams are now
	newest := len(s.Teams) - 1
	for i := range s.Teams[:newest] {
		if !s.Teams[i].Removed {
			crowd[s.Place(i)]++
		}
	}
	roomy := slices.Index(crowd, slices.Min(crowd))
	t := &s.Teams[newest]
	t.Sheet, t.From = s.blank(), s.passed()+1
	if s.Phase == Marked {
		t.From = s.Turn + 1
	}
	t.Start = ((roomy-s.passed())%stations + stations) % stations
}

// write takes an answer at a station.
func (s *State) write(c Command, now int64) ([]Event, error) {
	i := s.Find(c.By)
	switch {
	case i < 0:
		return refuse(refusal.UnknownTeam, "This team is not in the game.")
	case s.Paused:
		return refuse(refusal.Paused, "The game is paused.")
	case s.Phase != Visiting || now >= s.Deadline:
		return refuse(refusal.TooLate, "The signal has come: the answers are locked.")
	}
	n := slices.IndexFunc(s.round().Questions, func(q Question) bool { return q.ID == c.Question })
	if n < 0 || s.round().StationOf(n) != s.Place(i) {
		return refuse(refusal.NotHere, fmt.Sprintf("Your team is at station %d: answer the questions there.", s.Place(i)+1))
	}
	if options := len(s.round().Questions[n].Options); c.Option < 0 || c.Option >= options {
		return refuse(refusal.BadOption, fmt.Sprintf("The options are 0 to %d.", options-1))
	}
	if s.Teams[i].Sheet[n].Option == c.Option {
		return nil, nil
	}
	return []Event{{Type: Answered, Team: c.By, Number: n, Option: c.Option, Took: s.Span() - (s.Deadline - now)}}, nil
}

// signal ends the rotation or the walk under way; the last rotation's signal
// ends the round.
func (s *State) signal() []Event {
	switch {
	case s.Phase == Walking:
		return []Event{{Type: Started, Number: s.Turn + 1}}
	case s.Turn < len(s.round().Stations):
		return []Event{{Type: Signalled, Number: s.Turn}}
	}
	return []Event{s.marks()}
}

// rotation begins the clock of a rotation, or of the walk after it.
func (s *State) rotation(p Phase, turn, seconds int) {
	s.settle(p, "")
	s.Turn, s.Added, s.Since = turn, 0, s.At
	s.time(int64(seconds) * 1000)
}

// mark is the host's early end of the round: what has been answered counts.
func (s *State) mark() ([]Event, error) {
	if s.Phase != Visiting && s.Phase != Walking {
		return refuse(refusal.NotNow, "No station round is under way.")
	}
	return []Event{s.marks()}, nil
}

func (s *State) marks() Event {
	e := Event{Type: Scored}
	for n := range s.Keys {
		e.Awards = append(e.Awards, s.awards(n, s.Keys[n])...)
	}
	return e
}

// awards are for the teams whose answer to a question is the key; -1 is a
// question that counts for nothing. They took no time: that would make speed
// break ties, where a team may look as long as it wants.
func (s *State) awards(question, key int) (list []Award) {
	for i := range s.Teams {
		t := &s.Teams[i]
		if !t.Removed && key >= 0 && t.Sheet[question].Option == key {
			list = append(list, Award{Team: t.ID, Right: true, Points: s.round().Points})
		}
	}
	return list
}

// marked closes the round: its keys and reasons may be shown.
func (s *State) marked(e Event) {
	s.settle(Marked, "")
	s.Paused, s.Notice = false, ""
	for _, a := range e.Awards {
		s.book(a, 1)
	}
}

// adjust lengthens or shortens the rotation or the walk under way.
func (s *State) adjust(c Command, now int64) ([]Event, error) {
	if !s.timed() {
		return refuse(refusal.NotNow, "No rotation is being timed.")
	}
	left := s.Deadline
	if !s.Paused {
		left -= now
	}
	most := int64(maxSeconds) * 1000
	change := min(max(int64(c.Seconds), -maxSeconds), maxSeconds) * 1000
	wish := min(max(left+change, 0), most)
	if wish == left {
		return refuse(refusal.BadTime, fmt.Sprintf("A rotation has 0 to %d seconds left.", maxSeconds))
	}
	return []Event{{Type: Adjusted, Took: wish - left}}, nil
}

// correct gives a question another key, or with the option -1 none: where a
// label was wrong or a specimen broken. Before the marks it decides what will
// be right, after them it gives and takes points.
func (s *State) correct(c Command) ([]Event, error) {
	if !s.AtStations() {
		return refuse(refusal.NotNow, "Only the questions of the station round under way can be corrected.")
	}
	n := slices.IndexFunc(s.round().Questions, func(q Question) bool { return q.ID == c.Question })
	if n < 0 {
		return refuse(refusal.UnknownQuestion, "There is no such question in this round.")
	}
	if options := len(s.round().Questions[n].Options); c.Option < -1 || c.Option >= options {
		return refuse(refusal.BadOption, fmt.Sprintf("The options are 0 to %d, or -1 for none.", options-1))
	}
	if s.Keys[n] == c.Option {
		return nil, nil
	}
	e := Event{Type: Corrected, Number: n, Option: c.Option}
	if s.Phase == Marked {
		e.Taken, e.Awards = s.awards(n, s.Keys[n]), s.awards(n, c.Option)
	}
	return []Event{e}, nil
}

func (s *State) corrected(e Event) {
	s.Keys[e.Number] = e.Option
	for _, a := range e.Taken {
		s.book(a, -1)
	}
	for _, a := range e.Awards {
		s.book(a, 1)
	}
}
