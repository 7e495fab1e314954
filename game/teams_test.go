package game_test

import (
	"fmt"
	"strings"
	"testing"

	"fieldsign/game"
)

func TestStandings(t *testing.T) {
	type team = game.Team
	for _, tc := range []struct {
		name  string
		teams []team
		want  string
	}{
		{"nobody", nil, ""},
		{"by score", []team{{ID: "t1", Score: -5}, {ID: "t2", Score: 20}, {ID: "t3", Score: 10}}, "1:t2 2:t3 3:t1"},
		{"then by right answers", []team{{ID: "t1", Score: 10, Right: 1, Time: 1}, {ID: "t2", Score: 10, Right: 2, Time: 9}}, "1:t2 2:t1"},
		{"then by time", []team{{ID: "t1", Score: 10, Right: 1, Time: 9}, {ID: "t2", Score: 10, Right: 1, Time: 1}}, "1:t2 2:t1"},
		{"equals share a rank, in order of joining", []team{{ID: "t1", Score: 1}, {ID: "t2", Score: 5}, {ID: "t3", Score: 5}, {ID: "t4", Score: 5}}, "1:t2 1:t3 1:t4 4:t1"},
		{"removed teams are out", []team{{ID: "t1", Score: 9, Removed: true}, {ID: "t2", Score: 5}}, "1:t2"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := game.State{Teams: tc.teams}
			var got []string
			for _, st := range s.Standings() {
				got = append(got, fmt.Sprintf("%d:%s", st.Rank, st.Team))
			}
			if line := strings.Join(got, " "); line != tc.want {
				t.Errorf("got %s, want %s", line, tc.want)
			}
		})
	}
}

func TestNames(t *testing.T) {
	for _, tc := range []struct{ name, raw, want, code string }{
		{"plain", "Otters", "Otters", ""},
		{"trimmed", "  Sea \t\u00a0 Otters\n", "Sea Otters", ""},
		{"composed", "Cafe\u0301", "Caf\u00e9", ""},
		{"another script", "\u30ab\u30ef\u30a6\u30bd", "\u30ab\u30ef\u30a6\u30bd", ""},
		{"vowel points", "\u05e9\u05bc\u05c1", "\u05e9\u05bc\u05c1", ""},
		{"emoji without its variation selector", "\u2764\ufe0f Otters", "\u2764 Otters", ""},
		{"as long as may be", strings.Repeat("x", game.MaxName), strings.Repeat("x", game.MaxName), ""},
		{"too long", strings.Repeat("x", game.MaxName+1), "", "bad_name"},
		{"10,000 characters", strings.Repeat("x", 10_000), "", "bad_name"},
		{"10,000 blanks", strings.Repeat(" ", 10_000), "", "bad_name"},
		{"empty", "", "", "bad_name"},
		{"blank", " \t\u2003", "", "bad_name"},
		{"invalid UTF-8", "Ott\xffers", "", "bad_name"},
		{"markup", "<b>Otters</b>", "", "bad_name"},
		{"entity", "Otters&lt;", "", "bad_name"},
		{"quote", `Otters" onclick=`, "", "bad_name"},
		{"template", "${Otters}", "", "bad_name"},
		{"right-to-left override", "Otters\u202e", "", "bad_name"},
		{"isolate", "\u2067Otters", "", "bad_name"},
		{"zero-width space", "Ott\u200bers", "", "bad_name"},
		{"zero-width joiner", "Ott\u200ders", "", "bad_name"},
		{"byte order mark", "\ufeffOtters", "", "bad_name"},
		{"soft hyphen", "Ott\u00aders", "", "bad_name"},
		{"Hangul filler", "\u3164", "", "bad_name"},
		{"empty Braille cell", "Otters\u2800", "", "bad_name"},
		{"null", "Ott\x00ers", "", "bad_name"},
		{"private use", "Otters\ue000", "", "bad_name"},
		{"combining marks alone", "\u0301\u0302", "", "bad_name"},
		{"a tower of marks", "O" + strings.Repeat("\u0335", 9) + "tters", "", "bad_name"},
		{"no letter or digit", "!!!", "", "bad_name"},
		{"taken", "Badgers", "", "name_taken"},
		{"taken but for case", "bADGERS", "", "name_taken"},
		{"taken to the eye, a Cyrillic a", "B\u0430dgers", "", "name_taken"},
		{"taken to the eye, in wide letters", "Ｂａｄｇｅｒｓ", "", "name_taken"},
		{"taken to the eye, capitals of other scripts", "\u0412\u0410DG\u0395RS", "", "name_taken"},
		{"taken but for blanks", " Badgers ", "", "name_taken"},
		{"taken but for a variation selector", "Badgers\ufe0e", "", "name_taken"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := &table{t: t}
			g.play(step{0, game.Command{Type: game.Create, By: "hub"}, ""},
				step{0, game.Command{Type: game.Join, By: "hub", Name: "Badgers"}, ""},
				step{0, game.Command{Type: game.Join, By: "hub", Name: tc.raw}, tc.code})
			if tc.code == "" && g.s.Teams[1].Name != tc.want {
				t.Errorf("the name became %q, want %q", g.s.Teams[1].Name, tc.want)
			}
		})
	}
}

func TestRename(t *testing.T) {
	rename := func(team, name string) game.Command {
		return game.Command{Type: game.Rename, By: "host", Team: team, Name: name}
	}
	g := opened(t, plan(round(game.Open, "q1")), 3).play(
		step{1, rename("t1", "TEAM 1"), ""}, step{2, rename("t1", "team 2"), "name_taken"}, step{2, rename("t1", "T\u0435am 2"), "name_taken"}, step{2, rename("t1", "T\u0435am 1"), ""}, step{3, rename("t9", "X"), "unknown_team"},
		step{4, removal("t2"), ""}, step{5, removal("t2"), "unknown_team"}, step{6, rename("t1", "team 2"), ""})
	if g.s.Teams[0].Name != "team 2" {
		t.Errorf("t1 is called %q", g.s.Teams[0].Name)
	}
}

func TestBadPlans(t *testing.T) {
	for name, spoil := range map[string]func(*game.Plan){
		"long title":        func(p *game.Plan) { p.Title = strings.Repeat("x", 61) },
		"hidden in title":   func(p *game.Plan) { p.Title = "a\u202eb" },
		"invalid title":     func(p *game.Plan) { p.Title = "\xff" },
		"many rounds":       func(p *game.Plan) { p.Rounds = make([]game.Round, 21) },
		"kind":              func(p *game.Plan) { p.Rounds[0].Kind = "dance" },
		"round's name":      func(p *game.Plan) { p.Rounds[0].Name = "\u200b" },
		"too short":         func(p *game.Plan) { p.Rounds[0].Seconds = 2 },
		"too long":          func(p *game.Plan) { p.Rounds[0].Seconds = 601 },
		"no points":         func(p *game.Plan) { p.Rounds[0].Points = 0 },
		"negative speed":    func(p *game.Plan) { p.Rounds[0].Speed = -1 },
		"great penalty":     func(p *game.Plan) { p.Rounds[0].Penalty = 1001 },
		"negative wait":     func(p *game.Plan) { p.Rounds[0].Wait = -1 },
		"great wait":        func(p *game.Plan) { p.Rounds[0].Wait = 1001 },
		"no questions":      func(p *game.Plan) { p.Rounds[0].Questions = nil },
		"one option":        func(p *game.Plan) { p.Rounds[0].Questions[0].Options = []string{"a"} },
		"key out of range":  func(p *game.Plan) { p.Rounds[0].Questions[0].Key = 3 },
		"negative key":      func(p *game.Plan) { p.Rounds[0].Questions[0].Key = -1 },
		"question twice":    func(p *game.Plan) { p.Rounds[0].Questions = append(p.Rounds[0].Questions, question("q1")) },
		"question no id":    func(p *game.Plan) { p.Rounds[0].Questions[0].ID = "" },
		"invalid option":    func(p *game.Plan) { p.Rounds[0].Questions[0].Options[0] = "\xff" },
		"invalid subject":   func(p *game.Plan) { p.Rounds[0].Subjects = []string{"\xff"} },
		"unnamed 2nd round": func(p *game.Plan) { p.Rounds = append(p.Rounds, game.Round{}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := plan(round(game.Open, "q1"))
			spoil(&p)
			g := &table{t: t}
			g.play(step{0, game.Command{Type: game.Create, By: "hub", Plan: p}, "bad_plan"})
			if g.s.Seq != 0 {
				t.Error("a refused plan had an effect")
			}
		})
	}
}
