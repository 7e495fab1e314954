package questions

import (
	"fmt"
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

// sum is how one kind of sum is set. Kinds of one sort take turns together.
type sum struct {
	method string
	sort   string
	ease   int
	of     func(catalogue.Species) bool // whom it is counted by
	given  func(m *maker, s catalogue.Species) []float64
}

// trapped are families that are caught alive and marked by the dozen.
var trapped = []string{"Sciuridae", "Cricetidae", "Muridae", "Heteromyidae", "Leporidae", "Procyonidae", "Didelphidae", "Mephitidae", "Anatidae"}

// hunted are families with a season and a bag limit in most places.
var hunted = []string{"Cervidae", "Leporidae", "Phasianidae", "Anatidae", "Castoridae", "Procyonidae", "Antilocapridae"}

// strips are the families that are counted from a line walked or driven, with the
// widths in m on which one sees them all.
var strips = map[string][]float64{"Cervidae": {200, 400}, "Antilocapridae": {400, 500}, "Leporidae": {50, 100}, "Phasianidae": {50, 100}}

func ofFamily(families []string) func(catalogue.Species) bool {
	return func(s catalogue.Species) bool { return slices.Contains(families, s.Values["family"].Text) }
}

func isDeer(s catalogue.Species) bool { return strings.HasPrefix(s.Name, "Odocoileus ") }

// onStrips leaves out moose: there are too few to a square kilometre.
func onStrips(s catalogue.Species) bool {
	return strips[s.Values["family"].Text] != nil && s.Name != "Alces alces"
}

// spread are those of which a square kilometre has some, and not thousands as of mice.
func spread(s catalogue.Species) bool {
	const least = 0.3 // kg
	return (ofFamily(trapped)(s) || onStrips(s)) && s.Values["body_mass"].Lo >= least
}

// wild are all but those of farms and houses, which nobody counts so.
func wild(s catalogue.Species) bool {
	return !slices.Contains([]string{"Bos taurus", "Canis familiaris", "Equus caballus", "Felis catus"}, s.Name)
}

// sums is the table to extend, beside estimate.Methods and the phrases. Their
// numbers come out whole, since a round has a clock and no calculator.
var sums = []sum{
	{"petersen", "marked", 3, ofFamily(trapped), func(m *maker, _ catalogue.Species) []float64 { return marked(m, 0) }},
	{"chapman", "marked", 2, ofFamily(trapped), func(m *maker, _ catalogue.Species) []float64 { return marked(m, 1) }},
	{"strip", "strip", 3, onStrips, onStrip},
	{"pellets", "pellets", 1, isDeer, func(m *maker, _ catalogue.Species) []float64 {
		plots := [][2]float64{{50, 20000}, {100, 10000}, {100, 20000}, {200, 5000}, {200, 10000}} // days, m²: a million of both, or two
		p := one(m, plots)
		return []float64{estimate.GroupsADay * p[0] * p[1] / 1e6 * float64(4+m.dice.IntN(12)), p[0], p[1]}
	}},
	{"fawns", "ratio", 4, isDeer, herd},
	{"bucks", "ratio", 4, isDeer, herd},
	{"density", "density", 4, spread, func(m *maker, _ catalogue.Species) []float64 {
		area := one(m, []float64{200, 400, 500, 600, 800, 1200})
		return []float64{area / 100 * float64(4+m.dice.IntN(20)), area}
	}},
	{"rise", "trend", 3, wild, func(m *maker, _ catalogue.Species) []float64 { return trend(m, 1) }},
	{"fall", "trend", 3, wild, func(m *maker, _ catalogue.Species) []float64 { return trend(m, -1) }},
	{"quota", "quota", 4, ofFamily(hunted), func(m *maker, _ catalogue.Species) []float64 {
		return []float64{one(m, []float64{120, 160, 240, 320, 360, 400, 600, 800}), one(m, []float64{5, 10, 15, 20, 25, 30})}
	}},
}

func one[T any](m *maker, list []T) T { return list[m.dice.IntN(len(list))] }

// onStrip: strips of 5 km or their multiples make whole numbers of what is seen.
func onStrip(m *maker, s catalogue.Species) []float64 {
	width, length := one(m, strips[s.Values["family"].Text]), one(m, []float64{5, 10, 20})
	area := width / 1000 * length
	return []float64{area * math.Ceil(float64(4+m.dice.IntN(9))/area) * math.Max(1, math.Round(area)), width, length}
}

// marked gives numbers that a class works out in its head: with the correction
// added to each, the catch is a few times those of it that had a mark.
func marked(m *maker, correction int) []float64 {
	found, times, first := 4+m.dice.IntN(9), 3+m.dice.IntN(6), 30+m.dice.IntN(91)
	return []float64{float64(first - correction), float64(found*times - correction), float64(found - correction)}
}

// trend gives two counts, the later one larger or smaller by a whole number of
// tenths or twentieths.
func trend(m *maker, sign float64) []float64 {
	first, twentieths := one(m, []float64{40, 60, 80, 120, 160, 240}), float64(2+m.dice.IntN(13))
	return []float64{first, first + sign*first*twentieths/20}
}

func herd(m *maker, _ catalogue.Species) []float64 {
	does := one(m, []int{20, 40, 60, 80, 120}) // a hundred asks for nothing
	return []float64{float64(does * (3 + m.dice.IntN(11)) / 20), float64(does), float64(does * (7 + m.dice.IntN(17)) / 20)}
}

// workedSum asks for an estimate among what the usual mistakes give. While one sort
// of sums is due, an animal that has none of it waits.
func workedSum(m *maker, key int) (Question, bool) {
	due := m.sumsDue()
	for _, i := range m.dice.Perm(len(sums)) {
		if kind := sums[i]; kind.of(m.species[key]) && (m.used[kind.sort] <= due || m.lenient == besideStrangers) {
			if q, ok := m.worked(key, kind); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

// sumSort is the sort of sum that a question asks, if it asks one.
func (q Question) sumSort() (string, bool) {
	if q.Template != "worked-sum" {
		return "", false
	}
	method, _, _, _ := estimate.ReadClaim(q.Test.All[0].Value)
	return sums[slices.IndexFunc(sums, func(s sum) bool { return s.method == method.Name })].sort, true
}

// sumsDue is how often the sort was asked that was asked least, of those for which
// there is an animal.
func (m *maker) sumsDue() int {
	due := math.MaxInt
	for _, kind := range sums {
		if slices.ContainsFunc(m.species, kind.of) {
			due = min(due, m.used[kind.sort])
		}
	}
	return due
}

// mistaken are wrong results, of which some are below the right one and the rest
// above, by the dice: nobody finds the key by its place.
func (m *maker) mistaken(method estimate.Method, given []float64) []float64 {
	right := method.Of(given)
	var below, above []float64
	mistakes := method.Mistakes(given)
	for _, i := range m.dice.Perm(len(mistakes)) {
		x := math.Round(mistakes[i])
		_, wrong := method.Is(given, x)
		switch {
		case !wrong || x < 1 || slices.Contains(below, x) || slices.Contains(above, x):
		case x < right:
			below = append(below, x)
		default:
			above = append(above, x)
		}
	}
	if len(below)+len(above) < m.wrong {
		return nil
	}
	n := max(min(m.dice.IntN(m.wrong+1), len(below)), m.wrong-len(above))
	return append(below[:n], above[:m.wrong-n]...)
}

func (m *maker) worked(key int, kind sum) (Question, bool) {
	s := m.species[key]
	method, _ := estimate.By(kind.method)
	given := kind.given(m, s)
	right := method.Of(given)
	wrong := m.mistaken(method, given)
	if right != math.Round(right) || right < 1 || wrong == nil {
		return Question{}, false
	}
	numbers := append([]float64{right}, wrong...)
	var list []statement
	for _, x := range numbers {
		claim := catalogue.Claim{Trait: estimated, Op: "=", Value: estimate.Claim(kind.method, given, x)}
		list = append(list, statement{plainNumber(x), claim, catalogue.Trait{ID: estimated, Ease: kind.ease}})
	}
	q := m.byStatement(About{Is: s.Name}, list)
	put := []string{"{the}", m.book.the(s), "{half}", plainNumber(given[1] / 2), "{n}", plainNumber(right)}
	for i, g := range given {
		put = append(put, fmt.Sprintf("{%d}", i+1), plainNumber(g))
	}
	said := strings.NewReplacer(put...)
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
