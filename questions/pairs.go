package questions

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// pairing is two prints that can stand side by side, and the traits that a
// reader can compare on them: those of the same foot, or of the whole track.
type pairing struct {
	one, two string   // as a view
	asked    []string // new questions ask by these
	proved   []string // those of sets that were saved may ask by these too
}

var pairings = []pairing{
	{"left front print", "front print", strings.Fields("front_toes toes_forward hind_toe front_webbing heel_pad leading_toe"), strings.Fields("claws_show dewclaws furred_sole foot_type")},
	{"left hind print", "hind print", strings.Fields("hind_toes hind_webbing thumb leading_toe"), strings.Fields("claws_show dewclaws furred_sole foot_type")},
	{"front print", "hind print", nil, strings.Fields("claws_show dewclaws furred_sole foot_type")},
}

func foot(view string) string { return strings.TrimSuffix(view, " print") }

const individual = " of individual "

// individualOf follows a print's view where the print is that of one of a pair.
func individualOf(n int) string { return individual + strconv.Itoa(n) }

// drawIndividual draws a print by such a view.
func drawIndividual(h plate.Hand, s catalogue.Species, view string) (plate.Plate, bool) {
	view, number, _ := strings.Cut(view, individual)
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 {
		return plate.Plate{}, false
	}
	return h.TrackOf(s, foot(view), n)
}

// sameAnimal: "Can these two prints be of one kind of animal?" Where they can, both
// are of the key species; where not, one trait provably differs.
func sameAnimal(m *maker, key int) (Question, bool) {
	for _, i := range m.dice.Perm(len(pairings)) {
		p := pairings[i]
		if !m.canPair(p.one, key) || !m.canPair(p.two, key) {
			continue
		}
		q, ok := m.otherKind(key, p)
		if !ok { // then all would know that the two are the same
			continue
		}
		own, bird := m.turns(ofOneKind) < m.turns(ofTwoKinds), m.class[key] == "bird"
		if bird { // of which little else can be asked, and less once two were told apart
			own = m.dice.IntN(2) == 0
		}
		switch same, both := m.sameKind(key, p); {
		case own && both:
			return same, true
		case !own || bird || m.lenient == besideStrangers:
			return q, true
		}
	}
	return Question{}, false
}

// The answers of questions that are answered by yes or no take turns as the key.
const (
	ofOneKind, ofTwoKinds = "two prints of one kind", "two prints of two kinds"
	feetAlike, feetApart  = "both feet alike", "the feet apart"
)

func oneKindOrTwo(q Question) string {
	if q.Plate.With == q.Plate.Species {
		return ofOneKind
	}
	return ofTwoKinds
}

func feetAlikeOrNot(q Question) string {
	if q.Test.All[1].Op == "=" {
		return feetAlike
	}
	return feetApart
}

// moderate is the difficulty of seeing that two prints are of one kind.
const moderate = 3

func (m *maker) sameKind(key int, p pairing) (Question, bool) {
	if m.wish != 0 && m.wish != moderate {
		return Question{}, false
	}
	q := m.pair(key, key, p)
	var shown []*fact
	for _, f := range toesFirst(m.comparable(key, p)) {
		if len(q.Options) < optionCount && !webless(f) {
			shown = append(shown, f)
			q.Test.All = append(q.Test.All, f.claim)
			q.Options = append(q.Options, Option{Text: m.book.differ[f.trait.ID], Differ: f.trait.ID})
		}
	}
	q.Difficulty = moderate
	q.Reason = fmt.Sprintf(m.book.pairSame, m.book.the(m.species[key]), m.book.describe(m.species[key], shown))
	return m.seats.mixed(q, m.dice), len(shown) >= 2
}

func (m *maker) otherKind(key int, p pairing) (Question, bool) {
	facts := m.comparable(key, p)
	for _, f := range facts {
		other, ok := m.partner(key, p, f)
		if !ok {
			continue
		}
		f = plainest(facts, other, f)
		q := m.pair(key, other, p)
		q.Test.All = []catalogue.Claim{f.claim}
		q.Options = append([]Option{{Text: m.book.differ[f.trait.ID], Differ: f.trait.ID}}, q.Options...)
		for _, g := range toesFirst(facts) {
			if g.yes.has(other) && len(q.Options) < optionCount && !webless(g) {
				q.Options = append(q.Options, Option{Text: m.book.differ[g.trait.ID], Differ: g.trait.ID})
			}
		}
		if len(q.Options) < optionCount-1 {
			continue
		}
		m.used.add(f.root)
		a, b := m.species[key], m.species[other]
		q.Difficulty = m.difficulty(key, []int{other})
		q.Reason = fmt.Sprintf(m.book.pairApart, m.book.the(a), m.book.clause(a, f.trait, f.holds), m.book.the(b), m.book.clause(b, f.trait, actual(b, f.trait)))
		return m.seats.mixed(q, m.dice), true
	}
	return Question{}, false
}

// webless facts are shared by most prints: nobody thinks of webs where neither has one.
func webless(f *fact) bool { return none(f) && strings.HasSuffix(f.trait.ID, "_webbing") }

// plainest is the fact by which two prints are told apart: the number of toes
// where that differs, else the one given.
func plainest(facts []*fact, other int, f *fact) *fact {
	for _, g := range facts {
		if g.countsToes() && g.no.has(other) {
			return g
		}
	}
	return f
}

func (f *fact) countsToes() bool { return slices.Contains(toeCounts, f.trait.ID) }

func toesFirst(facts []*fact) []*fact {
	counts := slices.DeleteFunc(slices.Clone(facts), func(f *fact) bool { return !f.countsToes() })
	return append(counts, slices.DeleteFunc(slices.Clone(facts), (*fact).countsToes)...)
}

// comparable are the certain facts of the key that a pairing shows, and in which
// some animal differs that one could take for it.
func (m *maker) comparable(key int, p pairing) []*fact {
	m.sight = p.two
	return m.shuffled(m.facts, m.of[key], func(f *fact) bool {
		return slices.Contains(p.asked, f.trait.ID) && f.value.Usual == "" && m.among(key, f.no) && (positive(f) || !unmistakable(f.trait))
	})
}

// partner is another species that fails the fact.
func (m *maker) partner(key int, p pairing, f *fact) (int, bool) {
	const tries = 8
	left := f.no.clone()
	for range tries {
		next := m.choose(key, left, 1)
		if next == nil {
			break
		}
		left.drop(next[0])
		if m.canPair(p.two, next[0]) {
			return next[0], true
		}
	}
	return 0, false
}

// pair is the question without its test, its only option so far that the two
// can be of one kind.
func (m *maker) pair(a, b int, p pairing) Question {
	q := Question{Subject: m.subject, Prompt: m.book.pair, Options: []Option{{Text: m.book.pairYes}}, About: &About{Is: m.species[a].Name},
		Plate: &PlateRef{Species: m.species[a].Name, View: p.one, With: m.species[b].Name, WithView: p.two}}
	if a != b {
		q.About.Not = m.species[b].Name
	}
	return q
}
