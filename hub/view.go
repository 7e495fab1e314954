package hub

import (
	"encoding/json"
	"slices"

	"fieldsign/game"
)

// What each kind of client is shown of a game. The key leaves this file in two
// places: in reveal, after the question has closed, and in the host's copy.
// Station rounds are in stations.go; there it is in specimens alone.

// shownLeaders is how much of the leaderboard a phone gets.
const shownLeaders = 5

// encode never fails on the types of messages.go.
func encode(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return b
}

// public is the state without any audience's additions.
func public(s *game.State, now int64) state {
	teams, answered, locked := s.Playing()
	v := state{Type: "state", Seq: s.Seq, Phase: s.Phase, Paused: s.Paused, Notice: s.Notice,
		Title: s.Plan.Title, Language: s.Plan.Language, Code: s.Code, Teams: teams, Answered: answered, Leaders: []game.Standing{}}
	r, q, ok := s.Current()
	if !ok {
		return v
	}
	v.Round = &roundView{s.Round + 1, len(s.Plan.Rounds), r.Name, r.Kind, len(r.Questions)}
	switch s.Phase {
	case game.Walking, game.Visiting:
		v.Span = s.Span()
	case game.Asking, game.Buzzed, game.Revealed:
		v.Question = &questionView{q.ID, s.Question + 1, q.Subject, q.Prompt, q.Typed, "", "", "", q.Options, []plateView{}}
		if q.Typed {
			v.Question.Options = []string{}
		}
		v.Span = s.Span()
	}
	if r.Kind == game.Buzz && v.Question != nil {
		v.Buzz = &buzzView{Team: s.Holder, Locked: locked}
		if i := s.Find(s.Holder); i >= 0 {
			v.Buzz.Name = s.Teams[i].Name
		}
		for _, id := range s.Drawn {
			if i := s.Find(id); i >= 0 {
				v.Buzz.Drawn = append(v.Buzz.Drawn, s.Teams[i].Name)
			}
		}
	}
	if at, running := s.Wake(); running {
		v.Left = max(at-now, 0) - s.Grace() // each team's page adds what the team has
	} else if s.Paused {
		v.Left = s.Deadline
	}
	if s.Phase == game.Revealed {
		v.Reveal = &revealView{Key: q.Key, Reason: q.Reason, Picks: s.Picks(), Skipped: s.Skipped, Undone: s.Undone}
		if q.Typed {
			v.showTyped(q)
			v.Reveal.Others = othersTyped(q, v.Reveal.Picks)
			v.Reveal.Key, v.Reveal.Picks = 0, v.Reveal.Picks[q.Key:q.Key+1]
		}
	}
	return v
}

// shownOthers is how many wrong names of a typed question are told.
const shownOthers = 3

// othersTyped are the wrong names that most teams gave, the most frequent first.
func othersTyped(q *game.Question, picks []int) []typedView {
	var others []typedView
	for i, n := range picks {
		if i != q.Key && n > 0 {
			others = append(others, typedView{q.Options[i], n})
		}
	}
	slices.SortStableFunc(others, func(a, b typedView) int { return b.Picks - a.Picks })
	return others[:min(len(others), shownOthers)]
}

// showTyped puts the key of a typed question in the place of its options.
func (v *state) showTyped(q *game.Question) {
	question := *v.Question
	question.Options = []string{q.Options[q.Key]}
	v.Question = &question
}

// without leaves the question out for clients that have it.
func (v state) without(question bool) state {
	if question {
		v.Question, v.Same = nil, true
	}
	return v
}

// forPhones, forBoard and forHost complete the public state. The leaderboard is
// shown between rounds and at the end, and sent no more often than that.
func forPhones(v state, standings []game.Standing) state {
	return v.lead(standings[:min(len(standings), shownLeaders)])
}

func (v state) lead(standings []game.Standing) state {
	if v.Phase == game.Break || v.Phase == game.Ended {
		v.Leaders = standings
	}
	return v
}

func forBoard(v state, standings []game.Standing) state {
	if v.Phase == game.Lobby {
		v.Names = make([]string, 0, len(standings))
		for _, st := range standings {
			v.Names = append(v.Names, st.Name)
		}
		return v
	}
	return v.lead(standings)
}

func forHost(v state, s *game.State, standings []game.Standing) state {
	v = v.lead(standings)
	next, _ := nextQuestion(s)
	h := &hostView{Key: -1, CanUndo: len(s.Last) > 0 && !s.Undone, Next: next.Prompt, Seats: seatsOf(s)}
	if _, q, ok := s.Current(); ok && v.Question != nil {
		h.Key, h.Reason = q.Key, q.Reason
		if q.Typed {
			v.showTyped(q)
			h.Key = 0
		}
	}
	v.Host = h
	return v
}

// teamForHost is one of the console's teams.
func teamForHost(s *game.State, team int, online bool) teamView {
	t := &s.Teams[team]
	v := teamView{Team: t.ID, Name: t.Name, Score: t.Score, Right: t.Right, Online: online, Answered: t.Choice >= 0, Locked: t.Locked, Extra: t.Extra}
	if s.AtStations() {
		v.Station, v.Filled = s.Place(team)+1, s.Filled(team)
	}
	return v
}

// nextQuestion is the one that the host's next step would open.
func nextQuestion(s *game.State) (q game.Question, ok bool) {
	round, number := s.Round, s.Question+1
	switch s.Phase {
	case game.Lobby:
		round, number = 0, 0
	case game.Break:
		round, number = s.Round+1, 0
	}
	if round < len(s.Plan.Rounds) && s.Plan.Rounds[round].Kind != game.Rotating && number < len(s.Plan.Rounds[round].Questions) {
		return s.Plan.Rounds[round].Questions[number], true
	}
	return q, false
}

// forTeam is what one team alone is told.
func forTeam(s *game.State, team, rank int) you {
	t := &s.Teams[team]
	y := you{Type: "you", Team: t.ID, Name: t.Name, Score: t.Score, Rank: rank, Right: t.Right, Extra: t.Extra,
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
