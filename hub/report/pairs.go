package report

import (
	"cmp"
	"slices"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// The pairs that a game confused most, to be looked at side by side: drawings of
// both, and what tells them apart.

const (
	mostMixed      = 3
	mostSeparators = 4
)

type mixedPair struct {
	Subject    string          `json:"subject"`
	A          string          `json:"a"` // as they are called
	B          string          `json:"b"`
	Times      int             `json:"times"` // answers that took one for the other
	Of         int             `json:"of"`    // answers that could have
	Drawings   []picture.Sheet `json:"drawings"`
	Separators []separatorView `json:"separators"` // the easiest to see first
}

type separatorView struct {
	Trait string `json:"trait"`
	A     string `json:"a"`
	B     string `json:"b"`
}

// mixed finds them: first those that guessing does not explain, then whatever
// was mixed up most often.
func (d *Reports) mixed(log []game.Event, asked game.Plan) []mixedPair {
	words := d.planner.Words(catalogue.Language(asked.Language))
	bank, err := d.planner.Bank(plan.Played(asked))
	if err != nil {
		return []mixedPair{}
	}
	found := debrief.Of(log, plan.FactsOf(asked, func(name string) string { return name }))
	list := []mixedPair{}
	for _, p := range candidates(found) {
		a, known := words.Find(p.A)
		b, both := words.Find(p.B)
		if !known || !both || slices.ContainsFunc(list, func(o mixedPair) bool { return o.Subject == p.Subject && o.of(a.Vernacular, b.Vernacular) }) {
			continue
		}
		p.Drawings = d.sideBySide(p.Subject, a.Name, b.Name, catalogue.Language(asked.Language))
		p.Separators = separating(bank, p.Subject, a.Name, b.Name)
		p.A, p.B = a.Vernacular, b.Vernacular
		if list = append(list, p); len(list) == mostMixed {
			break
		}
	}
	return list
}

func (p mixedPair) of(a, b string) bool { return p.A == a && p.B == b || p.A == b && p.B == a }

func candidates(r debrief.Report) (list []mixedPair) {
	for _, p := range r.Advice.Pairs {
		list = append(list, mixedPair{Subject: p.Subject, A: p.A, B: p.B, Times: p.Share.Right, Of: p.Share.Of})
	}
	var more []mixedPair
	for _, m := range r.Confusions {
		for a := range m.Names {
			for b := range m.Names[:a] {
				times, of := m.Counts[a][b]+m.Counts[b][a], 0
				for i := range m.Names {
					of += m.Counts[a][i] + m.Counts[b][i]
				}
				if m.Of == "species" && times > 0 {
					more = append(more, mixedPair{Subject: m.Subject, A: m.Names[a], B: m.Names[b], Times: times, Of: of})
				}
			}
		}
	}
	slices.SortStableFunc(more, func(a, b mixedPair) int { return cmp.Compare(b.Times, a.Times) })
	return append(list, more...)
}

// views are the drawings of a subject, the most telling first.
var views = map[string][]string{"skull": {"skull side"}, "track": {"front print", "hind print"}, "scat": {"scat"}}

// sideBySide are drawings of both in the same view, or none.
func (d *Reports) sideBySide(subject, a, b string, l catalogue.Language) []picture.Sheet {
	for _, view := range views[subject] {
		one, ok := d.pictures.Draw(game.Plate{Species: a, View: view}, 0)
		other, both := d.pictures.Draw(game.Plate{Species: b, View: view}, 0)
		if ok && both {
			return []picture.Sheet{picture.SheetOf(one, l), picture.SheetOf(other, l)}
		}
	}
	return []picture.Sheet{}
}

func separating(bank *questions.Bank, subject, a, b string) []separatorView {
	out := []separatorView{}
	alike, err := bank.Lookalikes(a, subject, 1000)
	if err != nil {
		return out
	}
	at := slices.IndexFunc(alike, func(l questions.Lookalike) bool { return l.Species.Name == b })
	if at < 0 {
		return out
	}
	said := func(v catalogue.Value, t catalogue.Trait) string {
		if t.Kind == catalogue.Range && t.Unit != "" {
			return v.Words() + " " + t.Unit
		}
		return v.Words()
	}
	for _, s := range alike[at].Separators[:min(len(alike[at].Separators), mostSeparators)] {
		out = append(out, separatorView{s.Trait.Label, said(s.This, s.Trait), said(s.Other, s.Trait)})
	}
	return out
}
