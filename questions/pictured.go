package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// whichPlate: "Which of these is the skull of the bobcat?", over four drawings.
func whichPlate(m *maker, key int) (Question, bool) { return m.anyView(key, m.ownPlate) }

func (m *maker) ownPlate(key int, v plateView) (Question, bool) {
	facts := m.seen(key, v, m.holding(key))
	wrong := m.company(key, v, m.apartBy(facts))
	if wrong == nil {
		return Question{}, false
	}
	deciding := covering(m.marksFirst(facts, wrong), wrong)
	said := m.led(m.seen(key, v, m.drawn(key)), deciding, wrong) // the drawing shows a mark that was told, too
	if m.toesAlone(deciding) || m.obscure(key, said, wrong) {
		return Question{}, false
	}
	q := m.pictured(key, wrong, v, deciding, said)
	q.Prompt = fmt.Sprintf(m.book.view(v.name, m.species[key]).which, m.book.the(m.species[key])) + m.book.scaled(deciding)
	return q, true
}

// plateShows: "Which of these skulls has a wide diastema?", over four drawings.
func plateShows(m *maker, key int) (Question, bool) { return m.anyView(key, m.plateWith) }

func (m *maker) plateWith(key int, v plateView) (Question, bool) {
	for _, f := range m.seen(key, v, m.holding(key)) {
		if f.trait.Part == "" || f.trait.Kind == catalogue.Range || !zero(f) && (!positive(f) || f.plain) {
			continue
		}
		wrong := m.company(key, v, m.asPlain(key, f))
		if wrong == nil {
			continue
		}
		q := m.pictured(key, wrong, v, []*fact{f}, []*fact{f})
		q.Prompt = fmt.Sprintf(m.book.view(v.name, m.species[key]).shows, f.holds)
		return q, true
	}
	return Question{}, false
}

// asPlain are those that lack what is asked for and show as many toes: a thumb is looked
// for among five.
func (m *maker) asPlain(key int, f *fact) bitset {
	out := f.no.clone()
	if !unmistakable(f.trait) || m.subject != "track" {
		return out
	}
	for _, i := range out.members() {
		if m.value(i, "hind_toes").Lo != m.value(key, "hind_toes").Lo {
			out.drop(i)
		}
	}
	return out
}

// seen are the key's certain facts that even a small drawing shows. Small teeth
// can't be counted there, but one sees whether there are any; of bullae one sees the huge.
func (m *maker) seen(key int, v plateView, places []int) []*fact {
	return slices.DeleteFunc(m.visible(key, v, v.small, places), func(f *fact) bool {
		return f.trait.Unit == "per side" && !zero(f) || f.value.Usual != "" || f.trait.ID == "bulla" && f.value.Text != "huge"
	})
}

// apartBy are the species that provably fail one of the facts.
func (m *maker) apartBy(facts []*fact) bitset {
	apart := newBitset(len(m.species))
	for _, f := range facts {
		apart.plus(f.no)
	}
	return apart
}

// company picks distractors that have the drawing, and no two of which look
// alike on it.
func (m *maker) company(key int, v plateView, candidates bitset) []int {
	left := candidates.clone()
	if m.sight = v.pose; v.pose == "" {
		return nil // there is no small drawing of it
	}
	var wrong []int
	for len(wrong) < m.wrong {
		n := 1
		if len(wrong) == m.wrong-1 && m.alone(key, wrong) {
			left = left.without(m.familyOf(wrong))
		}
		if wrong == nil {
			n = m.wrong // of so many the first is the nearest
		}
		next := m.choose(key, left, n)
		if next == nil {
			m.fellShort(len(wrong))
			return nil
		}
		left.drop(next[0])
		if m.isDrawn(v, next[0]) {
			wrong = append(wrong, next[0])
			left = left.with(m.apartBy(m.seen(next[0], v, m.of[next[0]])))
		}
	}
	if m.alone(key, wrong) && m.lenient != besideStrangers {
		return nil
	}
	return wrong
}

// pictured lays out drawings as options and says afterwards whose each was, and of the
// key what is to be said.
func (m *maker) pictured(key int, wrong []int, v plateView, deciding, said []*fact) Question {
	q := m.decided(key, wrong, deciding)
	letters := map[string]rune{}
	frame := m.frame(v.pose, append([]int{key}, wrong...))
	for i := range q.Options {
		o := &q.Options[i]
		letters[o.Species] = 'A' + rune(i)
		o.Plate, o.Text = &PlateRef{Species: o.Species, View: v.pose, Frame: frame}, fmt.Sprintf(m.book.plate, 'A'+i)
	}
	slices.SortFunc(wrong, func(a, b int) int { return int(letters[m.species[a].Name] - letters[m.species[b].Name]) })
	var all []saying
	for _, i := range wrong {
		all = append(all, m.saying(i, m.failed(i, said)))
	}
	s := m.species[key]
	q.says = saidOf(s.Name, said)
	q.Reason = fmt.Sprintf(m.book.plateIs, letters[s.Name], m.book.the(s), m.book.describe(s, said))
	for _, same := range alike(all) {
		q.Reason += " " + m.platesOf(same, letters)
	}
	return q
}

// platesOf says whose some plates are, of which the same is said.
func (m *maker) platesOf(same []saying, letters map[string]rune) string {
	var whose []string
	for _, one := range same {
		s := m.species[one.i]
		whose = append(whose, fmt.Sprintf(m.book.plateOf, letters[s.Name], m.book.the(s)))
	}
	said := m.book.own(same[0].part)
	if len(same) > 1 && same[0].part != "" {
		said = m.book.each(same[0].part)
	}
	return sentence(strings.Join(whose, ", ")) + ": " + strings.TrimSpace(said+" "+same[0].phrase) + "."
}
