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

// marks is the sort of sum that a paper has once.
const marks = "marked"

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

// transect is what is counted from: how wide the strip is on which one sees all, and how
// long.
type transect struct{ widths, lengths []float64 }

// strips are the families that are counted from a line walked or driven, in m and km;
// stripsUS are the same in yards and miles.
var (
	strips = map[string]transect{"Cervidae": {[]float64{200, 400}, kilometres}, "Antilocapridae": {[]float64{400, 500}, kilometres},
		"Leporidae": {[]float64{50, 100}, kilometres}, "Phasianidae": {[]float64{50, 100}, kilometres}}
	stripsUS = map[string]transect{"Cervidae": {[]float64{220, 440}, miles}, "Antilocapridae": {[]float64{440}, miles},
		"Leporidae": {[]float64{44, 88}, miles}, "Phasianidae": {[]float64{44, 88}, miles}}
	kilometres, miles = []float64{1, 2, 5, 10, 20}, []float64{1, 2, 4, 5, 8, 10, 16, 20}
)

// densities are animals to a square kilometre, in the published data: of mammals as in
// PanTHERIA (its elk is Cervus elaphus), of birds the median of TetraDENSITY. A sum has
// from half as many to as many.
var densities = map[string]float64{
	"Odocoileus virginianus": 17.32, "Odocoileus hemionus": 16, "Cervus canadensis": 2.9, "Rangifer tarandus": 2.55, "Antilocapra americana": 0.82,
	"Lepus americanus": 100, "Lepus californicus": 12, "Sylvilagus floridanus": 680.83,
	"Cynomys ludovicianus": 1830, "Marmota monax": 136.7, "Sciurus carolinensis": 690, "Tamiasciurus hudsonicus": 174.35, "Ictidomys tridecemlineatus": 386.61,
	"Dipodomys ordii": 297, "Microtus pennsylvanicus": 2537.98, "Peromyscus maniculatus": 661.87, "Myocastor coypus": 226.26,
	"Procyon lotor": 3.29, "Didelphis virginiana": 18.08, "Mephitis mephitis": 8.15,
	"Phasianus colchicus": 30.8, "Anas platyrhynchos": 2.667,
}

// squareMile in square kilometres.
const squareMile = 2.59

func ofFamily(families []string) func(catalogue.Species) bool {
	return func(s catalogue.Species) bool { return slices.Contains(families, s.Values["family"].Text) }
}

func isDeer(s catalogue.Species) bool { return strings.HasPrefix(s.Name, "Odocoileus ") }

// onStrips are those of these families of which it is published how many there are.
func onStrips(s catalogue.Species) bool {
	return strips[s.Values["family"].Text].widths != nil && spread(s)
}

// spread are those of which it is published how many a square kilometre has.
func spread(s catalogue.Species) bool { return densities[s.Name] > 0 }

// wild are all but those of farms and houses, which nobody counts so.
func wild(s catalogue.Species) bool {
	return !slices.Contains([]string{"Bos taurus", "Canis familiaris", "Equus caballus", "Felis catus"}, s.Name)
}

// sums is the table to extend, beside estimate.Methods and the phrases. Their
// numbers come out whole, since a round has a clock and no calculator. A language has
// phrases for those that are in the units of its readers.
var sums = []sum{
	{"petersen", marks, 3, ofFamily(trapped), func(m *maker, _ catalogue.Species) []float64 { return marked(m, 0) }},
	{"chapman", marks, 2, ofFamily(trapped), func(m *maker, _ catalogue.Species) []float64 { return marked(m, 1) }},
	{"strip", "strip", 3, onStrips, func(m *maker, s catalogue.Species) []float64 { return onStrip(m, s, strips, 1000, 1) }},
	{"strip_mi", "strip", 3, onStrips, func(m *maker, s catalogue.Species) []float64 { return onStrip(m, s, stripsUS, 1760, squareMile) }},
	{"pellets_ac", "pellets", 1, isDeer, func(m *maker, s catalogue.Species) []float64 {
		p := one(m, [][2]float64{{80, 4}, {160, 2}, {160, 4}, {80, 8}})                                                  // days, acres: a square mile's acres of both, or half
		return []float64{estimate.GroupsADay * p[0] * p[1] / 640 * 2 * math.Round(like(m, s, squareMile)/2), p[0], p[1]} // an even number: the groups are whole
	}},
	{"pellets", "pellets", 1, isDeer, func(m *maker, s catalogue.Species) []float64 {
		plots := [][2]float64{{50, 20000}, {100, 10000}, {100, 20000}, {200, 5000}, {200, 10000}} // days, m²: a million of both, or two
		p := one(m, plots)
		return []float64{estimate.GroupsADay * p[0] * p[1] / 1e6 * like(m, s, 1), p[0], p[1]}
	}},
	{"fawns", "ratio", 4, isDeer, herd},
	{"bucks", "ratio", 4, isDeer, herd},
	{"density", "density", 4, spread, func(m *maker, s catalogue.Species) []float64 {
		return onLand(m, like(m, s, 1), 100, []float64{10, 20, 50, 200, 400, 500, 600, 800, 1200})
	}},
	{"density_ac", "density", 4, spread, func(m *maker, s catalogue.Species) []float64 {
		return onLand(m, like(m, s, squareMile), 640, []float64{32, 64, 160, 320, 1280, 1920, 2560, 3200})
	}},
	{"rise", "trend", 3, wild, func(m *maker, s catalogue.Species) []float64 { return trend(m, s, 1) }},
	{"fall", "trend", 3, wild, func(m *maker, s catalogue.Species) []float64 { return trend(m, s, -1) }},
	{"quota", "quota", 4, ofFamily(hunted), func(m *maker, s catalogue.Species) []float64 {
		return []float64{one(m, []float64{120, 160, 240, 320, 360, 400, 600, 800}), one(m, shareTaken(s))}
	}},
}

// Animals of so many kg breed slowly: they become more, and bear hunting, by little.
const slow, slowest = 20, 250

// shareTaken are percents of which nobody says that they are too many to take.
func shareTaken(s catalogue.Species) []float64 {
	switch kg := s.Values["body_mass"].Lo; {
	case kg >= slowest:
		return []float64{5, 10}
	case kg >= slow:
		return []float64{5, 10, 15, 20}
	}
	return []float64{10, 15, 20, 25, 30}
}

// like is a number of animals that is like the animal, of two digits: to a square
// kilometre, or to what has so many.
func like(m *maker, s catalogue.Species, square float64) float64 {
	most := densities[s.Name] * square
	d := most * (1 + m.dice.Float64()) / 2
	step := math.Pow(10, math.Max(0, math.Floor(math.Log10(d))-1))
	return math.Floor(d/step) * step
}

// Of fewer animals nobody makes a sum, and more are counted on less land.
const fewSeen, manySeen = 4, 200

// onLand gives what is seen on land of which so many units are a square.
func onLand(m *maker, density, units float64, areas []float64) []float64 {
	fit := slices.DeleteFunc(slices.Clone(areas), func(a float64) bool { return !countable(density * a / units) })
	if len(fit) == 0 {
		return nil
	}
	area := one(m, fit)
	return []float64{density * area / units, area}
}

func countable(seen float64) bool {
	return seen == math.Trunc(seen) && fewSeen <= seen && seen <= manySeen
}

func one[T any](m *maker, list []T) T { return list[m.dice.IntN(len(list))] }

// onStrip gives what is seen on a strip: so many of the unit of its width are one of its
// length.
func onStrip(m *maker, s catalogue.Species, strips map[string]transect, unit, square float64) []float64 {
	l, density := strips[s.Values["family"].Text], like(m, s, square)
	width := one(m, l.widths)
	fit := slices.DeleteFunc(slices.Clone(l.lengths), func(length float64) bool { return !countable(density * width * length / unit) })
	if len(fit) == 0 {
		return nil
	}
	length := one(m, fit)
	return []float64{density * width * length / unit, width, length}
}

// marked gives numbers that a class works out in its head: with the correction
// added to each, the catch is a few times those of it that had a mark.
func marked(m *maker, correction int) []float64 {
	found, times, first := 4+m.dice.IntN(9), 3+m.dice.IntN(6), 30+m.dice.IntN(91)
	return []float64{float64(first - correction), float64(found*times - correction), float64(found - correction)}
}

// trend gives two counts, the later one larger or smaller by a whole number of
// twentieths: by a quarter at most where they breed slowly.
func trend(m *maker, s catalogue.Species, sign float64) []float64 {
	most := 10
	if s.Values["body_mass"].Lo >= slow {
		most = 5
	}
	first, twentieths := one(m, []float64{40, 60, 80, 120, 160, 240}), float64(2+m.dice.IntN(most-1))
	return []float64{first, first + sign*first*twentieths/20}
}

func herd(m *maker, _ catalogue.Species) []float64 {
	does := one(m, []int{20, 40, 60, 80, 120}) // a hundred asks for nothing
	return []float64{float64(does * (3 + m.dice.IntN(7)) / 20), float64(does), float64(does * (7 + m.dice.IntN(17)) / 20)}
}

// workedSum asks for an estimate among what the usual mistakes give. While one sort
// of sums is due, an animal that has none of it waits.
func workedSum(m *maker, key int) (Question, bool) {
	due := m.sumsDue()
	for _, i := range m.dice.Perm(len(sums)) {
		if kind := sums[i]; m.setBy(kind, m.species[key]) && (m.used[kind.sort].times <= due || m.lenient == besideStrangers) {
			if q, ok := m.worked(key, kind); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

// setBy reports whether an animal is counted so, in units of the language.
func (m *maker) setBy(kind sum, s catalogue.Species) bool {
	return kind.of(s) && m.book.sums[kind.method].asks != ""
}

// sumMethod is the method of the sum that a question asks, if it asks one.
func (q Question) sumMethod() (string, bool) {
	if q.Test.All[0].Trait != estimated {
		return "", false
	}
	method, _, _, _ := estimate.ReadClaim(q.Test.All[0].Value)
	return method.Name, true
}

// sumSort is the sort of that sum.
func (q Question) sumSort() (string, bool) {
	method, is := q.sumMethod()
	if !is {
		return "", false
	}
	return sums[slices.IndexFunc(sums, func(s sum) bool { return s.method == method })].sort, true
}

// sumsDue is how often the sort was asked that was asked least, of those for which
// there is an animal. The marked were asked for once, and wait for another paper.
func (m *maker) sumsDue() int {
	due := math.MaxInt
	for _, kind := range sums {
		if waits := kind.sort == marks && m.used[marks].times > 0; !waits && m.counts(kind) {
			due = min(due, m.used[kind.sort].times)
		}
	}
	return due
}

// counts reports whether any animal in play is counted so.
func (m *maker) counts(kind sum) bool {
	any, known := m.counted[kind.method]
	if !known {
		any = slices.ContainsFunc(m.species, func(s catalogue.Species) bool { return m.setBy(kind, s) })
		m.counted[kind.method] = any
	}
	return any
}

// believable is by how many times a wrong result may miss the right one.
const believable = 8

// A wrong result lies apart from the right one and from each other by more than this
// part of it: none is a matter of rounding.
const rounding = 0.05

// mistaken are wrong results, the usual one among them, of which some are below the
// right one and the rest above, by the dice: nobody finds the key by its place.
func (m *maker) mistaken(method estimate.Method, given []float64) []float64 {
	right := method.Of(given)
	var below, above []float64
	crowded := func(x float64) bool {
		near := func(y float64) bool { return math.Abs(x-y) <= rounding*y }
		return near(right) || slices.ContainsFunc(slices.Concat(below, above), near)
	}
	mistakes := method.Mistakes(given)
	for _, i := range append([]int{0}, m.dice.Perm(len(mistakes))...) {
		x := math.Round(mistakes[i])
		side := &above
		if x < right {
			side = &below
		}
		if _, wrong := method.Is(given, x); wrong && x >= 1 && math.Max(x/right, right/x) < believable && !crowded(x) {
			*side = append(*side, x)
		} else if len(below)+len(above) == 0 {
			return nil // the usual one is none here
		}
	}
	if !m.enough(len(below) + len(above)) {
		return nil
	}
	n := max(min(m.dice.IntN(m.wrong+1), len(below)), m.wrong-len(above))
	switch usual := math.Round(mistakes[0]); {
	case usual < right:
		n = max(n, 1)
	case n == m.wrong:
		n--
	}
	return append(below[:n:n], above[:m.wrong-n]...)
}

// plainly: no two numbers are equal, and none is the answer.
func plainly(given []float64, right float64) bool {
	seen := append(slices.Clone(given), right)
	slices.Sort(seen)
	return len(slices.Compact(seen)) == len(given)+1
}

func (m *maker) worked(key int, kind sum) (Question, bool) {
	s := m.species[key]
	method, _ := estimate.By(kind.method)
	given := kind.given(m, s)
	if given == nil {
		return Question{}, false
	}
	right := method.Of(given)
	wrong := m.mistaken(method, given)
	if right != math.Round(right) || right < 1 || wrong == nil || !plainly(given, right) {
		return Question{}, false
	}
	numbers := append([]float64{right}, wrong...)
	var list []statement
	for _, x := range numbers {
		claim := catalogue.Claim{Trait: estimated, Op: "=", Value: estimate.Claim(kind.method, given, x)}
		list = append(list, statement{plainNumber(x), claim, catalogue.Trait{ID: estimated, Ease: kind.ease}})
	}
	q := m.byStatement(About{Is: s.Name}, list)
	put := []string{"{the}", m.book.the(s), "{herd}", m.book.web.herd(s), "{half}", plainNumber(given[1] / 2), "{n}", plainNumber(right)}
	for i, g := range given {
		put = append(put, fmt.Sprintf("{%d}", i+1), plainNumber(g))
	}
	said := strings.NewReplacer(put...)
	q.Prompt, q.Reason = said.Replace(m.book.sums[kind.method].asks), said.Replace(m.book.sums[kind.method].works)+m.book.madeUp
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

// sumPhrases ask for an estimate and work it out: {the} is the animal, {herd} some of
// them, {1} to {3} the numbers given, {half} half of the second, {n} the estimate.
type sumPhrases struct{ asks, works string }
