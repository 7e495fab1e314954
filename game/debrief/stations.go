package debrief

import "fieldsign/game"

// A station round's questions all open with the round and close with its
// marks; what the host corrects afterwards is heard anew.

func (h *hearing) openStations(e game.Event) {
	round, _, _ := h.state.Current()
	for n, q := range round.Questions {
		h.items = append(h.items, Item{Round: e.Round, Number: n, Kind: round.Kind, Status: Unclosed, At: e.At - h.began,
			ID: q.ID, Subject: q.Subject, Prompt: q.Prompt, Options: q.Options, Key: q.Key, About: h.facts.of(q)})
	}
}

// collectStations keeps the answers of all teams that had their turn.
func (h *hearing) collectStations() {
	round, _, _ := h.state.Current()
	items := h.items[len(h.items)-len(round.Questions):]
	for n := range items {
		it := &items[n]
		it.Status, it.Answers = Closed, nil
		if h.state.Keys[n] < 0 {
			it.Status = Void
			continue
		}
		it.Key = h.state.Keys[n]
		for i := range h.state.Teams {
			it.Answers = append(it.Answers, h.entry(i, n, round))
		}
	}
}

func (h *hearing) entry(team, n int, round *game.Round) Answer {
	e := h.state.Teams[team].Sheet[n]
	switch {
	case !h.state.Visited(team, round.StationOf(n)):
		return nothing
	case e.Option < 0:
		return Answer{Silent, -1, -1, 0}
	case e.Option == h.state.Keys[n]:
		return Answer{Right, e.Option, e.Took, round.Points}
	}
	return Answer{Wrong, e.Option, e.Took, 0}
}
