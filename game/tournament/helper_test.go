package tournament_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"

	"fieldsign/game/tournament"
	"fieldsign/refusal"
)

type tester interface {
	Helper()
	Fatalf(string, ...any)
}

// course plays commands and checks after each what must hold for any.
type course struct {
	t   tester
	s   tournament.State
	log []tournament.Event // as read back from JSON
}

// drawn is a tournament of n whose draw is made.
func drawn(t tester, n int, settings tournament.Settings) *course {
	t.Helper()
	c := entered(t, n, settings)
	c.do(tournament.Command{Type: tournament.Draw})
	return c
}

func entered(t tester, n int, settings tournament.Settings) *course {
	t.Helper()
	c := &course{t: t}
	c.do(tournament.Command{Type: tournament.Create, Name: "Term cup", Code: "otter-den-42", Settings: settings})
	for i := range n {
		c.do(tournament.Command{Type: tournament.Enter, Name: fmt.Sprintf("Team %d", i+1)})
	}
	return c
}

// do plays a command that has to take effect.
func (c *course) do(cmd tournament.Command) tournament.Event {
	c.t.Helper()
	e, err := c.try(cmd)
	if err != nil {
		c.t.Fatalf("%s was refused: %v", cmd.Type, err)
	}
	return e
}

// refused plays a command that has to be refused with a code.
func (c *course) refused(cmd tournament.Command, code string) {
	c.t.Helper()
	_, err := c.try(cmd)
	var r refusal.Refusal
	if !errors.As(err, &r) || string(r.Code) != code || r.Message == "" {
		c.t.Fatalf("%s was answered with %v, want a refusal %s", cmd.Type, err, code)
	}
}

func (c *course) try(cmd tournament.Command) (tournament.Event, error) {
	c.t.Helper()
	if cmd.By == "" {
		cmd.By = "host"
	}
	events, err := tournament.Decide(c.s, cmd)
	if err != nil || len(events) == 0 {
		return tournament.Event{}, err
	}
	if len(events) != 1 || events[0].Seq != c.s.Seq+1 {
		c.t.Fatalf("%s made %v after event %d", cmd.Type, events, c.s.Seq)
	}
	e := c.stored(events[0])
	c.s = tournament.Apply(c.s, e)
	c.log = append(c.log, e)
	return e, nil
}

// stored is an event as it comes back from JSON, which has to be the same.
func (c *course) stored(e tournament.Event) tournament.Event {
	c.t.Helper()
	text, err := json.Marshal(e)
	if err != nil {
		c.t.Fatalf("%v: %v", e, err)
	}
	var read tournament.Event
	if err := json.Unmarshal(text, &read); err != nil {
		c.t.Fatalf("%s: %v", text, err)
	}
	again, _ := json.Marshal(read)
	if string(again) != string(text) {
		c.t.Fatalf("an event changed in JSON:\n%s\n%s", text, again)
	}
	return read
}

// record gives a match a result by its scores; in a bracket the home side wins
// a level one.
func (c *course) record(match, home, away int) {
	c.t.Helper()
	c.do(tournament.Command{Type: tournament.Record, Match: match, Outcome: tournament.Played, Home: home, Away: away,
		Winner: c.s.Matches[match-1].Home.Entrant})
}

func lowerWins(home, away int) (int, int) {
	if home < away {
		return 2, 1
	}
	return 1, 2
}

// playAll plays all matches that are drawn, in their order, as a rule says.
func (c *course) playAll(rule func(home, away int) (int, int)) {
	c.t.Helper()
	for i := 0; i < len(c.s.Matches); i++ {
		if m := c.s.Matches[i]; m.Playable() {
			home, away := rule(m.Home.Entrant, m.Away.Entrant)
			c.record(m.ID, home, away)
		}
	}
}

// same fails unless two sheets are equal.
func (c *course) same(what string, got, want tournament.Sheet) {
	c.t.Helper()
	if !reflect.DeepEqual(got, want) {
		a, _ := json.Marshal(got)
		b, _ := json.Marshal(want)
		c.t.Fatalf("%s:\n%s\nwant\n%s", what, a, b)
	}
}
