package questions

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"fieldsign/questions/catalogue"
)

const (
	optionCount = 4
	// above this many species the look-alikes are sought in a random sample
	sampleSize = 128
	// so many of the animals that one could take for the key say what is worth
	// telling of it, and so many of the nearest what is worth denying
	worthTelling = 12
	worthDenying = 6
	// beside an animal that coaches set beside no other in play stands one of the
	// nearest: of so many of them, or of one in so many of all
	fewNearest, oneNearest = 3, 10
	// a trait that weighs less decides nothing: the trade does not teach it
	leastTaught = 0.5
)

// maker makes questions in one subject; its dice are the set's own. Its index
// is one of its tiers.
type maker struct {
	*index
	tiers    []*index
	dice     *rand.Rand
	wish     int // difficulty, 0 for any
	used     uses
	near     map[looked][]neighbour
	sight    string // what is looked at
	recalls  bool   // no drawing is shown
	wrong    int    // how many wrong options a question has
	anyAlike bool   // any animal that one could take for the key may stand beside it
	lacks    lacks  // what there would have been a question with
	lenient  leniency
	heard    func(told) bool // tells how an animal stands in a trait, a while ago; or is spared
	wasTold  func(told) bool // was told, spared or not
	struck   func(told) bool // or lets a wrong option fall
	seats    seats
	ranked   []ranked        // room for a choice of facts,
	order    []int           // and for the order in which they are drawn
	counted  map[string]bool // by method, whether any animal is

	weights map[string]float64 // of traits, by which they decide
	floor   float64            // what a trait has to weigh that decides
	beside  int                // the species that has to stand beside the key, or anyone
	photos  []PlateRef         // of specimens; nil: any is laid out
}

// lacks is what a question was not made for: a third wrong option, or the look-alike that
// stands beside the key at first.
type lacks struct{ third, alike bool }

// enough reports whether there are as many wrong options as are wanted.
func (m *maker) enough(wrong int) bool {
	if wrong < m.wrong {
		m.fellShort(wrong)
	}
	return wrong >= m.wrong
}

func (m *maker) fellShort(wrong int) { m.lacks.third = m.lacks.third || wrong >= fewest }

// neighbour is another species with its likeness to the key's as a share of
// the roster: 1 for the nearest look-alike, near 0 for the most unlike.
type neighbour struct {
	species int
	rank    float64
	taken   bool // one could take it for the key
	built   bool // but for its size
	taught  bool // and coaches set the two beside each other
	toes    bool // its prints have as many toes as the key's
}

// looked is a key at which is looked in some way.
type looked struct {
	sight string
	key   int
}

// lookAt is what a trait looks at: a print, the trail, or the whole subject.
func (m *maker) lookAt(t catalogue.Trait) {
	m.sight = m.subject
	switch {
	case trailView.reads(t):
		m.sight = trailView.name
	case m.sights[t.Part] != nil:
		m.sight = t.Part
	}
}

// tier is the index by facts that rest on so much.
func (m *maker) tier(least catalogue.Basis) *index { return m.tiers[slices.Index(tiers, least)] }

func (m *maker) name(i int) string { return m.species[i].Vernacular }

// neighbours lists the other species, nearest first in what is looked at: those
// that one could take for the key, then the rest.
func (m *maker) neighbours(key int) []neighbour {
	at := looked{m.sight, key}
	if list, done := m.near[at]; done {
		return list
	}
	s, others := m.sights[m.sight], m.others(key)
	alike := make(map[int]float64, len(others))
	for _, i := range others {
		a := s.alike.of(key, i)
		if math.IsNaN(a) {
			a = -1
		}
		if s.mistakable(key, i) && m.sharesLand(key, i) {
			a += 2
			if s.pairs[key].has(i) {
				a += 2
			}
		}
		alike[i] = a
	}
	slices.SortStableFunc(others, func(a, b int) int { return cmp.Compare(alike[b], alike[a]) })
	list := make([]neighbour, len(others))
	for place, i := range others {
		taken := s.mistakable(key, i) && m.sharesLand(key, i)
		list[place] = neighbour{i, 1 - float64(place)/float64(len(others)), taken, s.sameBuild(key, i), taken && s.pairs[key].has(i), s.sameToes(key, i)}
	}
	m.near[at] = list
	return list
}

func (m *maker) others(key int) []int {
	var out []int
	if len(m.species) <= sampleSize {
		for i := range m.species {
			if i != key && m.akin(key, i) {
				out = append(out, i)
			}
		}
		return out
	}
	taken := map[int]bool{key: true}
	for range 4 * sampleSize {
		if i := m.dice.IntN(len(m.species)); !taken[i] && m.akin(key, i) && len(out) < sampleSize {
			taken[i] = true
			out = append(out, i)
		}
	}
	return out
}

// level is the difficulty of telling the key from a look-alike of this rank.
func level(rank float64) int { return min(5, 1+int(rank*5)) }

// choose picks n distractors among the candidates: look-alikes first, or as
// unlike as the wished difficulty asks. It returns nil where there are too few.
func (m *maker) choose(key int, candidates bitset, n int) []int {
	var fit []neighbour
	for _, nb := range m.neighbours(key) {
		if candidates.has(nb.species) && (nb.species == m.beside || m.fits(nb)) {
			fit = append(fit, nb)
		}
	}
	fit = m.asManyToes(fit, n)
	if len(fit) < n {
		m.fellShort(len(fit))
		return nil
	}
	if m.beside != anyone {
		return m.chooseBeside(fit, n)
	}
	first := 0
	if n >= fewest && m.wish == 0 && m.lenient == strict && (!m.anyAlike || m.subject == "track") {
		if first = m.lookAlike(key, fit); first < 0 {
			m.lacks.alike = m.lacks.alike || m.subject != "track"
			return nil
		}
	}
	// A look-alike, and of the others twice as many as needed, so that the same key
	// meets different company.
	fit[0], fit[first] = fit[first], fit[0]
	fit = fit[:min(len(fit), 2*n)]
	rest := fit[min(n-1, 1):]
	m.dice.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
	out := make([]int, n)
	for i := range out {
		out[i] = fit[i].species
	}
	return out
}

// lookAlike is the place among the fit of one that coaches set beside the key, or,
// where none of these is in play, of one of the nearest; -1 where there is none: the
// question would be without the animal that one takes for the key.
func (m *maker) lookAlike(key int, fit []neighbour) int {
	all := m.neighbours(key)
	if !all[0].taught {
		nearest := all[:min(len(all), max(fewNearest, len(all)/oneNearest))]
		return slices.IndexFunc(fit, func(nb neighbour) bool { return slices.Contains(nearest, nb) })
	}
	own := slices.DeleteFunc(slices.Clone(fit), func(nb neighbour) bool { return !nb.taught })
	if len(own) == 0 {
		return -1
	}
	return slices.Index(fit, own[m.dice.IntN(len(own))])
}

// mixedCompany is distractors that are not all kin to each other and strangers to
// the key: whoever knows who is related to whom would see the key.
func (m *maker) mixedCompany(key int, candidates bitset, n int) []int {
	out := m.choose(key, candidates, n)
	if n < fewest || out == nil || m.lenient == besideStrangers || !m.alone(key, out) {
		return out
	}
	akin := m.familyOf(out)
	for _, nb := range m.neighbours(key) {
		if candidates.has(nb.species) && m.fits(nb) && !slices.Contains(out, nb.species) && !akin.has(nb.species) && !m.oddOneFed(key, append(out[:n-1:n-1], nb.species)) && !m.twoStrangers(key, append(out[:n-1:n-1], nb.species)) {
			out[n-1] = nb.species
			return out
		}
	}
	m.fellShort(n - 1)
	return nil
}

// alone reports whether the key is the only stranger in one family, or among
// animals of one name.
func (m *maker) alone(key int, wrong []int) bool {
	if m.oddOneFed(key, wrong) || m.twoStrangers(key, wrong) {
		return true
	}
	family, called := m.family[wrong[0]], m.namesakes(wrong)
	oneFamily := !slices.ContainsFunc(wrong, func(i int) bool { return !family.has(i) })
	return oneFamily && !family.has(key) || called.count() > 0 && !called.has(key)
}

// familyOf are the relatives of the first of some, and the namesakes of all.
func (m *maker) familyOf(all []int) bitset { return m.family[all[0]].clone().plus(m.namesakes(all)) }

// namesakes are the animals that bear the name which all of some share: foxes, rats
// with the woodrat and the muskrat. There are none where those share no name.
func (m *maker) namesakes(all []int) bitset {
	for _, i := range all {
		if !slices.ContainsFunc(all, func(j int) bool { return !m.alikeNamed[i].has(j) }) {
			return m.alikeNamed[i]
		}
	}
	return newBitset(len(m.species))
}

// asManyToes leaves those whose prints have as many toes as the key's: the number of toes
// is the plainest difference. Where they are not enough for a question others stand beside
// it, but over a drawing only when nothing else is left.
func (m *maker) asManyToes(fit []neighbour, n int) []neighbour {
	if m.subject != "track" || m.wish != 0 || m.beside != anyone || len(m.weights) > 0 {
		return fit
	}
	same := slices.DeleteFunc(slices.Clone(fit), func(nb neighbour) bool { return !nb.toes && !nb.taught })
	if len(same) < min(n, fewest) && (m.recalls || m.lenient != strict) {
		return fit
	}
	return same
}

// leniency is how far a question may go from what one could take for the key.
type leniency int

const (
	strict          leniency = iota
	tellOfStrangers          // statements may fit animals of its build and another size
	besideStrangers          // such animals may stand beside it
)

// fits reports whether a species may stand beside the key: one that it could
// be taken for, or of the wished likeness.
func (m *maker) fits(nb neighbour) bool {
	if m.wish != 0 {
		return level(nb.rank) == m.wish
	}
	return nb.taken || m.lenient == besideStrangers
}

// among reports whether one of the nearest animals that the key could be taken
// for is in the set. A fact is worth denying of the key that one of them shows,
// and worth stating that one of them fails.
func (m *maker) among(key int, set bitset) bool {
	return m.amongNearest(worthTelling, key, set, func(nb neighbour) bool { return nb.taken || m.lenient >= tellOfStrangers })
}

// unmistakable traits are those that no one thinks to see where they are not.
func unmistakable(t catalogue.Trait) bool { return t.ID == "thumb" || t.ID == "tusks" }

func (m *maker) amongNearest(n, key int, set bitset, fit func(neighbour) bool) bool {
	list := m.neighbours(key)
	for _, nb := range list[:min(len(list), n)] {
		if fit(nb) && set.has(nb.species) {
			return true
		}
	}
	return false
}

func (m *maker) plausible(key int, f *fact) bool {
	if unmistakable(f.trait) || f.passed.has(key) || f.trait.ID == "head_gear" && m.value(key, "head_gear").Text == "none" || f.trait.ID == gearShape && f.yes.shared(m.sameGear(key)) == 0 || m.subject == "sign" && !m.byItsKind(key, f.yes) {
		return false
	}
	nearest := worthDenying
	if m.lenient != strict {
		nearest = worthTelling
	}
	return m.amongNearest(nearest, key, f.yes, func(nb neighbour) bool {
		return nb.taken || nb.built && m.lenient == tellOfStrangers || m.lenient == besideStrangers
	})
}

// holding lists the facts that hold for the key and that nobody was told of it.
func (m *maker) holding(key int) []int {
	return slices.DeleteFunc(slices.Clone(m.of[key]), func(p int) bool {
		f := m.facts[p]
		return m.heard(told{m.species[key].Name, f.gist}) || m.overlooked(key, f.trait.ID)
	})
}

// drawn lists the facts by which a drawing of the key may be known. Its marks are not
// passed over for lesser ones because they were told or are spared: the drawing shows them.
func (m *maker) drawn(key int) []int {
	return slices.DeleteFunc(slices.Clone(m.of[key]), func(p int) bool {
		f := m.facts[p]
		return m.wasTold(told{m.species[key].Name, f.gist}) && !m.isMark(f) || m.overlooked(key, f.trait.ID)
	})
}

// small is a skull, in mm, of which nobody looks at the opening before the eye or the
// folds of a molar: it is known by its size and by what one sees at once.
const small = 60

// overlooked reports whether nobody teaches to look at an animal for a trait. A last molar
// is read from the skull: by heart one knows the badger's triangle and a cat's peg.
func (m *maker) overlooked(key int, trait string) bool {
	if m.subject != "skull" {
		return false
	}
	gnaws := func() bool { return m.sights[m.subject].build[key] == "gnawing" }
	switch {
	case trait == "interparietal", trait == "long_last_molar", trait == "palate_past_molars":
		return true // at a university, or by a college's key
	case trait == "incisor_breadth":
		return true // it is measured, and no drawing of it has a scale
	case trait == "bulla":
		return m.species[key].Values["family"].Text == "Ursidae" // whose grinders, size and profile are taught
	case trait == "ear_tube":
		return m.value(key, trait).Text == "none" // nobody looks for what a porcupine lacks
	case trait == "last_upper_molar":
		return m.recalls && !slices.Contains([]string{"triangular", "tiny peg"}, m.value(key, trait).Typical().Text)
	case trait == "sagittal_crest":
		return gnaws() // which have one that is hardly seen
	case trait == "dental_formula", trait == "total_teeth": // of small rodents the tree squirrels' are taught
		length := m.species[key].Values["skull_length"]
		squirrel := m.species[key].Values["family"].Text == "Sciuridae"
		return m.minute(key) || m.stubs(key) || gnaws() && length.Known() && (length.Hi < small/1.2 || length.Hi < 1.2*small && !squirrel)
	case trait == "infraorbital_opening", trait == "molar_pattern":
		return m.smallSkull(key)
	case !slices.Contains(teethShown, trait):
		return false
	case m.minute(key):
		return true // nor does anybody know which a mole has lost
	case slices.Contains(cheekTeeth, trait):
		return gnaws() || m.smallSkull(key) // they are counted in a formula
	case trait == "lower_canines", trait == "lower_incisors":
		return m.canineAmongIncisors(key)
	}
	return false
}

// minute teeth are counted by nobody.
func (m *maker) minute(key int) bool {
	return m.value(key, "cheek_teeth").Typical().Text == "insect-piercing"
}

// stubs are upper canines that some lack, by the formula: nobody counts teeth by them.
func (m *maker) stubs(key int) bool { return m.value(key, "upper_canines").Usual != "" }

// canineAmongIncisors is a cow's, which farmers count as one of them.
func (m *maker) canineAmongIncisors(key int) bool {
	return m.value(key, "upper_incisors").Typical().String() == "0" && m.value(key, "lower_canines").Typical().String() == "1"
}

func (m *maker) smallSkull(key int) bool {
	length := m.species[key].Values["skull_length"]
	return length.Known() && length.Hi <= small
}

func (m *maker) wasHeard(i int, trait string) bool {
	return m.heard(told{m.species[i].Name, trait}.gist())
}

// wasStruck reports whether a statement falls by what was told of the animal, or of
// others that it fits.
func (m *maker) wasStruck(i int, f *fact) bool {
	return m.struck(told{m.species[i].Name, f.gist}) || m.struck(owned(f.claim))
}

// tells reports whether a fact is seen on the animal and tells it from one that
// it could be taken for.
func (m *maker) tells(key int, f *fact) bool { return f.telling() && m.among(key, f.no) }

func (m *maker) difficulty(key int, others []int) int {
	sum := 0.0
	for _, nb := range m.neighbours(key) {
		if slices.Contains(others, nb.species) {
			sum += nb.rank
		}
	}
	return level(sum / float64(len(others)))
}

// ranked is a fact with its place among others.
type ranked struct {
	*fact
	due  float64
	draw int
}

// shuffled returns the facts that fit and are taught, but for the type of foot,
// which nobody overlooks, in random order, those first whose traits were used least
// for what they weigh. Every fact that is taught has its draw, whether it fits or not.
func (m *maker) shuffled(facts []*fact, places []int, fit func(*fact) bool) []*fact {
	list, order := m.ranked[:0], append(m.order[:0], places...)
	m.dice.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
	for draw, p := range order {
		f := facts[p]
		weight := m.weight(&f.trait)
		if weight < leastTaught || f.trait.ID == "foot_type" {
			continue
		}
		if due := m.due(f, weight); fit(f) {
			list = append(list, ranked{f, due, draw})
		}
	}
	slices.SortFunc(list, func(a, b ranked) int {
		if a.due != b.due {
			return cmp.Compare(a.due, b.due)
		}
		return a.draw - b.draw
	})
	m.ranked, m.order = list, order
	out := make([]*fact, len(list))
	for i, r := range list {
		out[i] = r.fact
	}
	return out
}

// bySpecies lays out a question whose options are the key and others, each
// shown by text.
func (m *maker) bySpecies(key int, others []int, text func(i int) string, test []catalogue.Claim) Question {
	q := Question{Subject: m.subject, Difficulty: m.difficulty(key, others), Test: Test{test}}
	for _, i := range append([]int{key}, others...) {
		q.Options = append(q.Options, Option{Species: m.species[i].Name, Text: text(i)})
	}
	return m.seats.mixed(q, m.dice)
}

// statement is an option of a question about one species, or two.
type statement struct {
	text  string
	claim catalogue.Claim
	trait catalogue.Trait
}

// byStatement lays out a question whose options are statements, the key first.
func (m *maker) byStatement(about About, list []statement) Question {
	q := Question{Subject: m.subject, About: &about, Test: Test{[]catalogue.Claim{list[0].claim}}}
	for _, s := range list {
		q.Options = append(q.Options, Option{Text: s.text, Test: &Test{[]catalogue.Claim{s.claim}}})
	}
	q.Difficulty = 6 - list[0].trait.Ease
	return m.seats.mixed(q, m.dice)
}

// seat is a place among so many options.
type seat struct{ of, place int }

// seats counts how often the key stood at each.
type seats map[seat]int

// mixed puts the options, whose first is the key, in random order, the key at one of
// the places that few keys had: no letter gets far ahead of another, and none is sure.
func (s seats) mixed(q Question, dice *rand.Rand) Question {
	wrong := q.Options[1:]
	dice.Shuffle(len(wrong), func(i, j int) { wrong[i], wrong[j] = wrong[j], wrong[i] })
	order := rarest(dice, len(q.Options), func(i int) int { return s[seat{len(q.Options), i}] })
	least := s[seat{len(q.Options), order[0]}]
	fair := slices.DeleteFunc(order, func(i int) bool { return s[seat{len(q.Options), i}] > least+1 })
	q.Key = fair[dice.IntN(len(fair))]
	q.Options[0], q.Options[q.Key] = q.Options[q.Key], q.Options[0]
	return q
}
