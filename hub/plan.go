package hub

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"

	"fieldsign/game"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// planner turns the host's wishes into a plan with its questions.
// It is safe for concurrent use.
type planner struct {
	catalogue *catalogue.Catalogue
	mu        sync.Mutex
	banks     map[string]*questions.Bank // by roster
}

func (p *planner) bank(name string) (*questions.Bank, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if b := p.banks[name]; b != nil {
		return b, nil
	}
	roster, err := p.catalogue.Roster(name)
	if err != nil {
		return nil, err
	}
	p.banks[name] = questions.NewBank(p.catalogue, roster)
	return p.banks[name], nil
}

// plan computes the questions. A wish without a seed gets one by chance.
func (p *planner) plan(w planWish) (game.Plan, error) {
	bank, err := p.bank(w.Roster)
	if err != nil {
		return game.Plan{}, game.Refusal{Code: "bad_plan", Message: err.Error()}
	}
	if w.Seed == 0 {
		w.Seed = rand.Uint64N(1_000_000) + 1
	}
	plan := game.Plan{Title: w.Title, Roster: w.Roster, Seed: w.Seed}
	for i, r := range w.Rounds {
		if r.Count < 1 || r.Count > 200 {
			return plan, game.Refusal{Code: "bad_plan", Message: fmt.Sprintf("Round %d: there are 1 to 200 questions, not %d.", i+1, r.Count)}
		}
		set, err := bank.Set(questions.Wish{Subjects: r.Subjects, Count: r.Count, Seed: w.Seed + uint64(i), Difficulty: r.Difficulty})
		if err != nil {
			return plan, game.Refusal{Code: "bad_plan", Message: fmt.Sprintf("Round %d: %v", i+1, err)}
		}
		plan.Rounds = append(plan.Rounds, game.Round{Name: r.Name, Kind: r.Kind, Subjects: r.Subjects, Level: r.Difficulty,
			Seconds: r.Seconds, Points: r.Points, Speed: r.Speed, Penalty: r.Penalty, Questions: asked(set)})
	}
	return plan, nil
}

func asked(set []questions.Question) []game.Question {
	var out []game.Question
	for _, q := range set {
		g := game.Question{ID: q.ID, Subject: q.Subject, Prompt: q.Prompt, Key: q.Key, Reason: q.Reason}
		for _, o := range q.Options {
			g.Options = append(g.Options, o.Text)
		}
		out = append(out, g)
	}
	return out
}

// wishOf is the wish that a plan came from, for the host's form.
func wishOf(p game.Plan) planWish {
	w := planWish{p.Title, p.Roster, p.Seed, []roundWish{}}
	for _, r := range p.Rounds {
		w.Rounds = append(w.Rounds, roundWish{r.Name, r.Kind, r.Subjects, len(r.Questions), r.Seconds, r.Points, r.Speed, r.Penalty, r.Level})
	}
	return w
}

// firstPlan is the plan that a new game starts with.
func firstPlan(roster string) planWish {
	return planWish{Title: "Review round", Roster: roster, Rounds: []roundWish{
		{"Skulls, tracks and scat", game.Open, []string{"skull", "track", "scat"}, 8, 30, 100, 50, 0, 0},
		{"First to buzz", game.Buzz, []string{"skull", "track", "scat"}, 6, 30, 100, 0, 0, 0},
	}}
}

// asRefusal is the one place where an error becomes what a client is told.
func asRefusal(id string, err error) refused {
	var r game.Refusal
	if errors.As(err, &r) {
		return refused{"refused", id, r.Code, r.Message}
	}
	return refused{"refused", id, "not_stored", "The hub could not keep this, so nothing was changed. Try again; if it goes on, look at the hub's log."}
}
