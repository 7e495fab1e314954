package tournament

import (
	"maps"
	"slices"

	"fieldsign/game"
)

// Format is how a tournament is played.
type Format string

const (
	RoundRobin Format = "round robin"
	Single     Format = "single elimination"
	Double     Format = "double elimination"
	Swiss      Format = "swiss"
	Pools      Format = "pools" // round robins, then a bracket
)

// Bounds of a tournament.
const (
	MinEntrants = 2
	MaxEntrants = 256
	maxEntries  = 1024 // entrants ever entered, those withdrawn again included
	maxScore    = 1_000_000
)

// Settings are fixed when a tournament is created. Fields that the format does
// not use are zero.
type Settings struct {
	Format Format `json:"format"`
	Seed   uint64 `json:"seed"`           // of the lots
	Lots   bool   `json:"lots,omitempty"` // the order of the draw falls by lot, not by seeding

	Twice   bool   `json:"twice,omitempty"`   // round robin and pools: each pair meets twice
	Rounds  int    `json:"rounds,omitempty"`  // Swiss: how many; 0 for as many as a single elimination has
	Third   bool   `json:"third,omitempty"`   // single elimination: a match for the third place
	Pools   int    `json:"pools,omitempty"`   // pools: how many
	Advance int    `json:"advance,omitempty"` // pools: how many go on from each
	Then    Format `json:"then,omitempty"`    // pools: the bracket's format, single or double elimination
}

// Phase is where a tournament stands.
type Phase string

const (
	Entry Phase = "entry" // entrants come and go
	Play  Phase = "play"  // the draw is made
	Ended Phase = "ended"
)

// Entrant is who plays: a team, by its nickname. Entrant N is Entrants[N-1].
type Entrant struct {
	Name      string `json:"name"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
}

// Nobody stands where no entrant will ever come: opposite a bye, or as the
// winner of a match that neither side played.
const Nobody = -1

// Part is the part of a tournament that a match belongs to.
type Part string

const (
	Table   Part = "table" // round robin
	Pool    Part = "pool"
	Round   Part = "round"   // Swiss
	Winners Part = "winners" // a bracket's main part
	Losers  Part = "losers"  // a double elimination's second chance
	Third   Part = "third"
	Final   Part = "final"
	Reset   Part = "reset" // a double elimination's second final
)

// Seat is one side of a match. Entrant is who sits there, 0 while that is open,
// or Nobody. In a bracket the seat is fed: by a place of the seeding, or by the
// winner or loser of an earlier match.
type Seat struct {
	Entrant int  `json:"entrant"`
	Seed    int  `json:"seed,omitempty"`
	From    int  `json:"from,omitempty"`
	Loser   bool `json:"loser,omitempty"`
}

// Outcome is how a match came to its result.
type Outcome string

const (
	Open     Outcome = ""
	Played   Outcome = "played"
	Forfeit  Outcome = "forfeit"  // begun or due, and given up
	Walkover Outcome = "walkover" // a side did not come
	Bye      Outcome = "bye"      // there was nobody to play
	Unneeded Outcome = "unneeded" // a place in the bracket that nobody reached, or a reset not called for
)

// Result is how a match ended. Winner is an entrant, 0 for a draw, or Nobody.
// Auto marks what follows from the draw or a withdrawal without being recorded.
type Result struct {
	Outcome Outcome `json:"outcome,omitempty"`
	Home    int     `json:"home,omitempty"`
	Away    int     `json:"away,omitempty"`
	Winner  int     `json:"winner,omitempty"`
	Auto    bool    `json:"auto,omitempty"`
}

// Match is a match of the tournament. Match N is Matches[N-1], and what feeds a
// match comes before it.
type Match struct {
	ID     int    `json:"id"`
	Part   Part   `json:"part"`
	Pool   int    `json:"pool,omitempty"`
	Round  int    `json:"round"` // within its part
	Home   Seat   `json:"home"`
	Away   Seat   `json:"away"`
	Game   string `json:"game,omitempty"` // the join code of the game that it is played in
	Result Result `json:"result,omitzero"`
}

// Done reports whether the match has a result.
func (m *Match) Done() bool { return m.Result.Outcome != Open }

// Running reports whether the match is being played in a game.
func (m *Match) Running() bool { return m.Game != "" && !m.Done() }

// Playable reports whether both sides are there and no result yet.
func (m *Match) Playable() bool { return !m.Done() && m.Home.Entrant > 0 && m.Away.Entrant > 0 }

// Has reports whether an entrant sits in the match.
func (m *Match) Has(entrant int) bool {
	return m.Home.Entrant == entrant || m.Away.Entrant == entrant
}

// Opponent is who sits opposite an entrant of the match.
func (m *Match) Opponent(entrant int) int {
	if m.Home.Entrant == entrant {
		return m.Away.Entrant
	}
	return m.Home.Entrant
}

// Loser is who lost, or Nobody.
func (m *Match) Loser() int {
	if m.Result.Winner <= 0 {
		return Nobody
	}
	return m.Opponent(m.Result.Winner)
}

// Sheet is a tournament as it stands: what undo and redo go back and forth on.
type Sheet struct {
	Code     string    `json:"code"`
	Began    string    `json:"began"` // date and time (RFC 3339), for people
	Name     string    `json:"name"`
	Settings Settings  `json:"settings"`
	Phase    Phase     `json:"phase"`
	Entrants []Entrant `json:"entrants"`
	Order    []int     `json:"order"` // the seeding, best first; from the draw on, the pairing numbers
	Matches  []Match   `json:"matches"`
	Bracket  int       `json:"bracket"`  // the bracket's first match, 0 while there is none
	Field    []int     `json:"field"`    // who plays the bracket, by seed
	PlayOffs [][]int   `json:"playoffs"` // ties settled by a play-off or by lot, better first
	Boards   int       `json:"boards"`   // in use at once; 0 is one
	At       []int     `json:"at"`       // by board, the match that is called to it or played there, or 0; behind them, matches that are played at none

	first int // the matches before have results
}

// State is a tournament with what it takes to refuse a repeated command, to
// undo and to redo. It is a value: whoever hands one to Apply must use the
// result instead, as with append. It is kept as its log, never as itself.
type State struct {
	Seq uint64 `json:"seq"`
	Sheet
	Applied game.Applied  `json:"applied"`
	Phones  map[int]Phone `json:"phones"` // by entrant
	Sat     map[int]int   `json:"sat"`    // by entrant: how often a phone has sat down since the host freed the seat

	past   []Event // what the sheet is made of
	future []Event // what has been undone, the last first to come back
}

// Undoable and Redoable are the events that undo would take back and redo
// would bring again; ok is false where there is none.
func (s *State) Undoable() (e Event, ok bool) {
	if len(s.past) < 2 { // the creation stays
		return Event{}, false
	}
	return s.past[len(s.past)-1], true
}

func (s *State) Redoable() (e Event, ok bool) {
	if len(s.future) == 0 {
		return Event{}, false
	}
	return s.future[len(s.future)-1], true
}

// Clone copies a state so that both may be handed to Apply.
func (s State) Clone() State {
	s.Sheet = s.Sheet.clone()
	s.past, s.future = slices.Clone(s.past), slices.Clone(s.future)
	s.Applied, s.Phones, s.Sat = s.Applied.Clone(), maps.Clone(s.Phones), maps.Clone(s.Sat)
	return s
}

func (s Sheet) clone() Sheet {
	s.Entrants, s.Matches, s.PlayOffs, s.At = slices.Clone(s.Entrants), slices.Clone(s.Matches), slices.Clone(s.PlayOffs), slices.Clone(s.At)
	return s
}

// active reports whether an entrant exists and has not withdrawn.
func (s *Sheet) active(entrant int) bool {
	return entrant >= 1 && entrant <= len(s.Entrants) && !s.Entrants[entrant-1].Withdrawn
}

// playing counts those of some who have not withdrawn.
func (s *Sheet) playing(some []int) int {
	n := 0
	for _, e := range some {
		if s.active(e) {
			n++
		}
	}
	return n
}

// match finds a match, or nil.
func (s *Sheet) match(id int) *Match {
	if id < 1 || id > len(s.Matches) {
		return nil
	}
	return &s.Matches[id-1]
}

// inBracket reports whether one side of a match has to go on.
func (s *Sheet) inBracket(m *Match) bool { return s.Bracket > 0 && m.ID >= s.Bracket }

// open counts the matches that have no result.
func (s *Sheet) open() int {
	n := 0
	for i := range s.Matches {
		if !s.Matches[i].Done() {
			n++
		}
	}
	return n
}

// tables are the matches outside the bracket.
func (s *Sheet) tables() []Match {
	if s.Bracket > 0 {
		return s.Matches[:s.Bracket-1]
	}
	return s.Matches
}
