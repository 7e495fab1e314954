package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
)

// An independent verifier: it reads only what the commands print, the JSON
// Lines and the CSV, and shares no code with the generator.

type verifier struct {
	values map[string]string // "species\ntrait" → value
	bases  map[string]string // what it rests on
}

// kinds of what a value rests on, the weakest first.
var kinds = []string{"memory", "common practice", "absence", "group", "secondary", "published"}

type line struct {
	ID, Template, Subject, Prompt, Reason string
	Language, Rests                       string
	Difficulty                            int
	About                                 *struct{ Is, Not string }
	Options                               []struct {
		Species, Text string
		Test          *predicate
		Plate         *drawing
		Differ        string
	}
	Key   int
	Test  predicate
	Plate *drawing
}

type drawing struct {
	Species, View, Mark, With, WithView string
	Test                                predicate
}

type predicate struct {
	All []struct{ Trait, Op, Value string }
}

func printed(t testing.TB, args ...string) *bytes.Buffer {
	t.Helper()
	var out bytes.Buffer
	if err := run(context.Background(), args, &out); err != nil {
		t.Fatalf("fieldsign %s: %v", strings.Join(args, " "), err)
	}
	return &out
}

func newVerifier(t testing.TB) verifier {
	rows, err := csv.NewReader(printed(t, "catalogue", "--format", "csv")).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	v := verifier{map[string]string{}, map[string]string{}}
	for _, r := range rows[1:] {
		v.values[r[0]+"\n"+r[1]], v.bases[r[0]+"\n"+r[1]] = r[2], r[5]
	}
	v.webFacts(t)
	for at := range maps.Clone(v.values) { // what pelts are asked by
		species, _, _ := strings.Cut(at, "\n")
		v.values[species+"\ngenus"], v.bases[species+"\ngenus"] = strings.Fields(species)[0], kinds[len(kinds)-1]
	}
	return v
}

// judge is +1 where the predicate provably holds for the species, -1 where it
// provably fails, 0 where the catalogue does not tell.
func (v verifier) judge(species string, p predicate) int {
	result := 1
	for _, c := range p.All {
		if truth, is := v.webClaim(species, c.Trait, c.Value); is {
			return truth
		}
		result = min(result, v.claim(v.values[species+"\n"+c.Trait], c.Op, c.Value))
		if result < 0 {
			return -1
		}
	}
	if len(p.All) == 0 {
		return 0
	}
	return result
}

func (v verifier) claim(have, op, want string) int {
	h := heard(have)
	sign := func(yes, no bool) int {
		if yes {
			return 1
		} else if no {
			return -1
		}
		return 0
	}
	if op == "=" || op == "!=" {
		word, usually := strings.CutPrefix(want, "usually ")
		result := sign(h.settled && !usually && h.may(word) || usually && h.usual == word, h.known && !h.may(word))
		if op == "!=" {
			return -result
		}
		return result
	}
	x, err := strconv.ParseFloat(want, 64)
	if !h.numeric || err != nil {
		return 0
	}
	switch op {
	case ">":
		return sign(h.lo > x, h.hi <= x)
	case "<":
		return sign(h.hi < x, h.lo >= x)
	case ">=":
		return sign(h.lo >= x, h.hi < x)
	case "<=":
		return sign(h.hi <= x, h.lo > x)
	}
	return 0
}

// reading is what a printed value says: 4, 5.7..8.3, dished, none;?single crest
// (usually none, at times a single crest), ?36..42 (a number in between).
type reading struct {
	known, settled, numeric bool
	lo, hi                  float64
	usual                   string
	words                   []string
}

func heard(text string) reading {
	switch text {
	case "", "unknown", "variable", "not applicable":
		return reading{}
	}
	h := reading{known: true, settled: !strings.Contains(text, "?")}
	for part := range strings.SplitSeq(text, ";") {
		word, unsure := strings.CutPrefix(part, "?")
		if !unsure && !h.settled {
			h.usual = word
			if strings.HasPrefix(text[len(part):], ";?") {
				if _, _, number := bounds(word); number {
					continue
				}
			}
		}
		if lo, hi, number := bounds(word); number {
			h.numeric, h.lo, h.hi = true, lo, hi
		}
		h.words = append(h.words, word)
	}
	if formulas := spelled(text); formulas != nil {
		h.settled, h.words, h.usual = len(formulas) == 1, formulas, plainFormula(text)
	}
	if h.numeric && h.lo != h.hi {
		h.settled = false
		h.known = strings.Contains(text, "?") // two animals may both lie in a measure's range
	}
	return h
}

func (h reading) may(word string) bool {
	if h.numeric {
		x, err := strconv.ParseFloat(word, 64)
		return err == nil && h.lo <= x && x <= h.hi
	}
	return slices.Contains(h.words, word)
}

var (
	formulaPlaces = regexp.MustCompile(`^I (\S+)/(\S+) C (\S+)/(\S+) P (\S+)/(\S+) M (\S+)/(\S+)$`)
	formulaSpan   = regexp.MustCompile(`^(\d)(?:-(\d)|\((\d)(?:-(\d))?\))?$`)
)

// spelled lists all that a dental formula allows: 2(1) is 2 or 1, 4(1-3) is 4
// or 1 to 3, 0-1 is 0 or 1.
func spelled(text string) []string {
	m := formulaPlaces.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	list := []string{"I 0/0 C 0/0 P 0/0 M 0/0"}
	for i, place := range m[1:] {
		p := formulaSpan.FindStringSubmatch(place)
		if p == nil {
			return nil
		}
		var numbers []string
		for _, n := range p[1:] {
			if n != "" {
				numbers = append(numbers, n)
			}
		}
		var longer []string
		at := strings.IndexAny("I 0/0 C 0/0 P 0/0 M 0/0", "0") + 6*(i/2) + 2*(i%2)
		for n := slices.Min(numbers); n <= slices.Max(numbers); n = string(n[0] + 1) {
			for _, f := range list {
				longer = append(longer, f[:at]+n+f[at+1:])
			}
		}
		list = longer
	}
	return list
}

// plainFormula is a formula without what is only at times; empty where a place
// has no usual number.
func plainFormula(text string) string {
	if strings.Contains(regexp.MustCompile(`\(.*?\)`).ReplaceAllString(text, ""), "-") {
		return ""
	}
	return regexp.MustCompile(`\(.*?\)`).ReplaceAllString(text, "")
}

func bounds(s string) (lo, hi float64, ok bool) {
	a, b, two := strings.Cut(s, "..")
	if !two {
		b = a
	}
	lo, e1 := strconv.ParseFloat(a, 64)
	hi, e2 := strconv.ParseFloat(b, 64)
	return lo, hi, e1 == nil && e2 == nil
}

// fault says what is wrong with a question, or nothing.
func (v verifier) fault(q line) string {
	if len(q.Options) < 2 || q.Key < 0 || q.Key >= len(q.Options) || q.Prompt == "" || q.Reason == "" || len(q.Test.All) == 0 {
		return "it is not complete"
	}
	texts := map[string]bool{}
	for i, o := range q.Options {
		if texts[o.Text] {
			return "two options read alike"
		}
		texts[o.Text] = true
		holds := v.option(q, i)
		if i == q.Key && holds != 1 {
			return "the key is not proved"
		}
		if i != q.Key && holds != -1 {
			return fmt.Sprintf("option %d is not disproved", i)
		}
	}
	if q.About == nil && (q.Plate == nil || q.Plate.Mark == "") {
		if rests := kinds[v.rests(q)]; rests != q.Rests {
			return fmt.Sprintf("it rests on %s, and says %s", rests, q.Rests)
		}
	}
	if q.Plate != nil && q.Plate.Mark != "" {
		return v.labelFault(q)
	}
	if q.Options[q.Key].Plate != nil {
		return v.picturedFault(q)
	}
	if q.Plate != nil && strings.HasPrefix(q.Plate.View, "sign ") {
		return v.signFault(q)
	}
	return ""
}

// rests is the kind of the weakest fact that a question about species rests on:
// every claim of the key, and for each other the best claim that it fails.
func (v verifier) rests(q line) int {
	weakest := len(kinds) - 1
	for i, o := range q.Options {
		best := 0
		for _, c := range q.Test.All {
			at := o.Species + "\n" + c.Trait
			basis := slices.Index(kinds, v.bases[at])
			if i == q.Key {
				weakest = min(weakest, basis)
			} else if v.claim(v.values[at], c.Op, c.Value) == -1 {
				best = max(best, basis)
			}
		}
		if i != q.Key {
			weakest = min(weakest, best)
		}
	}
	return weakest
}

// seenOn are the traits that a reader of the drawings can see on each.
var seenOn = map[string][]string{
	"skull side": {"large_canines", "diastema", "sagittal_crest", "head_gear", "tusks", "gear_shape", "incisor_colour", "upper_incisors",
		"profile", "rostrum", "forehead", "latticed_snout", "skull_length", "bulla"},
	"front print": {"front_toes", "toes_forward", "hind_toe", "claws_show", "front_webbing", "heel_pad", "leading_toe", "dewclaws", "front_length"},
	"hind print":  {"hind_toes", "claws_show", "hind_webbing", "thumb", "leading_toe", "dewclaws", "hind_length"},
	"scat":        {"scat_form", "scat_ends", "pellet_shape", "scat_diameter"},
}

// plateWord letters drawings, by language.
var plateWord = map[string]string{"": "Plate ", "es": "Lámina "}

// picturedFault: every option is the same view of its own species, told apart
// from each other, and the key from all, by what can be seen.
func (v verifier) picturedFault(q line) string {
	view := q.Options[q.Key].Plate.View
	for _, c := range q.Test.All {
		if !slices.Contains(seenOn[view], c.Trait) || c.Trait == "upper_incisors" && c.Value != "0" || c.Trait == "bulla" && c.Value != "huge" {
			return c.Trait + " can't be seen on the drawing"
		}
	}
	for i, o := range q.Options {
		if o.Plate == nil || o.Plate.Species != o.Species || o.Plate.View != view || o.Text != plateWord[q.Language]+string(rune('A'+i)) {
			return fmt.Sprintf("option %d is not a drawing like the others", i)
		}
		for _, p := range q.Options[:i] {
			if !slices.ContainsFunc(seenOn[view], func(trait string) bool { return v.differ(o.Species, p.Species, trait) }) {
				return "two drawings look alike"
			}
		}
	}
	return ""
}

// drawnSign is what a reader sees on the drawing of each sign, as claims.
var drawnSign = map[string][]string{
	"sign rub": {"sign_marks_antler_rubs_on_trees yes"}, "sign scrape": {"sign_scent_pawed_scrapes_under_a_branch yes"}, "sign bed": {"sign_ways_flattened_beds_in_the_grass yes"},
	"sign browse-cut": {"twig_ends cut clean"}, "sign browse-torn": {"twig_ends torn"}, "sign stump": {"sign_marks_felled_trees_and_gnawed_stumps yes"},
	"sign lodge": {"lodge_of sticks and mud"}, "sign dam": {"sign_built_dams_of_sticks_and_mud yes"}, "sign push-up": {"sign_built_push-ups_on_the_ice yes"},
	"sign den": {"sign_ground_dens_with_bones_and_feathers_about yes"}, "sign burrow": {"burrow_mouth heap to one side"}, "sign midden": {"sign_meals_middens_of_cone_scales yes"},
	"sign cone": {"sign_meals_gnawed_cones yes"}, "sign nut": {"nut_opened round hole"}, "sign ridge": {"sign_ground_ridges_over_tunnels yes"}, "sign mound": {"burrow_mouth fan with a plug"},
	"sign pellet": {"pellet_of fur and bones"}, "sign wallow": {"sign_ground_wallows yes", "sign_marks_mud_and_hair_rubbed_on_trees yes"}, "sign slide": {"sign_ways_slides_into_the_water yes"},
	"sign dust-bath": {"sign_ground_dust_baths yes"},
}

// signFault: the animal provably leaves what is drawn; whoever is to be told from it
// is told by that; and where the sign is to be named, the key names what is drawn.
func (v verifier) signFault(q line) string {
	seen := drawnSign[q.Plate.View]
	if len(seen) == 0 {
		return "nobody knows what the drawing shows"
	}
	for _, claim := range seen {
		trait, value, _ := strings.Cut(claim, " ")
		if v.claim(v.values[q.Plate.Species+"\n"+trait], "=", value) != 1 {
			return q.Plate.Species + " does not provably leave what is drawn"
		}
	}
	for _, c := range q.Test.All {
		if c.Op != "=" || !slices.Contains(seen, c.Trait+" "+c.Value) {
			return c.Trait + " is not what is drawn"
		}
	}
	if key := q.Options[q.Key]; q.About == nil && key.Species != q.Plate.Species || q.About != nil && (q.About.Is != q.Plate.Species || seen[0] != q.Test.All[0].Trait+" "+q.Test.All[0].Value) {
		return "the key is not what is drawn"
	}
	return ""
}

// comparable are the traits that can be read off both prints of a pair.
var comparable = map[string][]string{
	"left front print, front print": {"front_toes", "toes_forward", "hind_toe", "claws_show", "front_webbing", "heel_pad", "leading_toe", "dewclaws"},
	"left hind print, hind print":   {"hind_toes", "claws_show", "hind_webbing", "thumb", "leading_toe", "dewclaws"},
}

// pairOption: two prints can be of one kind where both are drawn from one
// species, and can't where a trait that both show provably differs.
func (v verifier) pairOption(q line, i int) int {
	a, b := q.Plate.Species, q.Plate.With
	trait := q.Options[i].Differ
	if trait == "" {
		if a == b {
			return 1
		}
		for _, o := range q.Options {
			if o.Differ != "" && v.differ(a, b, o.Differ) {
				return -1
			}
		}
		return 0
	}
	if !slices.Contains(comparable[q.Plate.View+", "+q.Plate.WithView], trait) {
		return 0
	}
	if v.differ(a, b, trait) {
		return 1
	}
	// Disproved only by values that are settled, and the same.
	va, vb := v.values[a+"\n"+trait], v.values[b+"\n"+trait]
	if va == vb && heard(va).settled {
		return -1
	}
	return 0
}

// differ holds where no animal could show both values.
func (v verifier) differ(a, b, trait string) bool {
	va, vb := v.values[a+"\n"+trait], v.values[b+"\n"+trait]
	if trait == "upper_incisors" && va != "0" && vb != "0" {
		return false // nobody counts them on a small drawing
	}
	x, y := heard(va), heard(vb)
	if x.numeric && y.numeric {
		return x.hi < y.lo || y.hi < x.lo
	}
	if !x.known || !y.known || x.numeric != y.numeric {
		return false
	}
	return !slices.ContainsFunc(x.words, y.may)
}

// sameSpot are terms that a lesson may use of one and the same place. A premolar is
// pointed at as the foremost of its row, a molar as the hindmost.
var sameSpot = [][]string{
	{"premolars", "carnassials", "bunodont teeth", "selenodont teeth"}, {"molars", "carnassials", "bunodont teeth", "selenodont teeth"},
	{"diastema", "rostrum", "palate"},
	{"sagittal crest", "braincase"}, {"antlers", "pedicle"},
}

// labelFault: the key names what is pointed at, the animal provably has it, and
// no other option could be said of the same spot.
func (v verifier) labelFault(q line) string {
	mark := q.Plate.Mark
	if q.Options[q.Key].Species != mark || q.Plate.View != "skull" {
		return "the key is not what is pointed at"
	}
	if v.judge(q.Plate.Species, q.Plate.Test) != 1 {
		return "the animal does not provably have what is pointed at"
	}
	for _, group := range sameSpot {
		for i, o := range q.Options {
			if i != q.Key && slices.Contains(group, mark) && slices.Contains(group, o.Species) {
				return "two options are right"
			}
		}
	}
	return ""
}

func (v verifier) option(q line, i int) int {
	o := q.Options[i]
	if q.Plate != nil && q.Plate.With != "" {
		return v.pairOption(q, i)
	}
	if q.About == nil {
		return v.judge(o.Species, q.Test)
	}
	is := v.judge(q.About.Is, *o.Test)
	if q.About.Not == "" {
		return is
	}
	// True of the one and not of the other; either failure disproves it.
	return min(is, -v.judge(q.About.Not, *o.Test))
}

func readLines(t testing.TB, b *bytes.Buffer) []line {
	var out []line
	s := bufio.NewScanner(b)
	s.Buffer(nil, 1<<20)
	for s.Scan() {
		var q line
		if err := json.Unmarshal(s.Bytes(), &q); err != nil {
			t.Fatal(err)
		}
		out = append(out, q)
	}
	return out
}

func TestEveryKeyIsProvable(t *testing.T) {
	t.Parallel()
	v := newVerifier(t)
	used := map[string]int{}
	count := soak.Size(400, 1000)
	for seed := 1; seed <= soak.Size(1, 10); seed++ {
		set := readLines(t, printed(t, "questions", "--count", strconv.Itoa(count), "--seed", strconv.Itoa(seed), "--format", "jsonl"))
		if len(set) != count {
			t.Fatalf("seed %d gave %d questions", seed, len(set))
		}
		seen := map[string]bool{}
		for _, q := range set {
			if f := v.fault(q); f != "" {
				t.Errorf("seed %d, %s (%s): %s: %s %v", seed, q.ID, q.Template, f, q.Prompt, q.Options)
			}
			var texts []string
			for _, o := range q.Options {
				texts = append(texts, o.Text)
			}
			slices.Sort(texts)
			if same := fmt.Sprint(q.Prompt, texts, q.asksOfAPlate()); seen[same] {
				t.Errorf("seed %d asks twice: %s", seed, q.Prompt)
			} else {
				seen[same] = true
			}
			used[q.Template]++
		}
		everySpeciesBeforeAThird(t, v, set)
	}
	t.Logf("questions by template: %v", used)
}

// asksOfAPlate is what tells questions apart that read alike: the drawing.
func (q line) asksOfAPlate() string {
	var drawn []string
	if q.Plate != nil && q.Plate.Mark != "" {
		drawn = append(drawn, q.Plate.Species, q.Plate.Mark)
	}
	if q.Plate != nil && q.Plate.With != "" {
		drawn = append(drawn, q.Plate.Species, q.Plate.With)
	}
	if q.Plate != nil && (strings.HasPrefix(q.Plate.View, "lower jaw, ") || strings.HasPrefix(q.Plate.View, "sign ")) {
		drawn = append(drawn, q.Plate.View) // a jaw of another age, another sign
	}
	for _, o := range q.Options {
		if o.Plate != nil {
			drawn = append(drawn, o.Species)
		}
	}
	slices.Sort(drawn)
	return strings.Join(drawn, " ")
}

// proved are the questions of several sets, each by the flags of its command and
// without a fault. The sets are made beside each other: alone, the longest test
// would have one processor wait for the other.
func (v verifier) proved(t *testing.T, flags [][]string) []line {
	t.Helper()
	sets := make([][]line, len(flags))
	t.Run("sets", func(t *testing.T) {
		for i, f := range flags {
			t.Run(strings.Join(f, " "), func(t *testing.T) {
				t.Parallel()
				sets[i] = readLines(t, printed(t, append([]string{"questions", "--format", "jsonl"}, f...)...))
				for _, q := range sets[i] {
					if f := v.fault(q); f != "" {
						t.Errorf("%s (%s): %s: %s %+v", q.ID, q.Template, f, q.Prompt, q.Options)
					}
				}
			})
		}
	})
	return slices.Concat(sets...)
}

// 50,000 questions in the long run over all rosters, templates and difficulties, typed ones included.
func TestFiftyThousandQuestions(t *testing.T) {
	t.Parallel()
	v := newVerifier(t)
	var sets [][]string
	check := func(flags ...string) { sets = append(sets, flags) }
	seeds := soak.Size(1, 50)
	for seed := 100; seed < 100+seeds; seed++ {
		s := strconv.Itoa(seed)
		check("--seed", s, "--count", count(80, 500)) // a set of 1,000 takes eight times as long
		check("--seed", s, "--count", count(60, 150), "--roster", "furbearers")
		check("--seed", s, "--count", count(60, 150), "--roster", "woodland-edge", "--subjects", "skull,track")
		check("--seed", s, "--count", count(25, 50), "--roster", "waterside", "--subjects", "scat,animal")
		check("--seed", s, "--count", count(50, 100), "--difficulty", strconv.Itoa(seed%5+1))
		check("--seed", s, "--count", count(30, 50), "--rising")
		check("--seed", s, "--count", "20", "--template", "type-the-name")
		check("--seed", s, "--count", "20", "--template", "deer-age-fine,term-for,term-means,what-it-tells")
	}
	for seed := 100; seed < 100+soak.Size(1, 4); seed++ { // the words alone are Spanish
		s := strconv.Itoa(seed)
		check("--language", "es", "--seed", s, "--count", count(40, 500))
		check("--language", "es", "--seed", s, "--count", count(25, 100), "--roster", "waterside", "--subjects", "scat,animal")
		check("--language", "es", "--seed", s, "--count", "20", "--template", "type-the-name,deer-age-fine")
	}
	if total := len(v.proved(t, sets)); total < seeds*soak.Size(400, 1000) {
		t.Errorf("only %d questions", total)
	}
}

// count is how many questions are asked for, in make test and in make soak.
func count(short, long int) string { return strconv.Itoa(soak.Size(short, long)) }

// 5,000 questions and more on signs in the long run, over all rosters, in words and
// over drawings, in both languages.
func TestSignQuestions(t *testing.T) {
	t.Parallel()
	v := newVerifier(t)
	var sets [][]string
	check := func(flags ...string) { sets = append(sets, append(flags, "--subjects", "sign")) }
	seeds := soak.Size(1, 10)
	for seed := 300; seed < 300+seeds; seed++ {
		s := strconv.Itoa(seed)
		check("--seed", s, "--count", count(100, 300))
		check("--seed", s, "--count", "100", "--drawings", "all")
		hard := seed%5 + 1
		check("--seed", s, "--count", count(30-5*hard, 60-10*hard), "--difficulty", strconv.Itoa(hard)) // of the hardest there are a dozen
		check("--seed", s, "--count", "30", "--no-memory", "--roster", "furbearers")
		check("--seed", s, "--count", "25", "--roster", "waterside")
		check("--seed", s, "--count", "30", "--roster", "woodland-edge", "--language", "es")
	}
	set, drawn := v.proved(t, sets), map[string]int{}
	for _, q := range set {
		if q.Subject != "sign" {
			t.Errorf("%s is about a %s: %s", q.ID, q.Subject, q.Prompt)
		}
		if q.Plate != nil {
			drawn[q.Plate.View]++
		}
	}
	if len(set) < seeds*soak.Size(300, 485) || len(drawn) < len(drawnSign) {
		t.Errorf("only %d questions, over drawings of %v", len(set), drawn)
	}
	t.Logf("%d questions on signs, over drawings: %v", len(set), drawn)
}

// everySpeciesBeforeAThird: each species of the roster is a key before any is one a third
// time. Five birds may be passed over: the webbed ones, which differ by size alone from each
// other, and from all else by what nobody overlooks; and two more, since whatever is asked
// of a bird tells how others' toes stand.
func everySpeciesBeforeAThird(t *testing.T, v verifier, set []line) {
	roster := map[string]bool{}
	for at := range v.values {
		species, trait, _ := strings.Cut(at, "\n")
		if trait == "cheek_teeth" || trait == "foot_type" || trait == "scat_form" {
			roster[species] = true
		}
	}
	count := map[string]int{}
	for _, q := range set {
		species := q.Options[q.Key].Species
		if q.About != nil {
			species = q.About.Is
		}
		if q.Plate != nil && q.Plate.Mark != "" {
			species = q.Plate.Species
		}
		if !roster[species] {
			continue // a term of the trade
		}
		if count[species]++; count[species] == 3 {
			break
		}
	}
	var passed []string
	for s := range roster {
		if count[s] == 0 {
			passed = append(passed, s)
		}
	}
	if len(passed) > 5 {
		t.Errorf("%v are not asked about before another comes a third time", passed)
	}
}

// The verifier itself must be able to fail.
func TestVerifierCatchesBadQuestions(t *testing.T) {
	t.Parallel()
	v := newVerifier(t)
	set := readLines(t, printed(t, "questions", "--count", "200", "--format", "jsonl"))
	caught := 0
	for _, q := range set {
		q.Key = (q.Key + 1) % len(q.Options)
		if v.fault(q) != "" {
			caught++
		}
	}
	if caught != len(set) {
		t.Errorf("with the key moved, %d of %d questions still pass", len(set)-caught, len(set))
	}
}
