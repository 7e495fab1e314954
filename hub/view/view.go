// Package view is what each kind of client is shown of a game, worked out from the
// game's state alone. The key leaves view.go in two places: in the reveal, after
// the question has closed, and in the host's copy. Of station rounds it leaves
// stations.go in specimens alone.
package view

import (
	"slices"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
)

// Game is a game as it is looked at. It is not safe for concurrent use.
type Game struct {
	state    *game.State
	planner  *plan.Planner
	pictures *picture.Cabinet
	lesson   lesson // of the last reveal
}

// Of looks at a state, whatever it has become when it is asked.
func Of(s *game.State, p *plan.Planner, c *picture.Cabinet) *Game {
	return &Game{state: s, planner: p, pictures: c}
}

// Public is the state that all are shown, at a time of the game's clock. Phones,
// Board and Host complete it.
func (g *Game) Public(now int64) wire.State {
	v := public(g.state, now)
	v.Rotation = g.rotation()
	return g.plated(v)
}

// Phones is what all teams' phones are shown alike. The leaderboard is shown
// between rounds and at the end, and sent no more often than that.
func Phones(v wire.State, standings []game.Standing) wire.State {
	return v.Lead(standings[:min(len(standings), shownLeaders)])
}

// shownLeaders is how much of the leaderboard a phone gets.
const shownLeaders = 5

// Board is what the projector shows.
func (g *Game) Board(v wire.State, standings []game.Standing) wire.State {
	v.Rotation = g.placed(v.Rotation)
	if v.Phase != game.Lobby {
		return v.Lead(standings)
	}
	v.Names = make([]string, 0, len(standings))
	for _, st := range standings {
		v.Names = append(v.Names, st.Name)
	}
	return v
}

// Host is what the host's console shows, without its teams.
func (g *Game) Host(v wire.State, standings []game.Standing) wire.State {
	s := g.state
	v = v.Lead(standings)
	next, _ := nextQuestion(s)
	h := &wire.HostView{Key: -1, CanUndo: len(s.Last) > 0 && !s.Undone, Next: next.Prompt, Seats: Seats(s), Stations: g.specimens()}
	if _, q, ok := s.Current(); ok && v.Question != nil {
		h.Key, h.Reason = q.Key, q.Reason
		if q.Typed {
			v.ShowTyped(q)
			h.Key = 0
		}
	}
	v.Host = h
	return v
}

// TeamForHost is one of the console's teams, by its place.
func (g *Game) TeamForHost(team int, online bool) wire.TeamView {
	s := g.state
	t := &s.Teams[team]
	v := wire.TeamView{Team: t.ID, Name: t.Name, Score: t.Score, Right: t.Right, Online: online, Answered: t.Choice >= 0, Locked: t.Locked, Extra: t.Extra}
	if s.AtStations() {
		v.Station, v.Filled = s.Place(team)+1, s.Filled(team)
	}
	return v
}

// Seats are those of a match, which its two sides alone may take.
func Seats(s *game.State) (seats []wire.SeatView) {
	if s.Plan.Match == nil {
		return nil
	}
	for _, side := range s.Plan.Match.Sides {
		taken := slices.ContainsFunc(s.Teams, func(t game.Team) bool { return !t.Removed && t.Name == side })
		seats = append(seats, wire.SeatView{Name: side, Taken: taken})
	}
	return seats
}

// Own is what one team alone is told.
func (g *Game) Own(team, rank int) wire.You {
	y := forTeam(g.state, team, rank)
	y.Station = g.stationOf(team)
	return y
}

// isOpen is true while a question is shown, its key or not.
func isOpen(p game.Phase) bool { return p == game.Asking || p == game.Buzzed || p == game.Revealed }

// public is the state without plates, stations and any audience's additions.
func public(s *game.State, now int64) wire.State {
	teams, answered, locked := s.Playing()
	v := wire.State{Type: "state", Seq: s.Seq, Phase: s.Phase, Paused: s.Paused, Notice: s.Notice,
		Title: s.Plan.Title, Language: s.Plan.Language, Code: s.Code, Teams: teams, Answered: answered, Leaders: []game.Standing{}, Next: s.Next}
	r, q, ok := s.Current()
	if !ok {
		return v
	}
	v.Round = &wire.RoundView{N: s.Round + 1, Of: len(s.Plan.Rounds), Name: r.Name, Kind: r.Kind, Questions: len(r.Questions), Typed: r.Typed, Points: r.Points, Speed: r.Speed, Penalty: r.Penalty}
	switch {
	case s.Phase == game.Ready && s.Plan.Match != nil:
		v.Sides = s.Plan.Match.Sides
	case s.Phase == game.Walking || s.Phase == game.Visiting:
		v.Span = s.Span()
	case isOpen(s.Phase):
		v.Question = &wire.QuestionView{ID: q.ID, N: s.Question + 1, Subject: q.Subject, Prompt: q.Prompt, Typed: q.Typed, Plate: "", Alt: "", Credit: "", Options: q.Options, Plates: []wire.PlateView{}}
		if q.Typed {
			v.Question.Options = []string{}
		}
		v.Span = s.Span()
	}
	if r.Kind == game.Buzz && v.Question != nil {
		v.Buzz = &wire.BuzzView{Team: s.Holder, Locked: locked, Out: lockedOut(s, "wrong"), Late: lockedOut(s, "late")}
		if i := s.Find(s.Holder); i >= 0 {
			v.Buzz.Name = s.Teams[i].Name
		}
		for _, id := range s.Drawn {
			if i := s.Find(id); i >= 0 {
				v.Buzz.Drawn = append(v.Buzz.Drawn, s.Teams[i].Name)
			}
		}
	}
	if at, running := s.Ends(); running {
		v.Left = max(at-now, 0) - s.Grace() // each team's page adds what the team has
	} else if s.Paused {
		v.Left = s.Deadline
	}
	if s.Phase == game.Revealed {
		v.Reveal = &wire.RevealView{Key: q.Key, Reason: q.Reason, Picks: s.Picks(), Skipped: s.Skipped, Undone: s.Undone}
		if q.Typed {
			v.ShowTyped(q)
			v.Reveal.Others = othersTyped(q, v.Reveal.Picks)
			v.Reveal.Key, v.Reveal.Picks = 0, v.Reveal.Picks[q.Key:q.Key+1]
		}
	}
	return v
}

// lockedOut are the first teams that are so with a verdict, by name.
func lockedOut(s *game.State, verdict string) (names []string) {
	for i := range s.Teams {
		if t := &s.Teams[i]; t.Locked && !t.Removed && t.Verdict == verdict && len(names) < shownNames {
			names = append(names, t.Name)
		}
	}
	return names
}

// shownOthers is how many wrong names of a typed question are told.
const shownOthers = 3

// othersTyped are the wrong names that most teams gave, the most frequent first.
func othersTyped(q *game.Question, picks []int) []wire.TypedView {
	var others []wire.TypedView
	for i, n := range picks {
		if i != q.Key && n > 0 {
			others = append(others, wire.TypedView{Name: q.Options[i], Picks: n})
		}
	}
	slices.SortStableFunc(others, func(a, b wire.TypedView) int { return b.Picks - a.Picks })
	return others[:min(len(others), shownOthers)]
}

// nextQuestion is the one that the host's next step would open.
func nextQuestion(s *game.State) (q game.Question, ok bool) {
	round, number := s.Round, s.Question+1
	switch s.Phase {
	case game.Lobby, game.Ready:
		number = 0
	case game.Break:
		round, number = s.Round+1, 0
	}
	if round < len(s.Plan.Rounds) && s.Plan.Rounds[round].Kind != game.Rotating && number < len(s.Plan.Rounds[round].Questions) {
		return s.Plan.Rounds[round].Questions[number], true
	}
	return q, false
}

// forTeam is what one team alone is told.
func forTeam(s *game.State, team, rank int) wire.You {
	t := &s.Teams[team]
	y := wire.You{Type: "you", Team: t.ID, Name: t.Name, Score: t.Score, Rank: rank, Right: t.Right, Extra: t.Extra,
		Locked: t.Locked, Verdict: t.Verdict, Gained: t.Gained}
	if t.Choice >= 0 {
		y.Option = &t.Choice
	}
	if r, q, ok := s.Current(); ok && r.Kind != game.Rotating {
		y.About = q.ID
		if q.Typed && t.Choice >= 0 {
			y.Answer = q.Options[t.Choice]
			y.Option = typedPlace(s.Phase, t.Choice == q.Key)
		}
	}
	return y
}

// typedPlace is where a typed answer stands among the options shown: at the
// key's, or at none of them. Before the reveal it does not tell which.
func typedPlace(phase game.Phase, right bool) *int {
	place := 0
	if phase == game.Revealed && !right {
		place = 1
	}
	return &place
}
