package questions

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"unicode"

	"fieldsign/questions/catalogue"
)

// loreTemplate asks about the trade's own words: by the meaning for the name,
// or by the name for the meaning.
type loreTemplate struct {
	name   string
	kind   string
	byName bool // asks by the name for the meaning
	asked  bool // only where a wish names it
	jaw    bool // over the drawing of a deer's lower jaw
}

// loreTemplates is the table to extend for lore.csv.
var loreTemplates = []loreTemplate{
	{"term-for", "term", false, false, false},
	{"term-means", "term", true, false, false},
	{whatItTells, "tells", true, false, false},
	{"deer-age", "deer age", false, false, false},
	{"fresh-or-old", "fresh or old", true, false, false},
	{"deer-age-fine", "deer age fine", false, true, false},
	{"deer-jaw", "deer age", false, false, true},
	{"deer-jaw-fine", "deer age fine", false, true, true},
}

// whatItTells is asked of something seen, and its reason says what that suggests.
const whatItTells = "what-it-tells"

// about sets an entry of lore, the first option, against others of its kind, first of
// its group.
// The claim's species is the entry's name, its trait the entry's kind.
func (t loreTemplate) about(l catalogue.Lore, all []catalogue.Lore, dice *rand.Rand, book *phrasebook) (Question, bool) {
	rivals := t.rivals(l, all, dice)
	if len(rivals) < 2 || loreRelated[l.Name].onlyBeside || (t.kind == "term" && holdsWord(wordsOf(l.Told), l, all)) {
		return Question{}, false
	}
	q := Question{Template: t.name, Subject: l.Subject, Difficulty: 2, Test: Test{[]catalogue.Claim{{Trait: l.Kind, Op: "=", Value: l.Meaning}}}}
	for _, o := range append([]catalogue.Lore{l}, rivals...) {
		q.Options = append(q.Options, Option{Species: o.Name, Text: sentence(t.shown(o, book))})
	}
	given := l.Told
	if t.byName {
		given = l.Said
	}
	q.Prompt = cmp.Or(book.lore[t.name+" of "+l.Group], book.lore[t.name])
	q.Reason = book.explained(l)
	if l.Kind != "term" { // what the others would show is the lesson
		for _, o := range rivals {
			q.Reason += " " + book.explained(o)
		}
	}
	if t.jaw {
		jaw, drawn := jawOf(l, dice)
		if !drawn {
			return Question{}, false
		}
		q.Plate, q.Difficulty = jaw, 3
		if grown(l.Name) {
			q.Reason += " " + book.ageEstimate
		}
	} else {
		q.Prompt = fmt.Sprintf(q.Prompt, given)
	}
	return q, true
}

// leftBy is the group of what tells which animals left something. It stands apart from
// what tells how an animal lives.
const leftBy = "kind"

// explained is an entry with what it says.
func (b *phrasebook) explained(l catalogue.Lore) string {
	if l.Kind == "fresh or old" {
		return fmt.Sprintf(b.freshReason, l.Said, l.Told)
	}
	return fmt.Sprintf(b.termReason, sentence(l.Said), strings.TrimPrefix(l.Told, b.that))
}

func (t loreTemplate) shown(l catalogue.Lore, book *phrasebook) string {
	if t.byName {
		return strings.TrimPrefix(l.Told, book.that)
	}
	return l.Said
}

func (t loreTemplate) rivals(l catalogue.Lore, all []catalogue.Lore, dice *rand.Rand) []catalogue.Lore {
	var rivals []*catalogue.Lore
	var told []string
	if t.byMeaning() {
		told = wordsOf(l.Told)
	}
	for _, i := range dice.Perm(len(all)) {
		// A meaning that holds the word asked about would give itself away.
		if o := &all[i]; o.Kind == l.Kind && (o.Subject == catalogue.Management) == (l.Subject == catalogue.Management) && (o.Group == leftBy) == (l.Group == leftBy) && o.Name != l.Name && o.Name != loreRelated[l.Name].alsoTells && (l.Kind != "fresh or old" || o.Subject == l.Subject) && !(t.byName && strings.Contains(o.Told, strings.TrimSuffix(l.Said, "s"))) && !(t.byMeaning() && holdsWord(told, *o, all)) {
			rivals = append(rivals, o)
		}
	}
	slices.SortStableFunc(rivals, func(a, b *catalogue.Lore) int { return foreign(a, l) - foreign(b, l) })
	own := 0
	for own < len(rivals) && foreign(rivals[own], l) == 0 {
		own++
	}
	if own < fewest && l.Kind != "term" { // too few of the group: any other will do
		own = len(rivals)
	}
	rivals = rivals[:own]
	var out []catalogue.Lore
	for _, o := range rivals {
		twin := func(x catalogue.Lore) bool {
			return t.byName && alikeSaid(x.Told, o.Told) && !alikeSaid(l.Told, o.Told)
		}
		if len(out) < others && !slices.ContainsFunc(out, twin) { // beside two twins the third would be the key
			out = append(out, *o)
		}
	}
	return out
}

// alikeSaid reports whether two meanings are of one kind of thing: they share two words.
func alikeSaid(a, b string) bool {
	const longish = 4 // letters
	words := func(s string) []string {
		var out []string
		for _, w := range wordsOf(s) {
			if w = strings.TrimSuffix(w, "s"); len(w) >= longish && !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
		return out
	}
	shared := slices.DeleteFunc(words(a), func(w string) bool { return !slices.Contains(words(b), w) })
	return len(shared) >= 2
}

// byMeaning reports whether the stem is a meaning, and the options are terms.
func (t loreTemplate) byMeaning() bool { return t.kind == "term" && !t.byName }

// wordsOf are the words of a meaning.
func wordsOf(meaning string) []string {
	return strings.FieldsFunc(strings.ToLower(meaning), notLetter)
}

// holdsWord reports whether one of a meaning's words is of a term: the key would be read
// off, or a wrong option struck out. A word that other terms of the group have tells nothing.
func holdsWord(words []string, term catalogue.Lore, all []catalogue.Lore) bool {
	const shortest = 3 // letters
	for word := range strings.FieldsSeq(strings.ToLower(term.Said)) {
		stem := strings.TrimSuffix(word, "s")
		begins := func(w string) bool { return strings.HasPrefix(w, stem) }
		shared := func(o catalogue.Lore) bool {
			return o.Name != term.Name && o.Kind == term.Kind && o.Group == term.Group && strings.Contains(o.Said, word)
		}
		if len(stem) >= shortest && slices.ContainsFunc(words, begins) && !slices.ContainsFunc(all, shared) {
			return true
		}
	}
	return false
}

func notLetter(r rune) bool { return !unicode.IsLetter(r) }

func foreign(a *catalogue.Lore, l catalogue.Lore) int {
	switch {
	case a.Group == l.Group:
		return 0
	case a.Subject == l.Subject:
		return 1
	}
	return 2
}

// askLore adds one question about lore, if a new one is left.
func (p *planner) askLore() bool { return p.askLoreOf(p.wish.Subjects) }

// askLoreOf is asked anew once there is another question, or more is let in.
func (p *planner) askLoreOf(subjects []string) bool {
	at := attempt{len(p.set), len(subjects), p.look, p.leave}
	if p.loreless[at] {
		return false
	}
	found := p.loreFrom(subjects)
	p.loreless[at] = !found
	return found
}

// attempt is what a question of the trade's own words was looked for with.
type attempt struct {
	questions, subjects int
	look
	leave
}

func (p *planner) loreFrom(subjects []string) bool {
	for _, i := range rarest(p.dice, len(loreTemplates), func(i int) int { return p.asked[loreTemplates[i].name] }) {
		t := loreTemplates[i]
		if !p.wantedLore(t) {
			continue
		}
		for _, j := range p.bestLore() {
			l := p.lore[j]
			if l.Kind != t.kind || p.loreUsed[t.name+l.Name] || !slices.Contains(subjects, l.Subject) || !p.contrasts(l) {
				continue
			}
			q, ok := t.about(l, p.unasked, p.dice, p.book)
			if !ok && p.spending {
				q, ok = t.about(l, p.lore, p.dice, p.book)
			}
			if ok && p.look.suits(q) && !(l.Kind == "term" && p.justPrinted(l.Said)) && p.add(p.seats.mixed(q, p.dice)) {
				p.loreUsed[t.name+l.Name] = true
				p.subjects[p.place(l.Subject)]++
				p.read(l.Name)
				return true
			}
		}
	}
	return false
}

// justPrinted reports whether one of the last questions has a term in its prompt, its
// options or its reason: there its meaning stands beside it, or may be guessed.
func (p *planner) justPrinted(term string) bool {
	if p.wish.Alone || len(p.wish.Templates) > 0 {
		return false
	}
	words := spaced(term)
	return slices.ContainsFunc(p.set[max(0, len(p.set)-showsFor):], func(q Question) bool { return q.prints(words) })
}

// spaced are the words of a text, each after a blank.
func spaced(text string) string { return " " + strings.Join(wordsOf(text), " ") }

// prints reports whether a question's words hold those of a term, or begin one with its last.
func (q Question) prints(term string) bool {
	holds := func(text string) bool { return strings.Contains(spaced(text), term) }
	return holds(q.Prompt) || holds(q.Reason) || slices.ContainsFunc(q.Options, func(o Option) bool { return holds(o.Text) })
}

// read drops a term from those that were no key yet, nor a label: whoever has read what a
// word means rules it out where it stands beside another.
func (p *planner) read(term string) {
	p.unasked = slices.DeleteFunc(p.unasked, func(o catalogue.Lore) bool { return o.Name == term })
}

func (p *planner) inPlay(l catalogue.Lore) bool {
	families := loreRelated[l.Name].of
	if families == nil {
		families = loreRelated[l.Group].of
	}
	return families == nil || slices.ContainsFunc(p.species, func(name string) bool {
		s, _ := p.bank.catalogue.Find(name)
		return slices.Contains(families, s.Values["family"].Text)
	})
}

// contrasts reports whether animals in play show what a word names and, where a group has
// more such words, another of them: of what nobody is, or everybody, there is nothing to
// tell apart.
func (p *planner) contrasts(l catalogue.Lore) bool {
	shown := func(name string) bool {
		return slices.ContainsFunc(p.species, func(animal string) bool {
			s, _ := p.bank.catalogue.Find(animal)
			claim := loreRelated[name].shown
			return claim.Holds(s.Values[claim.Trait]) == catalogue.True
		})
	}
	told := func(name string) bool { return loreRelated[name].shown != catalogue.Claim{} }
	if !told(l.Name) {
		return true
	}
	lone, other := true, false
	for _, o := range p.lore {
		if told(o.Name) && o.Kind == l.Kind && o.Group == l.Group && o.Name != l.Name {
			lone, other = false, other || shown(o.Name)
		}
	}
	return shown(l.Name) && (lone || other)
}

// bestLore is in random order, what rests on a source that was read first, and of that
// what is of the subject that was asked least beside its share.
func (p *planner) bestLore() []int {
	unread := func(i int) int {
		switch l := p.lore[i]; {
		case loreRelated[l.Name].seldom:
			return 2
		case l.Basis.Read():
			return 0
		}
		return 1
	}
	asked := func(i int) float64 { return p.due(p.place(p.lore[i].Subject)) }
	order := slices.DeleteFunc(p.dice.Perm(len(p.lore)), func(i int) bool { return p.place(p.lore[i].Subject) < 0 })
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(unread(a)-unread(b), cmp.Compare(asked(a), asked(b))) })
	return order
}

// place is that of a subject among the wished ones, or -1.
func (p *planner) place(subject string) int {
	return slices.IndexFunc(p.makers, func(m *maker) bool { return m.subject == subject })
}

func (p *planner) wantedLore(t loreTemplate) bool {
	if t.jaw && !slices.Contains(p.species, whiteTail) {
		return false
	}
	if len(p.wish.Templates) > 0 {
		return slices.Contains(p.wish.Templates, t.name)
	}
	return !t.asked && (!strings.HasPrefix(t.kind, "deer age") || slices.Contains(p.species, whiteTail))
}
