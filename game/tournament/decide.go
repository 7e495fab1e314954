package tournament

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fieldsign/game"
	"fieldsign/game/alike"
	"fieldsign/game/rating"
	"fieldsign/refusal"
)

// Decide says what a command makes happen: one event, or none for a command
// that has taken effect before, or a Refusal.
func Decide(s State, c Command) ([]Event, error) {
	if s.Applied.Has(c.By, c.ID) {
		return nil, nil
	}
	if err := s.admit(c); err != nil {
		return nil, err
	}
	events, err := s.decide(c)
	for i := range events {
		events[i].Seq = s.Seq + 1 + uint64(i)
		events[i].By, events[i].Cmd = c.By, c.ID
	}
	return events, err
}

// admit refuses what no phase could take, and what a phase can't.
func (s *State) admit(c Command) error {
	bad := func(code refusal.Code, message string) error { return refusal.New(code, message) }
	switch {
	case !utf8.ValidString(c.By) || !utf8.ValidString(c.ID) || !utf8.ValidString(c.Game) || !utf8.ValidString(c.Began):
		return bad(refusal.BadCommand, "A command's texts have to be UTF-8.")
	case len(c.ID) > maxID:
		return bad(refusal.BadCommand, fmt.Sprintf("A command's id has at most %d bytes.", maxID))
	case s.Phase == "" && c.Type != Create:
		return bad(refusal.NoTournament, "There is no tournament yet: create it first.")
	case s.Phase != "" && c.Type == Create:
		return bad(refusal.NotNow, "This tournament has been created already.")
	case s.Phase == Ended && !slices.Contains([]string{Undo, Redo, Rename, Sit, Stand}, c.Type):
		return bad(refusal.Ended, "This tournament has ended. To change something, undo that first.")
	}
	early := []string{Enter, Reseed, Draw}
	late := []string{Next, Start, Record, Correct, SettleTie, Finish}
	switch {
	case s.Phase == Play && slices.Contains(early, c.Type):
		return bad(refusal.TooLate, "The draw is made. Entrants and seeding can change before it only: undo the draw if nothing has been played.")
	case s.Phase == Entry && slices.Contains(late, c.Type):
		return bad(refusal.NotNow, "Make the draw first.")
	}
	return nil
}

func (s *State) decide(c Command) ([]Event, error) {
	switch c.Type {
	case Create:
		return create(c)
	case Enter:
		return s.enter(c)
	case Rename:
		return s.rename(c)
	case Withdraw:
		return s.withdraw(c)
	case Reseed:
		return s.reseed(c)
	case Draw:
		return s.draw()
	case Next:
		return s.next()
	case Start:
		return s.start(c)
	case Record:
		return s.record(c)
	case Correct:
		return s.correct(c)
	case SettleTie:
		return s.settleTie(c)
	case Finish:
		return s.finish(c)
	case Boards:
		return s.arrange(c)
	case Sit:
		return s.sit(c)
	case Stand:
		return s.stand(c)
	case Undo:
		if _, ok := s.Undoable(); !ok {
			return refuse(refusal.NothingToUndo, "There is nothing to undo.")
		}
		return []Event{{Type: Undone}}, nil
	case Redo:
		if _, ok := s.Redoable(); !ok {
			return refuse(refusal.NothingToRedo, "There is nothing to redo.")
		}
		return []Event{{Type: Redone}}, nil
	}
	return refuse(refusal.UnknownCommand, fmt.Sprintf("There is no command %q.", c.Type))
}

// create has the game's own rules judge the texts, so that a title is the same
// thing there and here.
func create(c Command) ([]Event, error) {
	named := game.Command{Type: game.Create, Code: c.Code, Began: c.Began, Plan: game.Plan{Title: c.Name}}
	if _, err := game.Decide(game.State{}, named, 0); err != nil {
		return nil, err
	}
	if len(c.Code) > maxCode || len(c.Began) > maxCode {
		return refuse(refusal.BadCommand, fmt.Sprintf("A code and a date have at most %d bytes.", maxCode))
	}
	if err := c.Settings.check(); err != nil {
		return nil, err
	}
	return []Event{{Type: Created, Code: c.Code, Began: c.Began, Name: c.Name, Settings: &c.Settings}}, nil
}

func (t Settings) check() error {
	bad := func(what string, args ...any) error {
		return refusal.New(refusal.BadSettings, fmt.Sprintf(what, args...))
	}
	switch t.Format {
	case RoundRobin, Single, Double:
	case Swiss:
		if t.Rounds < 0 || t.Rounds >= MaxEntrants {
			return bad("A Swiss tournament has 1 to %d rounds, or 0 to have them reckoned; not %d.", MaxEntrants-1, t.Rounds)
		}
	case Pools:
		switch {
		case t.Pools < 2 || t.Pools > MaxEntrants/2:
			return bad("There are 2 to %d pools, not %d.", MaxEntrants/2, t.Pools)
		case t.Advance < 1 || t.Advance > MaxEntrants:
			return bad("From each pool at least one goes on; %d can't.", t.Advance)
		case t.Then != Single && t.Then != Double:
			return bad("After the pools comes a %s or a %s, not %q.", Single, Double, t.Then)
		}
	default:
		return bad("There is no format %q: it is one of %q.", t.Format, []Format{RoundRobin, Single, Double, Swiss, Pools})
	}
	return nil
}

func (s *State) enter(c Command) ([]Event, error) {
	if len(s.Order) >= MaxEntrants {
		return refuse(refusal.TournamentFull, fmt.Sprintf("This tournament has its %d entrants.", MaxEntrants))
	}
	if len(s.Entrants) >= maxEntries {
		return refuse(refusal.TournamentFull, fmt.Sprintf("%d entries have been made, most of them withdrawn: create a new tournament.", maxEntries))
	}
	name, err := s.freeName(c.Name, 0)
	if err != nil {
		return nil, err
	}
	return []Event{{Type: Entered, Entrant: len(s.Entrants) + 1, Name: name}}, nil
}

func (s *State) rename(c Command) ([]Event, error) {
	if c.Entrant < 1 || c.Entrant > len(s.Entrants) {
		return unknownEntrant()
	}
	name, err := s.freeName(c.Name, c.Entrant)
	if err != nil {
		return nil, err
	}
	return []Event{{Type: Renamed, Entrant: c.Entrant, Name: name}}, nil
}

// freeName cleans a name by the game's rules for a team's, and refuses a bad or
// a taken one.
func (s *Sheet) freeName(raw string, self int) (string, error) {
	joined, err := game.Decide(game.State{Phase: game.Lobby}, game.Command{Type: game.Join, Name: raw}, 0)
	if err != nil {
		return "", err
	}
	name := joined[0].Name
	for i := range s.Entrants {
		if e := &s.Entrants[i]; i+1 != self && alike.Names(e.Name, name) && !(s.Phase == Entry && e.Withdrawn) {
			return "", refusal.New(refusal.NameTaken, fmt.Sprintf("The name %q is taken: choose another.", name))
		}
	}
	return name, nil
}

func unknownEntrant() ([]Event, error) {
	return refuse(refusal.UnknownEntrant, "There is no such entrant in the tournament.")
}

func (s *State) withdraw(c Command) ([]Event, error) {
	if !s.active(c.Entrant) {
		return unknownEntrant()
	}
	return []Event{{Type: Withdrew, Entrant: c.Entrant}}, nil
}

func (s *State) reseed(c Command) ([]Event, error) {
	if !sameSet(c.Order, s.Order) {
		return refuse(refusal.BadSeeding, fmt.Sprintf("The seeding has to name each of the %d entrants once.", len(s.Order)))
	}
	return []Event{{Type: Reseeded, Order: slices.Clone(c.Order)}}, nil
}

func sameSet(a, b []int) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// drawable refuses a draw of too few.
func (s *State) drawable() error {
	n, t := len(s.Order), s.Settings
	switch {
	case n < MinEntrants:
		return refusal.New(refusal.TooFew, fmt.Sprintf("A tournament needs %d entrants; there are %d.", MinEntrants, n))
	case t.Format == Swiss && s.Rounds() > mostRounds(n):
		return refusal.New(refusal.TooManyRounds, fmt.Sprintf("%d entrants can play %d rounds without a rematch, not %d.", n, mostRounds(n), s.Rounds()))
	case t.Format == Pools && (n < 2*t.Pools || t.Advance > n/t.Pools):
		return refusal.New(refusal.TooFew, fmt.Sprintf("%d entrants don't fill %d pools of two or more from which %d go on.", n, t.Pools, t.Advance))
	}
	return nil
}

func (s *State) draw() ([]Event, error) {
	if err := s.drawable(); err != nil {
		return nil, err
	}
	n, t := len(s.Order), s.Settings
	e := Event{Type: Drawn, Order: s.Order}
	if t.Lots {
		e.Order = nil
		for _, i := range rating.Shuffle(n, t.Seed) {
			e.Order = append(e.Order, s.Order[i])
		}
	}
	if t.Format == Swiss {
		e.Pairs, e.Bye = s.swissRound(e.Order)
	}
	return []Event{e}, nil
}

func (s *State) next() ([]Event, error) {
	if s.Settings.Format != Swiss && (s.Settings.Format != Pools || s.Bracket > 0) {
		return refuse(refusal.NotNow, "There is no further draw: all matches are on the sheet.")
	}
	if open := s.open(); open > 0 {
		return refuse(refusal.OpenMatches, fmt.Sprintf("%d matches have no result yet.", open))
	}
	if s.Settings.Format == Pools {
		return s.advance()
	}
	if s.round() >= s.Rounds() {
		return refuse(refusal.NotNow, fmt.Sprintf("All %d rounds are played.", s.Rounds()))
	}
	if s.playing(s.Order) < MinEntrants {
		return refuse(refusal.TooFew, "Fewer than two are left: finish the tournament early.")
	}
	pairs, bye := s.swissRound(s.Order)
	return []Event{{Type: Paired, Pairs: pairs, Bye: bye}}, nil
}

func (s *State) advance() ([]Event, error) {
	going := s.GoingOn()
	if len(going.Level) > 0 {
		return refuse(refusal.Tie, fmt.Sprintf("%s are level on every tie-break for the last place that goes on: let them play off, or draw lots, and record the order.", s.names(going.Level[0])))
	}
	if len(going.Field) < MinEntrants {
		return refuse(refusal.TooFew, "Fewer than two are left to go on: finish the tournament early.")
	}
	return []Event{{Type: Advanced, Order: going.Field}}, nil
}

func (s *Sheet) names(entrants []int) string {
	var names []string
	for _, e := range entrants {
		names = append(names, s.Entrants[e-1].Name)
	}
	return strings.Join(names, ", ")
}

func (s *State) finish(c Command) ([]Event, error) {
	if (s.open() > 0 || s.toCome()) && !c.Early {
		return refuse(refusal.OpenMatches, "Not everything is played. To end all the same, finish early.")
	}
	return []Event{{Type: Finished}}, nil
}
