package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// compound: "Which prey animal's skull has lower canines?" Each part alone
// leaves at least one distractor standing, so both are needed. A skull is joined
// with what its teeth and orbits are read for, and not with habits.
func compound(m *maker, key int) (Question, bool) {
	animal := slices.DeleteFunc(slices.Clone(m.animal), func(f *fact) bool { return !f.yes.has(key) || !positive(f) })
	own := m.shuffled(m.facts, m.holding(key), func(f *fact) bool {
		return f.trait.Kind != catalogue.Formula && f.trait.Part != "" && worthSaying(f)
	})
	joined := func(a *fact) bool { return m.subject != "skull" || a.trait.ID == "role" }
	for _, a := range m.shuffled(animal, sequence(len(animal)), joined) {
		for _, f := range own {
			if q, ok := m.compounded(key, a, f); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

func (m *maker) compounded(key int, a, f *fact) (Question, bool) {
	claim, phrase, f := someTeeth(f, m)
	m.lookAt(f.trait)
	onlyAnimal := m.choose(key, a.yes.clone().with(f.no), 1)
	onlyTrait := m.choose(key, f.yes.clone().with(a.no), 1)
	if onlyAnimal == nil || onlyTrait == nil {
		return Question{}, false
	}
	rest := a.no.clone().plus(f.no)
	wrong := append(onlyAnimal, onlyTrait...)
	for _, i := range m.choose(key, rest, m.wrong) {
		if len(wrong) < m.wrong && !slices.Contains(wrong, i) {
			wrong = append(wrong, i)
		}
	}
	if !m.enough(len(wrong)) || m.alone(key, wrong) {
		return Question{}, false
	}
	m.used.add(f.root)
	q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{a.claim, claim})
	s := m.species[key]
	q.Prompt = m.book.which(m.book.part(s, f.trait), a.trait.Adjective(a.value), phrase)
	q.Reason = fmt.Sprintf(m.book.compoundReason, sentence(m.book.the(s))+" "+a.holds, m.book.clause(s, f.trait, actual(s, f.trait))) +
		m.exclusions(wrong, []*fact{a, f})
	return q, true
}

// someTeeth widens "has 1 lower canine on each side" to "has lower canines",
// which is what the trade asks.
func someTeeth(f *fact, m *maker) (catalogue.Claim, string, *fact) {
	if f.trait.Kind != catalogue.Count || f.trait.Wording.Some == "" || f.value.Lo == 0 {
		return f.claim, f.holds, f
	}
	claim := catalogue.Claim{Trait: f.trait.ID, Op: ">=", Value: "1"}
	return claim, f.trait.Wording.Some, m.factOf(f.trait, f.value, claim)
}

// largest and smallest compare numbers, by ranges that don't touch.
func largest(m *maker, key int) (Question, bool) {
	return m.extreme(key, ">", func(t catalogue.Trait) string { return t.Wording.Most },
		func(a, b catalogue.Value) bool { return b.Hi < a.Lo })
}

func smallest(m *maker, key int) (Question, bool) {
	return m.extreme(key, "<", func(t catalogue.Trait) string { return t.Wording.Least },
		func(a, b catalogue.Value) bool { return b.Lo > a.Hi })
}

func (m *maker) extreme(key int, op string, words func(catalogue.Trait) string, beats func(a, b catalogue.Value) bool) (Question, bool) {
	for _, p := range m.dice.Perm(len(m.ranges)) {
		sc := m.ranges[p]
		v := m.value(key, sc.trait.ID)
		if words(sc.trait) == "" || !v.Known() || m.unmeasured(key, sc.trait) || m.overlooked(key, sc.trait.ID) || m.wasHeard(key, sc.trait.ID) {
			continue
		}
		beaten := newBitset(len(m.species))
		for at, i := range sc.known {
			if w := sc.values[at]; beats(v, w) && near(v, w) && (sc.trait.Kind != catalogue.Range || clearOf(v, w)) {
				beaten.add(i)
			}
		}
		m.lookAt(sc.trait)
		if wrong := m.mixedCompany(key, m.taughtOf(key, sc.trait, beaten), m.wrong); wrong != nil {
			return m.compared(key, wrong, sc.trait, op, words(sc.trait)), true
		}
	}
	return Question{}, false
}

// unmeasured are numbers that nobody compares: how wide a bird's toes spread, how
// many toes a hoof has.
func (m *maker) unmeasured(key int, t catalogue.Trait) bool {
	width := t.ID == "front_width" || t.ID == "hind_width"
	return width && m.class[key] == "bird" || m.subject == "track" && t.Kind == catalogue.Count && m.value(key, t.ID).Hi <= 2
}

// near reports whether two sizes are worth comparing: within a factor of one and a
// half, so that the animals' own sizes don't tell.
func near(a, b catalogue.Value) bool {
	x, y := a.Lo+a.Hi, b.Lo+b.Hi
	return x <= 1.5*y && y <= 1.5*x
}

func (m *maker) compared(key int, wrong []int, t catalogue.Trait, op, words string) Question {
	next := wrong[0]
	for _, i := range wrong {
		v, best := m.value(i, t.ID), m.value(next, t.ID)
		if op == ">" && v.Hi > best.Hi || op == "<" && v.Lo < best.Lo {
			next = i
		}
	}
	edge := m.value(next, t.ID).Hi
	if op == "<" {
		edge = m.value(next, t.ID).Lo
	}
	m.used.add(root(t))
	limit := catalogue.Value{Status: catalogue.Known, Lo: edge, Hi: edge}.String()
	q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{{Trait: t.ID, Op: op, Value: limit}})
	q.Prompt = m.book.which(m.book.part(m.species[key], t), "", words)
	q.Reason = fmt.Sprintf(m.book.compared, sentence(m.shows(key, t)), m.eachOf(wrong, t))
	return q
}

// eachOf says how all the others stand in a trait, those that are alike together.
func (m *maker) eachOf(wrong []int, t catalogue.Trait) string {
	var all []saying
	for _, i := range wrong {
		all = append(all, m.saying(i, t))
	}
	var clauses []string
	for _, same := range alike(all) {
		if len(same) == len(wrong) {
			return m.book.others(m.book.all(same[0].part), m.bears(same[0].phrase, wrong))
		}
		clauses = append(clauses, m.told(same))
	}
	return strings.Join(clauses, "; ")
}

// taughtWell is the weight of a trait by which anyone could tell an odd one out.
const taughtWell = 2

// oddOneOut: three share a value of the trait named, the key has another.
func oddOneOut(m *maker, key int) (Question, bool) {
	for _, f := range m.shuffled(m.shared, sequence(len(m.shared)), func(f *fact) bool { return f.no.has(key) }) {
		if m.saidFiner(f) || f.passed.has(key) || m.overlooked(key, f.trait.ID) || m.wasHeard(key, f.trait.ID) {
			continue
		}
		m.lookAt(f.trait)
		wrong := m.mixedCompany(key, f.yes, m.wrong)
		if wrong == nil {
			continue
		}
		m.used.add(f.root)
		claim := f.claim
		claim.Op = "!="
		q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{claim})
		q.Difficulty = m.easyAs(f.trait, q.Difficulty)
		if q.Prompt = m.book.oddLevel[f.value.Text]; f.trait.ID != feedsAs {
			q.Prompt = fmt.Sprintf(m.book.oddOne, m.bears(f.trait.Label, append([]int{key}, wrong...)))
		}
		rest := m.book.others(m.book.all(m.book.part(m.species[key], f.trait)), m.bears(f.holds, wrong))
		q.Reason = fmt.Sprintf(m.book.compared, sentence(m.shows(key, f.trait)), rest)
		return q, true
	}
	return Question{}, false
}

// saidFiner reports whether a finer trait says more of some that share a value: nobody
// puts a bean and a barrel together because both are longer than wide.
func (m *maker) saidFiner(f *fact) bool {
	finer := related[f.trait.ID].finer
	return slices.ContainsFunc(f.yes.members(), func(i int) bool { return m.value(i, finer).Known() })
}

// animalToFormula shows four formulas, each of some species.
func animalToFormula(m *maker, key int) (Question, bool) {
	return m.valuesOf(key, "dental_formula", m.book.formula)
}

// countTheTeeth shows four totals, each of some species.
func countTheTeeth(m *maker, key int) (Question, bool) {
	return m.valuesOf(key, "total_teeth", m.book.teeth)
}

// valuesOf asks for the key's value of a trait among values of other species,
// none of which the key could show. The reason of a total has the formula that adds up to it.
func (m *maker) valuesOf(key int, trait, prompt string) (Question, bool) {
	v := m.value(key, trait)
	claim := catalogue.Claim{Trait: trait, Op: "=", Value: v.Claimed()}
	if claim.Value == "" || m.wasHeard(key, m.traits[trait].ID) || m.overlooked(key, m.traits[trait].ID) {
		return Question{}, false
	}
	seen := map[string]bool{v.Typical().String(): true}
	var wrong []int
	for _, nb := range m.neighbours(key) {
		if len(wrong) == others {
			break
		}
		if !m.fits(nb) || m.overlooked(nb.species, trait) {
			continue
		}
		w := m.value(nb.species, trait)
		fits := claim.Holds(w) == catalogue.False && w.Claimed() != "" && !v.May(w.Typical().String())
		if text := w.Typical().String(); fits && !seen[text] {
			seen[text] = true
			wrong = append(wrong, nb.species)
		}
	}
	if len(wrong) < fewest { // three options will do: some traits have few values
		return Question{}, false
	}
	m.used.add(trait)
	q := m.bySpecies(key, wrong, func(i int) string { return sentence(m.value(i, trait).Typical().String()) }, []catalogue.Claim{claim})
	q.Prompt = fmt.Sprintf(prompt, m.book.the(m.species[key]))
	t := m.traits[trait]
	other := slices.MinFunc(wrong, func(a, b int) int {
		return unlike(v.Typical().String(), m.value(a, trait).Typical().String()) - unlike(v.Typical().String(), m.value(b, trait).Typical().String())
	})
	says := sentence(m.book.stated(m.species[key], t, t.Say(v)))
	if sum := m.value(key, formula).Typical(); trait != formula && sum.Known() {
		says += fmt.Sprintf(" (%s)", sum)
	}
	q.Reason = fmt.Sprintf(m.book.byComparison, says, m.shows(other, t))
	return q, true
}

// unlike counts the places in which two formulas, or numbers, differ as they are printed.
func unlike(a, b string) int {
	n := max(len(a), len(b)) - min(len(a), len(b))
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			n++
		}
	}
	return n
}

// trailPattern: "Which animal usually bounds?"
func trailPattern(m *maker, key int) (Question, bool) {
	return m.single(key, m.holding(key), func(f *fact) bool { return trailView.reads(f.trait) && positive(f) })
}

// teethLacked asks which teeth an animal lacks.
const teethLacked = "missing-teeth"

// missingTeeth: "Which of these teeth does the white-tailed deer lack?"
func missingTeeth(m *maker, key int) (Question, bool) {
	if m.minute(key) || m.smallSkull(key) {
		return Question{}, false
	}
	disputed := func(f *fact) bool { return f.trait.ID == "lower_canines" && m.canineAmongIncisors(key) }
	var list []statement
	var deciding catalogue.Trait
	for _, p := range m.dice.Perm(len(m.facts)) {
		f := m.facts[p]
		if f.trait.Unit != "per side" || !zero(f) || !f.yes.has(key) || disputed(f) {
			continue
		}
		deciding = f.trait
		list = append(list, statement{sentence(f.trait.Label), f.claim, f.trait})
		break
	}
	if list == nil || m.wish != 0 && 6-deciding.Ease != m.wish {
		return Question{}, false
	}
	for _, p := range m.dice.Perm(len(m.facts)) {
		f := m.facts[p]
		if f.trait.Unit == "per side" && zero(f) && f.no.has(key) && !disputed(f) && len(list) < optionCount {
			list = append(list, statement{sentence(f.trait.Label), f.claim, f.trait})
		}
	}
	if len(list) < optionCount {
		return Question{}, false
	}
	s := m.species[key]
	q := m.byStatement(About{Is: s.Name}, list)
	q.Prompt = fmt.Sprintf(m.book.lacks, m.book.the(s))
	q.Reason = sentence(m.book.stated(s, deciding, deciding.Wording.Denies)) + "."
	if formula := m.value(key, "dental_formula").Typical(); formula.Known() {
		q.Reason += fmt.Sprintf(m.book.formulaIs, formula.Text)
	}
	return q, true
}
