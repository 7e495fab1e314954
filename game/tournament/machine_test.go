package tournament_test

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/game/tournament"
)

var formats = []tournament.Format{tournament.Double, tournament.Swiss, tournament.Single, tournament.Pools, tournament.RoundRobin}

func anySettings(t *rapid.T, n int) tournament.Settings {
	s := tournament.Settings{
		Format: rapid.SampledFrom(formats).Draw(t, "format"),
		Seed:   rapid.Uint64().Draw(t, "seed"), Lots: rapid.Bool().Draw(t, "lots"),
		Twice: rapid.Bool().Draw(t, "twice"), Third: rapid.Bool().Draw(t, "third"),
	}
	switch s.Format {
	case tournament.Swiss:
		s.Rounds = rapid.IntRange(0, n-1).Draw(t, "rounds")
	case tournament.Pools:
		s.Pools = rapid.IntRange(2, max(2, n/2)).Draw(t, "pools")
		s.Advance = rapid.IntRange(1, max(1, n/s.Pools)).Draw(t, "advance")
		s.Then = rapid.SampledFrom([]tournament.Format{tournament.Double, tournament.Single}).Draw(t, "then")
	}
	return s
}

// TestAnyCourse plays random commands, sensible ones and not, on random
// tournaments, then plays them to their ends.
func TestAnyCourse(t *testing.T) {
	seen := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 17).Draw(t, "entrants")
		c := entered(t, n, anySettings(t, n))
		for range rapid.IntRange(0, 3).Draw(t, "before the draw") {
			c.step(anyCommand(t, &c.s))
		}
		c.try(tournament.Command{Type: tournament.Draw})
		for range rapid.IntRange(0, 60).Draw(t, "steps") {
			c.step(anyCommand(t, &c.s))
		}
		c.toTheEnd()
		c.promises()
		c.replays()
		for _, e := range c.log {
			seen[e.Type] = true
		}
	})
	for _, kind := range []string{tournament.Created, tournament.Entered, tournament.Renamed, tournament.Withdrew, tournament.Reseeded,
		tournament.Drawn, tournament.Paired, tournament.Advanced, tournament.Started, tournament.Recorded, tournament.Corrected,
		tournament.Settled, tournament.Finished, tournament.Undone, tournament.Redone, tournament.Arranged, tournament.Seated, tournament.Freed} {
		if !seen[kind] && !t.Failed() {
			t.Errorf("no course had a %q event: the commands are too tame", kind)
		}
	}
}

func anyCommand(t *rapid.T, s *tournament.State) tournament.Command {
	kinds := []string{tournament.Record, tournament.Record, tournament.Next, tournament.Record, tournament.Correct, tournament.Undo,
		tournament.Start, tournament.Withdraw, tournament.SettleTie, tournament.Rename, tournament.Enter, tournament.Reseed,
		tournament.Finish, tournament.Draw, "dance", tournament.Redo, tournament.Correct, tournament.Record,
		tournament.Boards, tournament.Sit, tournament.Stand}
	c := tournament.Command{Type: rapid.SampledFrom(kinds).Draw(t, "type"), ID: rapid.SampledFrom([]string{"", "", "1", "2"}).Draw(t, "id")}
	c.Entrant = rapid.IntRange(0, len(s.Entrants)+1).Draw(t, "entrant")
	switch c.Type {
	case tournament.Boards:
		c.Boards = rapid.IntRange(0, 4).Draw(t, "boards")
	case tournament.Sit:
		c.Secret = rapid.SampledFrom(secrets).Draw(t, "secret")
	case tournament.Stand:
		c.Secret = rapid.SampledFrom(append([]string{""}, secrets...)).Draw(t, "secret")
		if sitting := slices.Sorted(maps.Keys(s.Phones)); len(sitting) > 0 {
			c.Entrant = rapid.SampledFrom(sitting).Draw(t, "sitting")
		}
	case tournament.Rename, tournament.Enter:
		c.Name = rapid.SampledFrom([]string{"Team 1", "Otters", "<b>", "", "Voles"}).Draw(t, "name")
	case tournament.Reseed:
		c.Order = rapid.Permutation(s.Order).Draw(t, "order")
	case tournament.SettleTie:
		for _, group := range s.Level() {
			c.Order = rapid.Permutation(group).Draw(t, "order")
			break
		}
	case tournament.Finish:
		c.Early = rapid.IntRange(0, 9).Draw(t, "early") == 7
	case tournament.Start, tournament.Record, tournament.Correct:
		aMatch(t, s, &c)
	}
	return c
}

func aMatch(t *rapid.T, s *tournament.State, c *tournament.Command) {
	c.Match = rapid.IntRange(0, len(s.Matches)+1).Draw(t, "match")
	if ready := s.Ready(); len(ready) > 0 && c.Type != tournament.Correct {
		c.Match = rapid.SampledFrom(ready).Draw(t, "ready")
	}
	c.Game = rapid.SampledFrom([]string{"elk-1", "elk-2", "elk-3", ""}).Draw(t, "game")
	c.Outcome = rapid.SampledFrom([]tournament.Outcome{tournament.Played, tournament.Played, tournament.Forfeit, tournament.Walkover,
		tournament.Open, tournament.Bye}).Draw(t, "outcome")
	c.Home, c.Away = rapid.IntRange(-1, 2).Draw(t, "home"), rapid.IntRange(-1, 2).Draw(t, "away")
	if c.Match >= 1 && c.Match <= len(s.Matches) {
		m := s.Matches[c.Match-1]
		c.Winner = rapid.SampledFrom([]int{m.Home.Entrant, m.Away.Entrant, 0, 99}).Draw(t, "winner")
	}
}

// step tries a command and checks all that has to hold after it.
func (c *course) step(cmd tournament.Command) {
	c.t.Helper()
	before := c.s.Clone()
	e, err := c.try(cmd)
	if err != nil {
		if !reflect.DeepEqual(c.s, before) {
			c.t.Fatalf("%s was refused and changed the state", cmd.Type)
		}
		return
	}
	if cmd.ID != "" {
		if again, err := c.try(cmd); err != nil || again.Type != "" {
			c.t.Fatalf("%s took effect twice: %v, %v", cmd.Type, again, err)
		}
	}
	if e.Type == "" {
		return
	}
	c.sound()
	if slices.Contains([]string{tournament.Undone, tournament.Redone, tournament.Seated, tournament.Freed}, e.Type) {
		return
	}
	after := c.s.Clone()
	c.do(tournament.Command{Type: tournament.Undo})
	c.same("undo of "+e.Type, c.s.Sheet, before.Sheet)
	c.do(tournament.Command{Type: tournament.Redo})
	c.same("redo of "+e.Type, c.s.Sheet, after.Sheet)
	if e.Type == tournament.Paired {
		checkSmallPairing(c.t, &before.Sheet, e)
	}
}

// checkSmallPairing leaves out what would take too long to try.
func checkSmallPairing(t tester, before *tournament.Sheet, e tournament.Event) {
	if len(e.Pairs) <= 4 {
		checkPairing(t, before, e)
	}
}

// sound checks a sheet by itself.
func (c *course) sound() {
	c.t.Helper()
	running := map[int]int{}
	for i, m := range c.s.Matches {
		if m.ID != i+1 || m.Home.From >= m.ID || m.Away.From >= m.ID {
			c.t.Fatalf("match %d is out of order: %+v", i+1, m)
		}
		if m.Home.Entrant > 0 && m.Home.Entrant == m.Away.Entrant {
			c.t.Fatalf("%+v meets itself", m)
		}
		if m.Done() && (m.Home.Entrant == 0 || m.Away.Entrant == 0 || m.Result.Winner > 0 && !m.Has(m.Result.Winner)) {
			c.t.Fatalf("%+v has a result that can't be", m)
		}
		if m.Running() {
			running[m.Home.Entrant]++
			running[m.Away.Entrant]++
		}
	}
	for e, n := range running {
		if n > 1 {
			c.t.Fatalf("%d plays %d matches at once", e, n)
		}
	}
	c.called()
	c.eliminated()
	c.ranked()
}

// called checks that all who play are at a place, nobody at two of them, and no
// board is idle for no reason.
func (c *course) called() {
	c.t.Helper()
	if c.s.Phase != tournament.Play {
		return
	}
	here := map[int]bool{}
	for i, id := range c.s.At {
		if id == 0 && (i < c.s.InUse() || i < len(c.s.At)-1) {
			continue // a free board, or the place behind them of a match that has ended
		}
		m := c.s.Matches[id-1]
		if !m.Playable() || here[m.Home.Entrant] || here[m.Away.Entrant] || i >= c.s.InUse() && !m.Running() {
			c.t.Fatalf("at %d boards are the matches %v: %+v", c.s.InUse(), c.s.At, m)
		}
		here[m.Home.Entrant], here[m.Away.Entrant] = true, true
	}
	for _, m := range c.s.Matches {
		if m.Running() && !slices.Contains(c.s.At, m.ID) {
			c.t.Fatalf("match %d is played nowhere: %v", m.ID, c.s.At)
		}
	}
	for _, id := range c.s.Ready() {
		if !slices.Contains(c.s.At, id) && slices.Contains(c.s.At[:c.s.InUse()], 0) {
			c.t.Fatalf("match %d is ready and a board is free: %v", id, c.s.At)
		}
	}
}

// losses counts what takes an entrant out of the bracket.
func (c *course) losses() map[int]int {
	lost := map[int]int{}
	if c.s.Bracket == 0 {
		return lost
	}
	for _, m := range c.s.Matches[c.s.Bracket-1:] {
		real := m.Home.Entrant > 0 && m.Away.Entrant > 0
		if !real || !m.Done() || m.Part == tournament.Third {
			continue
		}
		for _, e := range []int{m.Home.Entrant, m.Away.Entrant} {
			if m.Result.Winner != e {
				lost[e]++
			}
		}
	}
	return lost
}

// eliminated checks that one loss, or two, and nothing else puts out.
func (c *course) eliminated() {
	c.t.Helper()
	format := c.s.Settings.Format
	if format == tournament.Pools {
		format = c.s.Settings.Then
	}
	out := map[tournament.Format]int{tournament.Single: 1, tournament.Double: 2}[format]
	if c.s.Bracket == 0 {
		return
	}
	lost, third := c.losses(), map[int]bool{}
	for _, m := range c.s.Matches {
		if m.Part == tournament.Third {
			third[m.Home.Entrant], third[m.Away.Entrant] = true, true
		}
	}
	tables := c.s.Tables()
	for _, row := range tables[len(tables)-1].Rows {
		switch {
		case row.Withdrawn:
		case lost[row.Entrant] > out:
			c.t.Fatalf("%d has lost %d times", row.Entrant, lost[row.Entrant])
		case row.In == (lost[row.Entrant] == out) && !third[row.Entrant]:
			c.t.Fatalf("%d has lost %d times, and in is %v", row.Entrant, lost[row.Entrant], row.In)
		}
	}
}

// ranked checks that every entrant of the draw stands in the tables once.
func (c *course) ranked() {
	c.t.Helper()
	if c.s.Phase == tournament.Entry {
		return
	}
	seen := map[int]bool{}
	rows := c.s.Standings()
	for i, r := range rows {
		if seen[r.Entrant] || (r.Rank != i+1 && r.Rank != 0 && (i == 0 || r.Rank != rows[i-1].Rank)) {
			c.t.Fatalf("line %d of %d: %+v", i+1, len(rows), r)
		}
		seen[r.Entrant] = true
	}
	if len(c.s.Matches) > 0 && len(seen) != len(c.s.Order) {
		c.t.Fatalf("%d of %d are ranked", len(seen), len(c.s.Order))
	}
	forecast := c.s.Remaining(2, 10)
	if forecast.Minutes != 10*forecast.Waves || forecast.Matches > 2*forecast.Waves {
		c.t.Fatalf("the forecast is %+v", forecast)
	}
}

// toTheEnd plays a tournament until there is nothing left to do.
func (c *course) toTheEnd() {
	c.t.Helper()
	if c.s.Phase != tournament.Play {
		return
	}
	for range 1000 {
		c.playAll(func(home, away int) (int, int) { return home * 7 % 5, away * 7 % 5 })
		for _, group := range c.s.Level() {
			if _, err := c.try(tournament.Command{Type: tournament.SettleTie, Order: group}); err != nil {
				break
			}
		}
		if _, err := c.try(tournament.Command{Type: tournament.Next}); err != nil {
			break
		}
	}
	c.sound()
	if f := c.s.Remaining(1, 1); f.Matches != 0 && c.s.Settings.Format != tournament.Swiss {
		c.t.Fatalf("all is played, and %+v remain", f)
	}
}

// promises checks that everybody has had what the format promises, as far as
// nobody has withdrawn.
func (c *course) promises() {
	c.t.Helper()
	if c.s.Phase != tournament.Play {
		return
	}
	had := map[tournament.Part]map[int]int{}
	real := 0
	for _, m := range c.s.Matches {
		if m.Home.Entrant > 0 && m.Away.Entrant > 0 && m.Part != tournament.Third {
			real++
		}
		if had[m.Part] == nil {
			had[m.Part] = map[int]int{}
		}
		had[m.Part][m.Home.Entrant]++
		had[m.Part][m.Away.Entrant]++
	}
	n, cycles := len(c.s.Order), 1
	if c.s.Settings.Twice {
		cycles = 2
	}
	for _, e := range c.s.Order {
		entrant := c.s.Entrants[e-1]
		switch {
		case c.s.Settings.Format == tournament.RoundRobin && had[tournament.Table][e] != (n-1)*cycles,
			c.s.Settings.Format == tournament.Swiss && !entrant.Withdrawn && c.s.Champion() > 0 && had[tournament.Round][e] != c.s.Rounds():
			c.t.Fatalf("%d had %v", e, had)
		}
	}
	switch c.s.Settings.Format {
	case tournament.Single:
		c.count(real, n-1, n-1)
	case tournament.Double:
		c.count(real, 2*n-2, 2*n-1)
	}
}

// count checks a bracket's number of matches; withdrawals may leave some out.
func (c *course) count(got, least, most int) {
	c.t.Helper()
	for _, e := range c.s.Order {
		if c.s.Entrants[e-1].Withdrawn {
			least = 0
		}
	}
	if got < least || got > most || least > 0 && c.s.Champion() == 0 {
		c.t.Fatalf("%d matches between two, want %d to %d; the champion is %d", got, least, most, c.s.Champion())
	}
}

// replays checks that the stored log gives the same state.
func (c *course) replays() {
	c.t.Helper()
	if err := check(c.log); err != nil {
		c.t.Fatalf("what Decide made does not fit: %v", err)
	}
	if again := tournament.Replay(c.log); !reflect.DeepEqual(again, c.s) {
		c.t.Fatalf("the log gives another state:\n%s\nwant\n%s", fmt.Sprintf("%+v", again), fmt.Sprintf("%+v", c.s))
	}
}
