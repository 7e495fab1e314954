package tournament_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fieldsign/game/tournament"
)

// A correction that leaves the winner keeps all that follows; one that changes
// it takes the final's result, and undo brings that back.
func TestCorrectionInABracket(t *testing.T) {
	c := drawn(t, 4, tournament.Settings{Format: tournament.Single})
	c.playAll(lowerWins)
	before := c.s.Clone()
	correct := func(home, away int) tournament.Event {
		return c.do(tournament.Command{Type: tournament.Correct, Match: 1, Outcome: tournament.Played, Home: home, Away: away})
	}
	if e := correct(9, 3); len(e.Voided) > 0 || !c.s.Matches[2].Done() {
		t.Errorf("the winner stayed, and %v are void", e.Voided)
	}
	if e := correct(3, 9); !slices.Equal(e.Voided, []int{3}) {
		t.Errorf("void are %v, want the final", e.Voided)
	}
	if m := c.s.Matches[2]; m.Done() || m.Home.Entrant != 4 || m.Away.Entrant != 2 || c.s.Champion() != 0 {
		t.Errorf("the final is %+v, the champion %d", m, c.s.Champion())
	}
	c.do(tournament.Command{Type: tournament.Undo})
	c.do(tournament.Command{Type: tournament.Undo})
	c.same("two corrections undone", c.s.Sheet, before.Sheet)
}

// A match that is being played loses its game when one of its sides changes;
// one for whom nothing changes keeps it.
func TestCorrectionBreaksOffAGame(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Single})
	for id := 1; id <= 4; id++ {
		c.record(id, 2, 1)
	}
	c.do(tournament.Command{Type: tournament.Start, Match: 5, Game: "elk-1"})
	c.do(tournament.Command{Type: tournament.Start, Match: 6, Game: "elk-2"})
	e := c.do(tournament.Command{Type: tournament.Correct, Match: 1, Outcome: tournament.Open})
	if !slices.Equal(e.Voided, []int{5}) || c.s.Matches[4].Game != "" || c.s.Matches[5].Game != "elk-2" {
		t.Errorf("void are %v; the games are %q and %q", e.Voided, c.s.Matches[4].Game, c.s.Matches[5].Game)
	}
}

func TestSecondFinal(t *testing.T) {
	c := drawn(t, 2, tournament.Settings{Format: tournament.Double})
	c.record(1, 2, 1)
	c.record(2, 1, 2) // the one with a loss wins the final
	if m := c.s.Matches[2]; m.Part != tournament.Reset || !m.Playable() || c.s.Champion() != 0 {
		t.Fatalf("the second final is %+v", m)
	}
	c.record(3, 1, 2)
	if c.s.Champion() != 2 {
		t.Errorf("the champion is %d", c.s.Champion())
	}
	e := c.do(tournament.Command{Type: tournament.Correct, Match: 2, Outcome: tournament.Played, Home: 2, Away: 1})
	if m := c.s.Matches[2]; m.Result.Outcome != tournament.Unneeded || !slices.Equal(e.Voided, []int{3}) || c.s.Champion() != 1 {
		t.Errorf("after the correction the second final is %+v, void are %v", m, e.Voided)
	}
}

func TestThirdPlace(t *testing.T) {
	c := drawn(t, 4, tournament.Settings{Format: tournament.Single, Third: true})
	c.playAll(lowerWins)
	if got := places(c.s.Standings()); got != "1:1 2:2 3:3 4:4" {
		t.Errorf("places %s", got)
	}
	c = drawn(t, 4, tournament.Settings{Format: tournament.Single})
	c.playAll(lowerWins)
	if got := places(c.s.Standings()); got != "1:1 2:2 3:3 3:4" {
		t.Errorf("places without a match for the third are %s", got)
	}
}

func places(rows []tournament.Standing) string {
	var out []string
	for _, r := range rows {
		out = append(out, fmt.Sprintf("%d:%d", r.Rank, r.Entrant))
	}
	return strings.Join(out, " ")
}

// In a round robin of five everybody has four matches. One result is fewer than
// half: it is annulled. Two are half: they stand.
func TestWithdrawalFromARoundRobin(t *testing.T) {
	for results, annulled := range map[int]bool{1: true, 2: false} {
		c := drawn(t, 5, tournament.Settings{Format: tournament.RoundRobin})
		played := 0
		for _, m := range c.s.Matches {
			if m.Has(5) && played < results {
				c.record(m.ID, 1, 1)
				played++
			}
		}
		c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 5})
		c.playAll(lowerWins)
		rows := c.s.Standings()
		last := rows[len(rows)-1]
		if last.Entrant != 5 || last.Annulled != annulled || !last.Withdrawn || (last.Rank == 0) != annulled {
			t.Errorf("%d results: %+v", results, last)
		}
		if want := map[bool]int{true: 3, false: 4}[annulled]; rows[0].Played != want {
			t.Errorf("%d results: the first has %d matches, want %d", results, rows[0].Played, want)
		}
	}
}

func TestWithdrawalFromABracket(t *testing.T) {
	c := drawn(t, 4, tournament.Settings{Format: tournament.Double})
	c.record(1, 2, 1)
	c.record(2, 2, 1)
	c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 1})
	c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 4})
	c.playAll(lowerWins)
	if c.s.Champion() != 2 || places(c.s.Standings())[:3] != "1:2" {
		t.Errorf("the champion is %d: %s", c.s.Champion(), places(c.s.Standings()))
	}
	for _, m := range c.s.Matches {
		if m.Has(1) && m.ID > 1 && (m.Result.Outcome != tournament.Forfeit || !m.Result.Auto) {
			t.Errorf("%+v", m)
		}
	}
}

// Three beat each other in a circle, and each beats the fourth: only the points
// ratio parts them, and where that is level too, a play-off.
func TestTieBreaks(t *testing.T) {
	c := drawn(t, 4, tournament.Settings{Format: tournament.RoundRobin})
	scores := map[[2]int][2]int{{1, 4}: {5, 0}, {2, 3}: {2, 1}, {1, 2}: {2, 1}, {3, 4}: {2, 0}, {2, 4}: {3, 0}, {1, 3}: {1, 2}}
	for i := range c.s.Matches {
		m := c.s.Matches[i]
		a, b := m.Home.Entrant, m.Away.Entrant
		if s, ok := scores[[2]int{a, b}]; ok {
			c.record(m.ID, s[0], s[1])
		} else {
			s := scores[[2]int{b, a}]
			c.record(m.ID, s[1], s[0])
		}
	}
	rows := c.s.Standings()
	if got := places(rows); got != "1:1 2:2 3:3 4:4" || rows[1].By != "points ratio" || rows[3].By != "points" || rows[0].By != "" {
		t.Errorf("%s, parted by %q, %q, %q", got, rows[1].By, rows[2].By, rows[3].By)
	}
	if r := rows[0]; r.Points != 2 || r.SonnebornBerger != 2 || r.Ratio != 8.0/11 {
		t.Errorf("first is %+v", r)
	}
	for i := range c.s.Matches { // now the circle is level in scores, too
		m := c.s.Matches[i]
		home, away := 2, 1
		if m.Result.Winner == m.Away.Entrant {
			home, away = away, home
		}
		c.do(tournament.Command{Type: tournament.Correct, Match: m.ID, Outcome: tournament.Played, Home: home, Away: away})
	}
	if rows := c.s.Standings(); places(rows) != "1:1 1:2 1:3 4:4" || !rows[0].Level || rows[3].Level || c.s.Champion() != 0 {
		t.Errorf("%+v", rows)
	}
	c.refused(tournament.Command{Type: tournament.SettleTie, Order: []int{3, 1}}, "no_tie")
	c.do(tournament.Command{Type: tournament.SettleTie, Order: []int{3, 1, 2}})
	if rows := c.s.Standings(); places(rows) != "1:3 2:1 3:2 4:4" || rows[1].By != "play-off" || c.s.Champion() != 3 {
		t.Errorf("%+v", rows)
	}
}

// 1 and 2 are level, and so are 3 and 4: who won their match comes before all
// else.
func TestHeadToHead(t *testing.T) {
	c := drawn(t, 4, tournament.Settings{Format: tournament.RoundRobin})
	for i := range c.s.Matches {
		m := c.s.Matches[i]
		home, away := lowerWins(m.Home.Entrant, m.Away.Entrant)
		if m.Has(1) && m.Has(2) {
			home, away = away, home
		}
		if m.Has(2) && m.Has(4) {
			home, away = away, home
		}
		if m.Has(1) {
			home, away = 10*home, 10*away
		}
		c.record(m.ID, home, away)
	}
	rows := c.s.Standings()
	if got := places(rows); got != "1:2 2:1 3:3 4:4" || rows[1].By != "head to head" {
		t.Errorf("%s, the second by %q", got, rows[1].By)
	}
	if rows[2].By != "points" || rows[3].By != "head to head" {
		t.Errorf("the third is parted by %q, the fourth by %q", rows[2].By, rows[3].By)
	}
}

// Four are level. Head to head makes two pairs of them, and asked again parts
// each pair, although the points ratio says otherwise.
func TestHeadToHeadIsAskedAgain(t *testing.T) {
	c := drawn(t, 6, tournament.Settings{Format: tournament.RoundRobin})
	winners := map[[2]int]bool{{1, 2}: true, {3, 1}: true, {4, 1}: true, {2, 3}: true, {4, 2}: true, {3, 4}: true,
		{1, 5}: true, {1, 6}: true, {2, 5}: true, {2, 6}: true, {3, 5}: true, {6, 3}: true, {4, 5}: true, {6, 4}: true, {5, 6}: true}
	for i := range c.s.Matches {
		m := c.s.Matches[i]
		home, away := 1, 2
		if winners[[2]int{m.Home.Entrant, m.Away.Entrant}] {
			home, away = away, home
		}
		if m.Has(5) && (m.Has(2) || m.Has(4)) {
			home, away = home*home*home, away*away*away
		}
		c.record(m.ID, home, away)
	}
	rows := c.s.Standings()
	if got := places(rows); got != "1:3 2:4 3:1 4:2 5:6 6:5" || rows[1].By != "head to head" || rows[3].By != "head to head" {
		t.Errorf("%s, parted by %q and %q", got, rows[1].By, rows[3].By)
	}
}

// Buchholz counts opponents' points, and one's own for a bye or a walkover.
// After two rounds 1 has beaten 3 and 2; 2 has beaten 4; 5 had the bye and beat
// 3 by walkover; 4 had the second bye.
func TestBuchholz(t *testing.T) {
	c := drawn(t, 5, tournament.Settings{Format: tournament.Swiss, Rounds: 2})
	c.playAll(lowerWins)
	c.do(tournament.Command{Type: tournament.Next})
	for i := range c.s.Matches {
		if m := c.s.Matches[i]; m.Playable() && m.Has(5) {
			c.do(tournament.Command{Type: tournament.Record, Match: m.ID, Outcome: tournament.Walkover, Winner: 5})
		}
	}
	c.playAll(lowerWins)
	var got []string
	for _, r := range c.s.Standings() {
		got = append(got, fmt.Sprintf("%d: %v points, %v, %v", r.Entrant, r.Points, r.Buchholz, r.SonnebornBerger))
	}
	want := "5: 2 points, 4, 4; 1: 2 points, 1, 1; 2: 1 points, 3, 1; 4: 1 points, 2, 1; 3: 0 points, 2, 0"
	if strings.Join(got, "; ") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, "; "), want)
	}
}

// Two are level for the last place that goes on: the bracket waits for a
// play-off. Correcting a pool's result afterwards changes who plays the bracket
// and keeps the matches it does not touch.
func TestPoolsThenBracket(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Pools, Pools: 2, Advance: 2, Then: tournament.Single})
	c.refused(tournament.Command{Type: tournament.Next}, "open_matches")
	level := func(home, away int) (int, int) { return 1, 1 }
	c.playAll(level)
	c.refused(tournament.Command{Type: tournament.Next}, "tie")
	for _, group := range c.s.GoingOn().Level {
		c.do(tournament.Command{Type: tournament.SettleTie, Order: group})
	}
	c.do(tournament.Command{Type: tournament.Next})
	if got := fmt.Sprint(c.s.Field); got != "[1 2 4 3]" {
		t.Fatalf("the field is %s; pool A is 1 4 5 8, B is 2 3 6 7", got)
	}
	c.playAll(lowerWins)
	for _, m := range c.s.Matches {
		if m.Has(5) && m.Has(4) { // 5 comes before all others of its pool by this win
			home, away := lowerWins(-m.Home.Entrant, -m.Away.Entrant)
			e := c.do(tournament.Command{Type: tournament.Correct, Match: m.ID, Outcome: tournament.Played, Home: home, Away: away})
			if got := fmt.Sprint(e.Field); got != "[5 2 1 3]" {
				t.Errorf("the new field is %s", got)
			}
			if len(e.Voided) != 3 {
				t.Errorf("void are %v", e.Voided)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	c := &course{t: t}
	c.refused(tournament.Command{Type: tournament.Draw}, "no_tournament")
	bad := func(s tournament.Settings) {
		t.Helper()
		c.refused(tournament.Command{Type: tournament.Create, Settings: s}, "bad_settings")
	}
	bad(tournament.Settings{Format: "ladder"})
	bad(tournament.Settings{Format: tournament.Swiss, Rounds: -1})
	bad(tournament.Settings{Format: tournament.Pools, Pools: 1, Advance: 1, Then: tournament.Single})
	bad(tournament.Settings{Format: tournament.Pools, Pools: 2, Advance: 1, Then: tournament.Swiss})
	c.refused(tournament.Command{Type: tournament.Create, Name: strings.Repeat("x", 61), Settings: tournament.Settings{Format: tournament.Single}}, "bad_plan")
	c.do(tournament.Command{Type: tournament.Create, Settings: tournament.Settings{Format: tournament.Single}})
	c.refused(tournament.Command{Type: tournament.Create}, "not_now")
	c.refused(tournament.Command{Type: tournament.Draw}, "too_few")
	c.refused(tournament.Command{Type: tournament.Undo}, "nothing_to_undo")
	c.refused(tournament.Command{Type: tournament.Redo}, "nothing_to_redo")
	c.refused(tournament.Command{Type: tournament.Enter, Name: "<b>"}, "bad_name")
	c.do(tournament.Command{Type: tournament.Enter, Name: "Otters"})
	c.refused(tournament.Command{Type: tournament.Enter, Name: " OTTERS"}, "name_taken")
	c.refused(tournament.Command{Type: tournament.Enter, Name: "\u041etters"}, "name_taken") // to the eye
	c.do(tournament.Command{Type: tournament.Enter, Name: "Voles"})
	c.refused(tournament.Command{Type: tournament.Reseed, Order: []int{1, 1}}, "bad_seeding")
	c.refused(tournament.Command{Type: tournament.Record, Match: 1}, "not_now")
	c.do(tournament.Command{Type: tournament.Draw})
	c.refused(tournament.Command{Type: tournament.Enter, Name: "Late"}, "too_late")
	c.refused(tournament.Command{Type: tournament.Next}, "not_now")
	c.refused(tournament.Command{Type: tournament.Record, Match: 9}, "unknown_match")
	c.refused(tournament.Command{Type: tournament.Record, Match: 1, Outcome: tournament.Played}, "level")
	c.refused(tournament.Command{Type: tournament.Record, Match: 1, Outcome: tournament.Walkover}, "bad_winner")
	c.refused(tournament.Command{Type: tournament.Record, Match: 1, Outcome: tournament.Bye}, "bad_outcome")
	c.refused(tournament.Command{Type: tournament.Record, Match: 1, Outcome: tournament.Played, Home: 1e7}, "bad_score")
	c.refused(tournament.Command{Type: tournament.Start, Match: 1}, "bad_game")
	c.refused(tournament.Command{Type: tournament.Correct, Match: 1}, "not_now")
	c.refused(tournament.Command{Type: tournament.Finish}, "open_matches")
	c.record(1, 2, 1)
	c.refused(tournament.Command{Type: tournament.Record, Match: 1}, "recorded")
	c.do(tournament.Command{Type: tournament.Finish})
	c.refused(tournament.Command{Type: tournament.Correct, Match: 1}, "ended")
	c.refused(tournament.Command{Type: "dance", ID: strings.Repeat("x", 65)}, "bad_command")
}

// A command repeated with its id takes effect once, even after an undo.
func TestRepeatedCommand(t *testing.T) {
	c := entered(t, 2, tournament.Settings{Format: tournament.Single})
	cmd := tournament.Command{Type: tournament.Enter, Name: "Late", ID: "a"}
	c.do(cmd)
	c.do(tournament.Command{Type: tournament.Undo})
	if e := c.do(cmd); e.Type != "" || len(c.s.Entrants) != 2 {
		t.Errorf("the repeated command made %+v", e)
	}
}

func TestForecast(t *testing.T) {
	for _, tc := range []struct {
		n        int
		settings tournament.Settings
		want     tournament.Forecast
	}{
		{8, tournament.Settings{Format: tournament.Single}, tournament.Forecast{Matches: 7, Most: 7, Waves: 4, Minutes: 40}},
		{8, tournament.Settings{Format: tournament.Double}, tournament.Forecast{Matches: 14, Most: 15, Waves: 8, Minutes: 80}},
		{4, tournament.Settings{Format: tournament.RoundRobin}, tournament.Forecast{Matches: 6, Most: 6, Waves: 3, Minutes: 30}},
		{3, tournament.Settings{Format: tournament.RoundRobin}, tournament.Forecast{Matches: 3, Most: 3, Waves: 3, Minutes: 30}},
		{8, tournament.Settings{Format: tournament.Swiss}, tournament.Forecast{Matches: 12, Most: 12, Waves: 6, Minutes: 60}},
		{8, tournament.Settings{Format: tournament.Pools, Pools: 2, Advance: 2, Then: tournament.Single},
			tournament.Forecast{Matches: 15, Most: 15, Waves: 8, Minutes: 80}},
	} {
		c := drawn(t, tc.n, tc.settings)
		if got := c.s.Remaining(2, 10); got != tc.want {
			t.Errorf("%d in a %s: %+v, want %+v", tc.n, tc.settings.Format, got, tc.want)
		}
	}
}

func TestLayoutAndReady(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Single})
	var titles []string
	for _, column := range c.s.Layout() {
		titles = append(titles, fmt.Sprintf("%s %d", column.Title, len(column.Matches)))
	}
	if got := strings.Join(titles, ", "); got != "Quarter-finals 4, Semi-finals 2, Final 1" {
		t.Error(got)
	}
	c.do(tournament.Command{Type: tournament.Start, Match: 2, Game: "elk-1"})
	if got := c.s.Ready(); !slices.Equal(got, []int{1, 3, 4}) {
		t.Errorf("ready are %v", got)
	}
	c.refused(tournament.Command{Type: tournament.Start, Match: 1, Game: "elk-1"}, "bad_game")
	double := drawn(t, 2, tournament.Settings{Format: tournament.Double}).s.Layout()
	if got := double[0].Title + ", " + double[1].Title + ", " + double[2].Title; got != "Round 1, Final, Second final" {
		t.Error(got)
	}
	robin := drawn(t, 4, tournament.Settings{Format: tournament.RoundRobin})
	robin.do(tournament.Command{Type: tournament.Start, Match: 1, Game: "elk-1"})
	for id := 3; id <= 6; id++ { // each has one side of match 1, at home or away
		robin.refused(tournament.Command{Type: tournament.Start, Match: id, Game: "elk-2"}, "busy")
	}
	if got := robin.s.Ready(); !slices.Equal(got, []int{2}) {
		t.Errorf("ready are %v", got)
	}
}

func TestBounds(t *testing.T) {
	c := entered(t, tournament.MaxEntrants, tournament.Settings{Format: tournament.Pools, Pools: 30, Advance: 1, Then: tournament.Single})
	c.refused(tournament.Command{Type: tournament.Enter, Name: "One more"}, "tournament_full")
	c.do(tournament.Command{Type: tournament.Draw})
	tables := c.s.Tables()
	if got := tables[0].Title + ", " + tables[29].Title; got != "Pool A, Pool D2" {
		t.Error(got)
	}
	few := entered(t, 5, tournament.Settings{Format: tournament.Pools, Pools: 2, Advance: 3, Then: tournament.Single})
	few.refused(tournament.Command{Type: tournament.Draw}, "too_few")
	if few.s.Standings() != nil {
		t.Error("there are standings before the draw")
	}
	long := entered(t, 5, tournament.Settings{Format: tournament.Swiss, Rounds: 6})
	long.refused(tournament.Command{Type: tournament.Draw}, "too_many_rounds")
}

// Both sides of a match in the main part have withdrawn: nobody goes on from
// it, up or down, and the next opponent has a bye.
func TestBothSidesWithdraw(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Double})
	for id := 1; id <= 4; id++ {
		c.record(id, 2, 1)
	}
	c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 1})
	c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 4})
	c.sound()
	if m := c.s.Matches[10]; m.Home.Entrant != tournament.Nobody {
		t.Errorf("the main part's final is %+v", m)
	}
	c.playAll(lowerWins)
	if c.s.Champion() != 2 {
		t.Errorf("the champion is %d", c.s.Champion())
	}
}

// What can't be corrected: a bye, a forfeit by withdrawal that is to be taken
// away, a pool's result that the bracket rests on. A forfeit by withdrawal can
// be replaced by the result that was played.
func TestWhatCanBeCorrected(t *testing.T) {
	c := drawn(t, 3, tournament.Settings{Format: tournament.Single})
	c.refused(tournament.Command{Type: tournament.Correct, Match: 1, Outcome: tournament.Played, Home: 1}, "not_now")
	c.do(tournament.Command{Type: tournament.Withdraw, Entrant: 2})
	c.refused(tournament.Command{Type: tournament.Correct, Match: 2}, "not_now")
	c.do(tournament.Command{Type: tournament.Correct, Match: 2, Outcome: tournament.Played, Home: 2, Away: 1})
	if m := c.s.Matches[2]; m.Result.Winner != 1 || !m.Result.Auto {
		t.Errorf("the final against one who has withdrawn is %+v", m)
	}
	p := drawn(t, 4, tournament.Settings{Format: tournament.Pools, Pools: 2, Advance: 1, Then: tournament.Single})
	p.playAll(lowerWins)
	p.do(tournament.Command{Type: tournament.Next})
	p.refused(tournament.Command{Type: tournament.Correct, Match: 1}, "not_now")
}
