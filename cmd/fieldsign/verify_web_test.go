package main

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
)

// The independent verifier's own reading of the food web: from the catalogue as
// it is printed and from the sheet of prey, by the rules as docs/questions.md
// states them. It shares no code with what asks.

// webFacts adds to what is printed what the rules make of it.
func (v verifier) webFacts(t testing.TB) {
	file, err := os.Open("../../questions/catalogue/sheets/prey.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	said := map[string][][]string{}
	for _, r := range rows[1:] {
		said[r[0]] = append(said[r[0]], r)
	}
	var animals []string
	for key := range v.values {
		if name, trait, _ := strings.Cut(key, "\n"); trait == "body_mass" {
			animals = append(animals, name)
		}
	}
	slices.Sort(animals)
	for _, a := range animals {
		for _, b := range animals {
			v.note(a, "preys_on_"+under(b), v.hunts(said[a], a, b))
			v.note(a, "competes_with_"+under(b), v.competes(a, b))
		}
		for kind, parts := range partsOf {
			v.note(a, "feeds_on_"+under(kind), v.feeds(said[a], a, kind, parts))
			v.note(a, "lives_on_"+under(kind), v.lives(a, kind))
		}
		v.values[a+"\nfeeds_as"], v.bases[a+"\nfeeds_as"] = v.level(said[a], a)
	}
}

func under(name string) string { return strings.ReplaceAll(name, " ", "_") }

// finding is +1, -1 or 0, and what that rests on, as a place in kinds.
type finding struct{ truth, rests int }

func (v verifier) note(animal, trait string, f finding) {
	if f.truth != 0 {
		v.values[animal+"\n"+trait], v.bases[animal+"\n"+trait] = map[int]string{1: "yes", -1: "no"}[f.truth], kinds[f.rests]
	}
}

var (
	partsOf = map[string][]string{"green plants": {"green"}, "seeds and fruit": {"seeds", "fruit", "nectar"}, "invertebrates": {"invertebrates"}, "fish": {"fish"}, "reptiles and amphibians": {"cold_prey"}, "mammals and birds": {"warm_prey"}}
	flora   = []string{"green", "seeds", "fruit", "nectar"}
	fauna   = []string{"invertebrates", "warm_prey", "cold_prey", "fish", "other_prey", "carrion"}
)

// percent sums shares of the diet; -1 where one is not known.
func (v verifier) percent(animal string, parts []string) float64 {
	sum := 0.0
	for _, p := range parts {
		x, err := strconv.ParseFloat(v.values[animal+"\neats_"+p], 64)
		if err != nil {
			return -1
		}
		sum += x
	}
	return sum
}

func (v verifier) at(animal, trait string) string { return v.values[animal+"\n"+trait] }

func (v verifier) basis(animal string, traits ...string) int {
	least := len(kinds) - 1
	for _, t := range traits {
		least = min(least, slices.Index(kinds, v.bases[animal+"\n"+t]))
	}
	return least
}

// vegan takes no vertebrate: the diet, the guild and every source agree.
func (v verifier) vegan(said [][]string, animal string) bool {
	other := slices.ContainsFunc(said, func(r []string) bool { return r[1] != "invertebrates" && r[1] != "plants" })
	return v.percent(animal, fauna[1:]) == 0 && !other && slices.Contains([]string{"herbivore", "insectivore"}, v.at(animal, "guild"))
}

// takes: what is taken as a rule, by stated rules: no source calls it rare, the hunter
// lives on vertebrates of the land by 30 % or more, no carnivore hunts another, and
// either two sources name it, or it has a mass that such a hunter lives on. Small ones
// take up to half their own mass, birds their own, large ones half of theirs or more.
func (v verifier) takes(rows [][]string, a, b string) bool {
	lo, hi, ok := bounds(v.at(a, "body_mass"))
	plo, phi, also := bounds(v.at(b, "body_mass"))
	sources := map[string]bool{}
	for _, r := range rows {
		sources[r[2]] = true
		if r[6] != "" {
			return false
		}
	}
	switch x, y := v.at(a, "order"), v.at(b, "order"); {
	case v.percent(a, []string{"warm_prey", "other_prey"}) < 30, x == "Carnivora" && x == y, !ok || !also:
		return false
	case len(sources) > 1 && (hi >= 20 || plo <= 5*hi):
		return true
	case y == "Eulipotyphla":
		return false
	case v.at(a, "class") == "bird":
		return plo <= hi
	case hi < 20:
		return 2*plo <= hi
	}
	return 2*phi >= lo
}

// house are the animals of which nothing is decided.
var house = []string{"Bos taurus", "Canis familiaris", "Equus caballus", "Felis catus"}

func (v verifier) hunts(said [][]string, a, b string) finding {
	lo, hi, ok := bounds(v.at(a, "body_mass"))
	plo, phi, also := bounds(v.at(b, "body_mass"))
	rows := slices.DeleteFunc(slices.Clone(said), func(r []string) bool { return r[1] != b })
	named := slices.ContainsFunc(rows, func(r []string) bool { return r[5] != "group" })
	published, group := slices.Index(kinds, "published"), slices.Index(kinds, "group")
	switch {
	case a == b, slices.Contains(house, a), slices.Contains(house, b):
	case len(rows) > 0 && !v.takes(rows, a, b):
	case named && len(rows) > 0:
		return finding{1, published}
	case len(rows) > 0 && ok && also && phi <= 10*lo && len(v.places(a, b)) > 0:
		return finding{1, group}
	case len(rows) > 0:
	case v.vegan(said, a):
		return finding{-1, v.basis(a, "guild")}
	case ok && also && plo > 30*hi:
		return finding{-1, min(v.basis(a, "body_mass"), v.basis(b, "body_mass"))}
	case ok && also && hi < 20 && 2*phi <= lo && v.percent(a, fauna[1:2]) >= 50 && v.reaches(a, b):
		return finding{1, min(v.basis(a, "body_mass", "eats_warm_prey"), v.basis(b, "body_mass"))}
	}
	return finding{}
}

// staples are the kinds of food that a diet is asked about, with the guild of those
// that live on them and the shares in which some of it may stand.
var staples = map[string]struct {
	guild string
	also  []string
}{
	"green plants": {"herbivore", nil}, "seeds and fruit": {"herbivore", nil}, "invertebrates": {"insectivore", nil},
	"fish": {"carnivore", []string{"other_prey"}}, "mammals and birds": {"carnivore", []string{"other_prey", "carrion"}},
}

// mainFood: half of the diet, the guild says nothing else, and of plants the other
// kind is less than 40 %.
func (v verifier) mainFood(animal, kind string) bool {
	rival := map[string]string{"green plants": "seeds and fruit", "seeds and fruit": "green plants"}[kind]
	guild := v.at(animal, "guild")
	return v.percent(animal, partsOf[kind]) >= 50 && v.percent(animal, partsOf[rival]) < 40 && slices.Contains([]string{staples[kind].guild, "variable", ""}, guild)
}

func (v verifier) lives(animal, kind string) finding {
	s, asked := staples[kind]
	rests := v.basis(animal, "eats_"+partsOf[kind][0])
	if g := v.at(animal, "guild"); g != "variable" && g != "" {
		rests = min(rests, v.basis(animal, "guild"))
	}
	most, other := v.percent(animal, slices.Concat(partsOf[kind], s.also)), false
	for k := range staples {
		other = other || v.mainFood(animal, k)
	}
	switch {
	case !asked || most < 0:
	case v.mainFood(animal, kind):
		return finding{1, rests}
	case most == 0, most < 20 && other:
		return finding{-1, rests}
	}
	return finding{}
}

// mostly is what a printed value mostly is.
func mostly(text string) string {
	first, _, _ := strings.Cut(text, ";")
	if strings.HasPrefix(first, "?") {
		return ""
	}
	return first
}

func (v verifier) reaches(a, b string) bool {
	for _, refuge := range []string{"semi_aquatic", "climbs", "burrows"} {
		if mostly(v.at(b, refuge)) != "no" && mostly(v.at(a, refuge)) != "yes" {
			return false
		}
	}
	x, y := heard(v.at(a, "activity")), heard(v.at(b, "activity"))
	sameTime := !x.known || !y.known || slices.ContainsFunc(x.words, y.may)
	if v.at(b, "order") == "Lagomorpha" && mostly(v.at(a, "burrows")) == "yes" {
		return false
	}
	return slices.Contains([]string{"Rodentia", "Lagomorpha"}, v.at(b, "order")) && v.at(b, "family") != "Erethizontidae" && sameTime && len(v.places(a, b)) > 0
}

// places are the parts of the continent that have both.
func (v verifier) places(a, b string) []string {
	theirs := strings.Split(v.at(b, "region"), ";")
	return slices.DeleteFunc(strings.Split(v.at(a, "region"), ";"), func(p string) bool { return p == "" || !slices.Contains(theirs, p) })
}

func (v verifier) feeds(said [][]string, animal, kind string, parts []string) finding {
	sum := v.percent(animal, parts)
	rests := v.basis(animal, "eats_"+parts[0])
	none := finding{-1, min(rests, v.basis(animal, "guild"))}
	level, _ := v.level(said, animal)
	switch plant := slices.Contains(flora, parts[0]); {
	case sum >= 20:
		return finding{1, rests}
	case sum < 0:
	case plant && level == "animals alone", kind == "invertebrates" && level == "plants alone", !plant && kind != "invertebrates" && v.vegan(said, animal):
		return none
	}
	return finding{}
}

func (v verifier) level(said [][]string, animal string) (level, rests string) {
	green, meat := v.percent(animal, flora), v.percent(animal, fauna)
	is := func(words ...string) bool { return slices.Contains(words, v.at(animal, "guild")) }
	grazes := slices.ContainsFunc(said, func(r []string) bool { return r[1] == "plants" })
	rests = kinds[max(0, v.basis(animal, "eats_green", "guild"))]
	switch {
	case green < 0 || meat < 0:
	case meat == 0 && len(said) == 0 && is("herbivore"):
		return "plants alone", rests
	case green == 0 && !grazes && is("carnivore", "insectivore"):
		return "animals alone", rests
	case green >= 20 && meat >= 20 && is("omnivore"):
		return "plants and animals", rests
	}
	return "variable", ""
}

func (v verifier) competes(a, b string) finding {
	overlap := 0.0
	for _, part := range slices.Concat(flora, fauna) {
		x, y := v.percent(a, []string{part}), v.percent(b, []string{part})
		if x < 0 || y < 0 {
			return finding{}
		}
		overlap += min(x, y)
	}
	lo, hi, ok := bounds(v.at(a, "body_mass"))
	plo, phi, also := bounds(v.at(b, "body_mass"))
	rests := min(v.basis(a, "eats_green", "body_mass"), v.basis(b, "eats_green", "body_mass"))
	family := v.at(a, "family")
	parted := func(trait string) bool {
		x, y := heard(v.at(a, trait)), heard(v.at(b, trait))
		return x.known && y.known && !slices.ContainsFunc(x.words, y.may)
	}
	switch {
	case a == b || !ok || !also || slices.Contains(house, a) || slices.Contains(house, b):
	case overlap <= 30:
		return finding{-1, rests}
	case overlap >= 60 && hi <= 4*plo && phi <= 4*lo && family != "variable" && family == v.at(b, "family") && len(v.places(a, b)) > 0 && !parted("semi_aquatic") && !parted("climbs"):
		return finding{1, rests}
	}
	return finding{}
}

// link says whether the one eats the other, from what was noted. Plants eat nothing.
func (v verifier) link(eater, food string) int {
	trait := "preys_on_"
	if partsOf[food] != nil {
		trait = "feeds_on_"
	}
	if slices.Contains([]string{"green plants", "seeds and fruit"}, eater) {
		return -1
	}
	return map[string]int{"yes": 1, "no": -1}[v.at(eater, trait+under(food))]
}

func (v verifier) chain(text string) int {
	nodes, all := strings.Split(text, " > "), 1
	if len(nodes) < 2 {
		return 0
	}
	for i, eater := range nodes[1:] {
		all = min(all, v.link(eater, nodes[i]))
	}
	return all
}

// ladder are the levels of a chain from the bottom up.
var ladder = []string{"producer", "primary consumer", "secondary consumer", "tertiary consumer"}

// webClaim judges a claim of a food chain: that it is one, the level of an animal in
// it, or what follows if there is none or more of one link. Whoever loses its food
// becomes fewer, what is eaten less becomes more, and so does who eats that.
func (v verifier) webClaim(animal, trait, value string) (truth int, is bool) {
	said, text, _ := strings.Cut(value, " in ")
	nodes := strings.Split(text, " > ")
	at := slices.Index(nodes, animal)
	switch trait {
	case "food_chain":
		return v.chain(value), true
	case "level_in_chain":
		if at < 1 || v.chain(text) != 1 || !slices.Contains(ladder, said) {
			return 0, true
		}
		return map[bool]int{true: 1, false: -1}[ladder[at] == said], true
	case "if_gone", "if_more":
		word, changed, _ := strings.Cut(said, " after ")
		place := slices.Index(nodes, changed)
		if at < 1 || place < 0 || len(nodes) < 3 || v.chain(text) != 1 {
			return 0, true
		}
		follows, known := outcomes(len(nodes), place, trait == "if_gone"), []string{"more, fewer", "fewer, more", "more, more", "fewer, fewer"}
		if !slices.Contains(known, word) {
			return 0, true
		}
		return map[bool]int{true: 1, false: -1}[word == follows], true
	case "estimate":
		return estimateHolds(value), true
	}
	return 0, false
}

// outcomes works out link by link what becomes of the two nearest to a change.
func outcomes(length, place int, gone bool) string {
	signs := make([]int, length)
	signs[place] = 1
	if gone {
		signs[place] = -1
	}
	for i := place + 1; i < length; i++ { // food goes up the chain
		signs[i] = signs[i-1]
	}
	for i := place - 1; i >= 0; i-- { // being eaten goes down
		signs[i] = -signs[i+1]
	}
	var said []string
	for _, i := range watched(length, place) {
		said = append(said, map[int]string{1: "more", -1: "fewer"}[signs[i]])
	}
	return strings.Join(said, ", ")
}

// watched are the neighbours of a place, or the two next to an end.
func watched(length, place int) []int {
	switch place {
	case 0:
		return []int{1, 2}
	case length - 1:
		return []int{place - 2, place - 1}
	}
	return []int{place - 1, place + 1}
}

// estimateHolds works out "METHOD of NUMBERS = NUMBER" anew: right where it rounds
// to the number, wrong where it misses by more than one in fifty.
func estimateHolds(claim string) int {
	method, rest, _ := strings.Cut(claim, " of ")
	list, result, _ := strings.Cut(rest, " = ")
	var g []float64
	for _, word := range strings.Fields(list) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return 0
		}
		g = append(g, x)
	}
	said, err := strconv.ParseFloat(result, 64)
	if err != nil || len(g) != 2 && len(g) != 3 {
		return 0
	}
	if two := slices.Contains([]string{"density", "density_ac", "rise", "fall", "quota"}, method); two != (len(g) == 2) {
		return 0
	}
	g = append(g, 1)
	exact, known := map[string]float64{
		"petersen": g[0] / g[2] * g[1],
		"chapman":  (g[0]*g[1] + g[0] + g[1] - g[2]) / (g[2] + 1),
		"strip":    1000 * g[0] / g[1] / g[2],
		"pellets":  g[0] / g[1] / 13 / g[2] * 1e6,
		"strip_mi": g[0] * 1760 / (g[1] * g[2]), "pellets_ac": g[0] / 13 / g[1] / (g[2] / 640), "density_ac": g[0] / (g[1] / 640),
		"fawns":   g[2] / g[1] * 100,
		"bucks":   g[0] / g[1] * 100,
		"density": g[0] / (g[1] / 100),
		"rise":    g[1]/g[0]*100 - 100,
		"fall":    100 - g[1]/g[0]*100,
		"quota":   g[0] / 100 * g[1],
	}[method]
	switch {
	case !known:
		return 0
	case math.Abs(exact-said) < .45:
		return 1
	case math.Abs(exact-said) > exact/50:
		return -1
	}
	return 0
}

// Words and sums of management, likewise.
func TestManagementQuestions(t *testing.T) {
	t.Parallel()
	var sets [][]string
	for seed := 700; seed < 700+soak.Size(1, 10); seed++ {
		for _, more := range [][]string{{count(20, 120)}, {count(8, 60), "--language", "es"}, {"12", "--roster", "woodland-edge", "--difficulty", "2"}} {
			sets = append(sets, append([]string{"--subjects", "management", "--seed", strconv.Itoa(seed), "--count"}, more...))
		}
	}
	t.Logf("%d questions", len(newVerifier(t).proved(t, sets)))
}

// 6,500 questions on the food web and more in the long run, of every roster, both
// languages and all difficulties; with those on signs, ten thousand.
func TestFoodWebQuestions(t *testing.T) {
	t.Parallel()
	var sets [][]string
	check := func(flags ...string) { sets = append(sets, append(flags, "--subjects", "foodweb")) }
	for seed := 500; seed < 500+soak.Size(1, 50); seed++ {
		s := strconv.Itoa(seed)
		check("--seed", s, "--count", count(50, 80))
		check("--seed", s, "--count", "18", "--roster", "furbearers")
		check("--seed", s, "--count", "12", "--roster", "woodland-edge", "--language", "es")
		check("--seed", s, "--count", "7", "--roster", "waterside")
		check("--seed", s, "--count", "20", "--difficulty", strconv.Itoa(2+seed%2)) // more take as many seconds
	}
	set, used := newVerifier(t).proved(t, sets), map[string]int{}
	for _, q := range set {
		used[q.Template]++
	}
	if len(set) < soak.Size(100, 6_500) {
		t.Errorf("only %d questions were checked", len(set))
	}
	t.Logf("%d questions: %v", len(set), used)
}

// Pelts and head gear, likewise: nobody of the key's genus stands beside it.
func TestSpecimenQuestions(t *testing.T) {
	t.Parallel()
	var sets [][]string
	for seed := 900; seed < 900+soak.Size(1, 10); seed++ {
		for _, more := range [][]string{{"--count", "120"}, {"--count", "30", "--language", "es", "--roster", "furbearers"}, {"--count", "20", "--roster", "woodland-edge"}} {
			sets = append(sets, append(more, "--subjects", "specimen", "--seed", strconv.Itoa(seed)))
		}
	}
	set, used := newVerifier(t).proved(t, sets), map[string]int{}
	for _, q := range set {
		used[q.Plate.View]++
	}
	if used["pelt"] == 0 || used["head gear"] == 0 {
		t.Errorf("asked on %v", used)
	}
	t.Logf("%d questions on %v", len(set), used)
}
