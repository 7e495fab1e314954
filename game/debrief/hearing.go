package debrief

import "fieldsign/game"

// Mark is how an answer counts.
type Mark string

const (
	Apart  Mark = "" // it doesn't: the team was not there, or never held the buzz, or nothing is decided
	Right  Mark = "right"
	Wrong  Mark = "wrong"
	Silent Mark = "none" // no answer in an open round, or at a station
)

// count is a mark as right answers of answers due.
func (m Mark) count() (right, of int) {
	switch m {
	case Apart:
		return 0, 0
	case Right:
		return 1, 1
	}
	return 0, 1
}

// Answer is what one team did with one question.
type Answer struct {
	Mark   Mark  `json:"mark"`
	Option int   `json:"option"` // -1: none, or spoken
	Ms     int64 `json:"ms"`     // on the question's clock, to the answer or to the press; -1: none
	Points int   `json:"points"`
}

var nothing = Answer{Option: -1, Ms: -1}

// hearing follows a log and keeps what every team did with every question.
type hearing struct {
	facts   Facts
	state   game.State
	items   []Item
	present int   // teams t1 to tN were there when the last question opened
	began   int64 // when the first did
}

func (h *hearing) hear(e game.Event) {
	left := h.state.Left // before a verdict changes it
	h.state = game.Apply(h.state, e)
	switch e.Type {
	case game.Opened:
		h.open(e)
	case game.Scored, game.Corrected:
		if h.state.AtStations() {
			if h.state.Phase == game.Marked {
				h.collectStations()
			}
			return
		}
		h.last().Status = Closed
		if h.last().Kind != game.Buzz {
			h.collect()
		}
	case game.Ruled:
		h.rule(e, left)
	case game.Skipped:
		h.void()
	case game.Undone:
		h.undo(e)
	}
}

func (h *hearing) last() *Item { return &h.items[len(h.items)-1] }

func (h *hearing) open(e game.Event) {
	if len(h.items) == 0 {
		h.began = e.At
	}
	round, q, _ := h.state.Current()
	h.present = len(h.state.Teams)
	if round.Kind == game.Rotating {
		h.openStations(e)
		return
	}
	h.items = append(h.items, Item{Round: e.Round, Number: e.Number, Kind: round.Kind, Status: Unclosed, At: e.At - h.began,
		ID: q.ID, Subject: q.Subject, Prompt: q.Prompt, Options: q.Options, Key: q.Key, About: h.facts.of(*q)})
}

// put keeps a team's answer; rows grow as teams join.
func (h *hearing) put(team int, a Answer) {
	it := h.last()
	for len(it.Answers) < len(h.state.Teams) {
		it.Answers = append(it.Answers, nothing)
	}
	it.Answers[team] = a
}

// collect keeps all answers of an open round's question that has been closed.
func (h *hearing) collect() {
	for i, t := range h.state.Teams {
		switch {
		case t.Verdict == "right":
			h.put(i, Answer{Right, t.Choice, t.Took, t.Gained})
		case t.Choice >= 0:
			h.put(i, Answer{Wrong, t.Choice, t.Took, t.Gained})
		case i < h.present:
			h.put(i, Answer{Silent, -1, -1, 0})
		}
	}
}

// rule keeps a verdict. Its time is the press's, as the game counts it.
func (h *hearing) rule(e game.Event, left int64) {
	award := e.Awards[0]
	mark := Wrong
	if award.Right {
		mark, h.last().Status = Right, Closed
	}
	if i := h.state.Find(award.Team); i >= 0 {
		round, _, _ := h.state.Current()
		h.put(i, Answer{mark, e.Option, int64(round.Seconds)*1000 - left, award.Points})
	}
}

func (h *hearing) void() { h.last().Status, h.last().Answers = Void, nil }

func (h *hearing) undo(e game.Event) {
	if h.last().Kind != game.Buzz {
		h.void()
		return
	}
	for _, a := range e.Awards {
		if i := h.state.Find(a.Team); i >= 0 {
			h.put(i, nothing)
		}
	}
}

// settle lists the teams still in the game, and the questions with the answers
// of these teams, in the same order.
func (h *hearing) settle() ([]Team, []Item) {
	teams := []Team{}
	answers := make([][]Answer, len(h.items))
	for i, t := range h.state.Teams {
		if t.Removed {
			continue
		}
		teams = append(teams, Team{ID: t.ID, Name: t.Name, Score: t.Score})
		for n, it := range h.items {
			a := nothing
			if i < len(it.Answers) {
				a = it.Answers[i]
			}
			answers[n] = append(answers[n], a)
		}
	}
	for n := range h.items {
		h.items[n].Answers = answers[n]
	}
	return teams, h.items
}
