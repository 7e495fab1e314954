// Package coach plans a club's season up to its contest: it keeps the coach's
// wish with the season in the store, plans the meetings by game/season, and
// opens a meeting's game. What the games of the season showed comes from the
// season's results, which are the whole club's: nothing here is of a child.
package coach

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"slices"

	"fieldsign/game"
	meetings "fieldsign/game/season"
	"fieldsign/hub/plan"
	"fieldsign/hub/season"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/refusal"
)

// Coach is safe for concurrent use.
type Coach struct {
	Seasons *season.Seasons
	Store   store.Seasons
	Planner *plan.Planner
	Open    func(context.Context, plan.Wish) (code string, err error) // a game in its lobby
	Erase   func(context.Context, ...string) error                    // games, by their codes
	Print   func(planned game.Plan, kind, size string) ([]byte, error)
	Log     *slog.Logger
}

// kept is what is stored of a plan: the wish, and each opened meeting's game by
// its date.
type kept struct {
	Wish  Wish              `json:"wish"`
	Games map[string]string `json:"games"`
	Seed  uint64            `json:"seed,omitempty"` // of the meetings' papers; drawn when the first is printed
}

// planOf is the plan kept with a season; found is false where there is none.
func (c *Coach) planOf(ctx context.Context, id string) (k kept, found bool, err error) {
	s, err := c.Seasons.Kept(ctx, id)
	if errors.Is(err, store.ErrUnknownSeason) || err == nil && s.Plan == "" {
		return k, false, nil
	}
	if err != nil {
		return k, false, err
	}
	return k, true, json.Unmarshal([]byte(s.Plan), &k)
}

// keep changes the plan of a season, which may have none yet.
func (c *Coach) keep(ctx context.Context, id string, how func(*kept)) error {
	var fault error
	err := c.Store.ChangeSeason(ctx, id, func(s *store.Season) {
		k := kept{}
		if fault = nil; s.Plan != "" {
			fault = json.Unmarshal([]byte(s.Plan), &k)
		}
		how(&k)
		if data, err := json.Marshal(k); fault == nil && err == nil {
			s.Plan = string(data)
		}
	})
	return errors.Join(err, fault)
}

// made is a season planned as of a day.
type made struct {
	kept
	today meetings.Day
	wish  meetings.Wish
	held  []meetings.Held
	games map[meetings.Day]string // of the meetings that were opened
	ended map[string][]store.Item
	meetings.Plan
}

// make plans what is left of a season. Meetings before today that were not held
// have been missed.
func (c *Coach) make(ctx context.Context, id string, k kept, today meetings.Day) (made, error) {
	m := made{kept: k, today: today, games: map[meetings.Day]string{}, ended: map[string][]store.Item{}}
	var err error
	if m.wish, err = c.wishOf(k.Wish); err != nil {
		return m, err
	}
	results, err := c.Seasons.Results(ctx, id)
	if err != nil && !errors.Is(err, store.ErrUnknownSeason) {
		return m, err
	}
	m.hear(results)
	past := append(slices.Clone(m.held), meetings.Held{Day: today - 1})
	m.Plan, err = meetings.Make(m.wish, past)
	return m, refused(err)
}

// hear takes over what games have shown: on the day of the meeting that they
// were opened for, else on the date on which they began.
func (m *made) hear(results []store.Result) {
	meant := map[string]meetings.Day{}
	for date, code := range m.Games {
		if day, err := dayOf(date); err == nil {
			meant[code], m.games[day] = day, code
		}
	}
	byDay := map[meetings.Day][]meetings.Answer{}
	for _, r := range results {
		day, planned := meant[r.Game]
		if !planned {
			day, _ = dayOf(r.Date())
		}
		for _, i := range r.Items {
			byDay[day] = append(byDay[day], meetings.Answer{Item: meetings.Item{Animal: i.Animal, Subject: i.Subject}, Right: i.Right, Of: i.Of})
		}
		if len(r.Items) > 0 {
			m.ended[r.Game] = r.Items
		}
	}
	for day, answers := range byDay {
		m.held = append(m.held, meetings.Held{Day: day, Answers: answers})
	}
	slices.SortFunc(m.held, func(a, b meetings.Held) int { return cmp.Compare(a.Day, b.Day) })
}

// refused says of a plan that can't be made what to change.
func refused(err error) error {
	switch {
	case errors.Is(err, meetings.ErrNoMeeting):
		return refusal.New(refusal.BadPlan, "No meeting lies between the first day and the contest: change the dates or the days of the week.")
	case errors.Is(err, meetings.ErrNoTopic):
		return refusal.New(refusal.BadPlan, "The roster has nothing to learn in these subjects: choose others.")
	case err != nil:
		return refusal.New(refusal.BadPlan, err.Error())
	}
	return nil
}

// wishOf is the wish in the terms of game/season.
func (c *Coach) wishOf(w Wish) (meetings.Wish, error) {
	out, err := w.calendar()
	if err != nil {
		return out, err
	}
	bank, err := c.Planner.Bank(plan.InLanguage{Roster: w.Roster, Language: w.language()})
	if err != nil {
		return out, refusal.New(refusal.BadPlan, err.Error())
	}
	roster, err := c.Planner.Catalogue.Roster(w.Roster)
	if err != nil {
		return out, refusal.New(refusal.BadPlan, err.Error())
	}
	double := map[string]bool{}
	for _, name := range w.Double {
		s, known := c.Planner.Catalogue.Find(name)
		if !known {
			return out, bad("No animal is called %s.", refusal.Quote(name))
		}
		double[s.Name] = true
	}
	weight := map[bool]float64{false: 1, true: 2}
	for _, animal := range roster.Of("animal") {
		for _, subject := range w.Subjects {
			if slices.Contains(roster.Of(subject), animal) {
				out.Topics = append(out.Topics, meetings.Topic{Item: meetings.Item{Animal: animal, Subject: subject}, Weight: weight[double[animal]]})
			}
		}
	}
	out.Alike = alikeIn(bank, out.Topics)
	return out, nil
}

// alikeIn pairs each animal with the one most like it by each subject.
func alikeIn(bank *questions.Bank, topics []meetings.Topic) (pairs []meetings.Pair) {
	seen := map[meetings.Pair]bool{}
	for _, t := range topics {
		near, err := bank.Lookalikes(t.Animal, t.Subject, 1)
		if err != nil || len(near) == 0 {
			continue
		}
		a, b := t.Animal, near[0].Species.Name
		p := meetings.Pair{A: min(a, b), B: max(a, b), Subject: t.Subject}
		if !seen[p] {
			pairs = append(pairs, p)
		}
		seen[p] = true
	}
	return pairs
}

// open makes the game of the next meeting, or finds the one that was made. Where
// another press was quicker, its game is the meeting's, and this one's is erased.
func (c *Coach) open(ctx context.Context, id, date string, today meetings.Day) (string, error) {
	k, found, err := c.planOf(ctx, id)
	if err != nil {
		return "", err
	}
	if code := k.Games[date]; code != "" {
		return code, nil
	}
	day, err := dayOf(date)
	if !found || err != nil {
		return "", errNoMeeting
	}
	m, err := c.make(ctx, id, k, today)
	if err != nil {
		return "", err
	}
	if len(m.Agendas) == 0 || m.Agendas[0].Day != day {
		return "", errNoMeeting
	}
	code, err := c.Open(ctx, k.Wish.game(id, m.Agendas[0]))
	if err != nil {
		return "", err
	}
	settled := code // for the meeting
	err = c.keep(ctx, id, func(k *kept) {
		if k.Games == nil {
			k.Games = map[string]string{}
		}
		settled = cmp.Or(k.Games[date], code)
		k.Games[date] = settled
	})
	if settled != code {
		err = errors.Join(err, c.Erase(ctx, code))
	}
	return settled, err
}

var errNoMeeting = refusal.New(refusal.BadPlan, "Only the next meeting can be opened: what comes after it follows from what it shows. Reload the page.")
