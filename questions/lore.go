package questions

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// loreTemplate asks about the trade's own words: by the meaning for the name,
// or by the name for the meaning.
type loreTemplate struct {
	name   string
	kind   string
	ask    string // with the meaning, or the name where byName
	byName bool
	asked  bool // only where a wish names it
}

// loreTemplates is the table to extend for lore.csv.
var loreTemplates = []loreTemplate{
	{"term-for", "term", "What is the term for %s?", false, false},
	{"term-means", "term", "What does the term “%s” mean?", true, false},
	{"what-it-tells", "tells", "An animal has %s. What does this suggest?", true, false},
	{"deer-age", "deer age", "How old is a white-tailed deer whose lower jaw has %s?", false, false},
	{"fresh-or-old", "fresh or old", "Which of these do you expect of %s?", false, false},
	{"deer-age-fine", "deer age fine", "How old, by the usual estimate, is a white-tailed deer whose lower jaw has %s?", false, true},
}

// about sets an entry of lore against others of its kind, first of its group.
// The claim's species is the entry's name, its trait the entry's kind.
func (t loreTemplate) about(l catalogue.Lore, all []catalogue.Lore, dice *rand.Rand) (Question, bool) {
	rivals := t.rivals(l, all, dice)
	if len(rivals) < 2 {
		return Question{}, false
	}
	q := Question{Template: t.name, Subject: l.Subject, Difficulty: 2, Test: Test{[]catalogue.Claim{{Trait: l.Kind, Op: "=", Value: l.Meaning}}}}
	for _, o := range append([]catalogue.Lore{l}, rivals...) {
		q.Options = append(q.Options, Option{Species: o.Name, Text: sentence(t.shown(o))})
	}
	if t.byName {
		q.Prompt = fmt.Sprintf(t.ask, l.Name)
	} else {
		q.Prompt = fmt.Sprintf(t.ask, l.Meaning)
	}
	q.Reason = fmt.Sprintf("%s: %s.", sentence(l.Name), strings.TrimPrefix(l.Meaning, "that "))
	return mixed(q, dice), true
}

func (t loreTemplate) shown(l catalogue.Lore) string {
	if t.byName {
		return strings.TrimPrefix(l.Meaning, "that ")
	}
	return l.Name
}

func (t loreTemplate) rivals(l catalogue.Lore, all []catalogue.Lore, dice *rand.Rand) []catalogue.Lore {
	var rivals []catalogue.Lore
	for _, i := range dice.Perm(len(all)) {
		// A meaning that holds the word asked about would give itself away.
		if o := all[i]; o.Kind == l.Kind && o.Name != l.Name && !(t.byName && strings.Contains(o.Meaning, l.Name)) {
			rivals = append(rivals, o)
		}
	}
	slices.SortStableFunc(rivals, func(a, b catalogue.Lore) int { return foreign(a, l) - foreign(b, l) })
	return rivals[:min(len(rivals), others)]
}

func foreign(a, l catalogue.Lore) int {
	if a.Group == l.Group {
		return 0
	}
	return 1
}

// askLore adds one question about lore, if a new one is left.
func (p *planner) askLore() bool {
	for _, i := range rarest(p.dice, len(loreTemplates), func(i int) int { return p.asked[loreTemplates[i].name] }) {
		t := loreTemplates[i]
		if !p.wantedLore(t) {
			continue
		}
		for _, j := range p.dice.Perm(len(p.lore)) {
			l := p.lore[j]
			if l.Kind != t.kind || p.loreUsed[t.name+l.Name] || !slices.Contains(p.wish.Subjects, l.Subject) {
				continue
			}
			if q, ok := t.about(l, p.lore, p.dice); ok && p.add(q) {
				p.loreUsed[t.name+l.Name] = true
				return true
			}
		}
	}
	return false
}

func (p *planner) wantedLore(t loreTemplate) bool {
	if len(p.wish.Templates) > 0 {
		return slices.Contains(p.wish.Templates, t.name)
	}
	return !t.asked
}
