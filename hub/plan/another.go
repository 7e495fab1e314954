package plan

import (
	"fmt"
	"hash/fnv"
	"slices"

	"fieldsign/game"
	"fieldsign/questions"
	"fieldsign/refusal"
)

// RefuseOldPlan is for questions without their proof.
var RefuseOldPlan = refusal.New(refusal.OldPlan, "An earlier version of Fieldsign planned these questions. Save the plan anew, then change them.")

// Another computes what is asked in a question's place. It follows from the
// plan's seed and from how many questions were taken out of the round before.
func (p *Planner) Another(plan game.Plan, round int, id string) (game.Question, error) {
	bank, err := p.Bank(Played(plan))
	if err != nil {
		return game.Question{}, refusal.New(refusal.BadPlan, err.Error())
	}
	all, ok := QuestionsOf(plan)
	gone, too := QuestionsOf(game.Plan{Rounds: []game.Round{{Questions: plan.Rounds[round].Gone}}})
	if !ok || !too {
		return game.Question{}, RefuseOldPlan
	}
	at, seed := plan.PlaceOf(round, id), plan.Seed+uint64(round)
	first := 0 // of the round among all
	for _, r := range plan.Rounds[:round] {
		first += len(r.Questions)
	}
	var q questions.Question
	if r := plan.Rounds[round]; r.Kind == game.Rotating {
		station := r.StationOf(at)
		from, _ := r.At(station)
		q, err = bank.AnotherAt(p.wishFor(plan, r, 1, seed), StationsOf(r, all[first:])[station], at-from, gone)
	} else {
		q, err = bank.Another(p.wishFor(plan, r, 1, seed), questions.Gap{Before: all[:first+at], After: all[first+at+1:], Old: all[first+at], Gone: gone})
	}
	if err != nil {
		return game.Question{}, refusal.New(refusal.NothingLeft, "This question stays: "+err.Error()+".")
	}
	return asked([]questions.Question{q})[0], nil
}

// setID names a round's questions where the host has chosen them, so that a
// plan can be changed in all else and keep them.
func setID(r game.Round) string {
	if !r.Edited {
		return ""
	}
	h := fnv.New64a()
	for _, q := range r.Questions {
		fmt.Fprintln(h, q.ID)
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// keep gives a round of a plan the questions that the host has chosen before,
// for the same roster, in the same language and resting on as much.
func keep(r *game.Round, set string, plan, now game.Plan) error {
	at := slices.IndexFunc(now.Rounds, func(old game.Round) bool { return setID(old) == set })
	if at < 0 || Played(plan) != Played(now) || plan.NoMemory != now.NoMemory || (r.Kind == game.Rotating) != (now.Rounds[at].Kind == game.Rotating) {
		return refusal.New(refusal.StalePlan, "The chosen questions of a round have changed meanwhile. Reload this page, then change the plan again.")
	}
	old := now.Rounds[at]
	r.Questions, r.Gone, r.Stations, r.Edited = old.Questions, old.Gone, old.Stations, true
	r.Subjects, r.Level, r.Typed, r.Drawings = old.Subjects, old.Level, old.Typed, old.Drawings
	return nil
}
