package questions

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/estimate"
)

// Sums of those who manage wildlife: how many there are, from a count of some.

// estimated is the trait of a claim that a method gives a number.
const estimated = "estimate"

// sum is how one kind of sum is set.
type sum struct {
	method string
	ease   int
	of     func(catalogue.Species) bool // whom it is counted by
	given  func(m *maker) []float64
}

// caught are those that one catches and marks by the dozen: they are light, and no
// animals of farms and houses.
func caught(s catalogue.Species) bool {
	const heaviest = 8 // kg
	v := s.Values["body_mass"]
	return !slices.Contains([]string{"Bos taurus", "Canis familiaris", "Equus caballus", "Felis catus"}, s.Name) && !(v.Known() && v.Hi > heaviest)
}

func isDeer(s catalogue.Species) bool { return strings.HasPrefix(s.Name, "Odocoileus ") }

// onStrips are families that are counted from a line walked or driven. Of moose
// there are too few to a square kilometre for whole numbers.
func onStrips(s catalogue.Species) bool {
	return slices.Contains([]string{"Cervidae", "Leporidae", "Antilocapridae", "Phasianidae"}, s.Values["family"].Text) && s.Name != "Alces alces"
}

// sums is the table to extend, beside estimate.Methods and the phrases. Their
// numbers come out whole, since a round has a clock and no calculator.
var sums = []sum{
	{"petersen", 3, caught, func(m *maker) []float64 { return marked(m, 0) }},
	{"chapman", 2, caught, func(m *maker) []float64 { return marked(m, 1) }},
	{"strip", 3, onStrips, func(m *maker) []float64 {
		widths, lengths := []float64{200, 250, 400, 500}, []float64{4, 8, 12, 16, 20}
		w, l := widths[m.dice.IntN(len(widths))], lengths[m.dice.IntN(len(lengths))]
		return []float64{math.Round(w / 1000 * l * float64(3+m.dice.IntN(10))), w, l}
	}},
	{"pellets", 1, isDeer, func(m *maker) []float64 {
		plots := [][2]float64{{50, 20000}, {100, 10000}, {100, 20000}, {200, 5000}, {200, 10000}} // days, m²: a million of both, or two
		p := plots[m.dice.IntN(len(plots))]
		return []float64{estimate.GroupsADay * p[0] * p[1] / 1e6 * float64(2+m.dice.IntN(14)), p[0], p[1]}
	}},
	{"fawns", 4, isDeer, herd},
	{"bucks", 4, isDeer, herd},
}

// marked gives numbers that a class works out in its head: with the correction
// added to each, the catch is a few times those of it that had a mark.
func marked(m *maker, correction int) []float64 {
	found, times, first := 4+m.dice.IntN(9), 3+m.dice.IntN(6), 30+m.dice.IntN(91)
	return []float64{float64(first - correction), float64(found*times - correction), float64(found - correction)}
}

func herd(m *maker) []float64 {
	some := []int{20, 40, 60, 80, 120} // a hundred asks for nothing
	does := some[m.dice.IntN(len(some))]
	return []float64{float64(does * (3 + m.dice.IntN(11)) / 20), float64(does), float64(does * (7 + m.dice.IntN(17)) / 20)}
}

// workedSum asks for an estimate among what the usual mistakes give.
func workedSum(m *maker, key int) (Question, bool) {
	s := m.species[key]
	for _, i := range rarest(m.dice, len(sums), func(i int) int { return m.used[sums[i].method] }) {
		if kind := sums[i]; kind.of(s) {
			if q, ok := m.worked(key, kind); ok {
				m.used[kind.method]++
				return q, true
			}
		}
	}
	return Question{}, false
}

func (m *maker) worked(key int, kind sum) (Question, bool) {
	method, _ := estimate.By(kind.method)
	given := kind.given(m)
	right := math.Round(method.Of(given))
	const tie = 0.4 // nearer to a half, and one could round it either way
	if math.Abs(method.Of(given)-right) > tie {
		return Question{}, false
	}
	numbers := []float64{right}
	for _, x := range method.Mistakes(given) {
		x = math.Round(x)
		if _, wrong := method.Is(given, x); wrong && x > 0 && !slices.Contains(numbers, x) && len(numbers) <= m.wrong {
			numbers = append(numbers, x)
		}
	}
	if len(numbers) <= m.wrong || right < 1 {
		return Question{}, false
	}
	var list []statement
	for _, x := range numbers {
		claim := catalogue.Claim{Trait: estimated, Op: "=", Value: estimate.Claim(kind.method, given, x)}
		list = append(list, statement{strconv.FormatFloat(x, 'f', -1, 64), claim, catalogue.Trait{ID: estimated, Ease: kind.ease}})
	}
	s := m.species[key]
	q := m.byStatement(About{Is: s.Name}, list)
	said := strings.NewReplacer("{the}", m.book.the(s), "{1}", plainNumber(given[0]), "{2}", plainNumber(given[1]), "{half}", plainNumber(given[1]/2), "{3}", plainNumber(given[2]), "{n}", plainNumber(right))
	q.Prompt, q.Reason = said.Replace(m.book.sums[kind.method].asks), said.Replace(m.book.sums[kind.method].works)
	return q, true
}

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// inSum judges a test that is of an estimate; false of any other.
func inSum(subject string, test Test) (truth catalogue.Truth, is bool) {
	if subject != catalogue.Management || len(test.All) != 1 || test.All[0].Trait != estimated {
		return catalogue.Undecided, false
	}
	m, given, number, ok := estimate.ReadClaim(test.All[0].Value)
	if !ok {
		return catalogue.Undecided, true
	}
	switch right, wrong := m.Is(given, number); {
	case right:
		return catalogue.True, true
	case wrong:
		return catalogue.False, true
	}
	return catalogue.Undecided, true
}

// sumPhrases ask for an estimate and work it out: {the} is the animal, {1} to {3}
// the numbers given, {half} half of the second, {n} the estimate.
type sumPhrases struct{ asks, works string }
