package questions

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"slices"

	"fieldsign/questions/catalogue"
)

// loreEvery: one question in so many is about the trade's own words.
const loreEvery = 12

// For so many questions of a set:
const (
	tellsFor = 60 // what was told is not asked
	putsFor  = 30 // no part of the same whole is asked, and no wrong option falls by what was disclosed
	showsFor = 10 // no question on signs shows what another showed
	// From its beginning:
	hintsFor  = 20 // nothing is asked that follows from what was told
	sparesFor = 30 // what the set begins without is not asked
)

// fewAnimals: of no more than these each is asked about again soon.
const fewAnimals = 30

// planner holds what a set has used so far.
type planner struct {
	wish     Wish
	bank     *Bank
	book     *phrasebook
	dice     *rand.Rand
	makers   []*maker
	species  []string
	places   []map[string]int // by maker: a species' place in its index
	subjects []float64        // by maker: questions asked
	asked    map[string]int   // how often each template was
	seen     map[string]bool
	told     map[told]int // the number of the question that told it
	known    map[told]int // the number of the question that disclosed it, to whoever looks at wrong options
	put      map[told]int // the number of the question that asked a part of it, or had statements on it
	used     uses         // of all makers
	lore     []catalogue.Lore
	loreUsed map[string]bool  // by template and name
	unasked  []catalogue.Lore // that were no key yet, nor a label
	loreless map[attempt]bool // those that found none
	seats    seats            // of the keys
	spared   map[told]bool    // whether this set begins without it
	set      []Question

	pair      int       // whose turn comes next
	keyed     []float64 // by place in species: turns had, over its weight; nil without weights
	heaviest  float64   // of the weights of traits; 0 without any
	floor     float64   // what a trait has to weigh that decides the question sought
	drawn     int       // questions with a drawing
	look      look      // of the question sought
	anyAlike  bool      // by facts as good none stands beside the key that coaches set there
	comparing bool      // a pair: of any difficulty
	leave
	fits func(Question) bool // of the place to fill, where it is only one
}

// leave is what a planner lets in that a set does better without, where nothing else is left.
type leave struct {
	uneven    bool // usual shares may be passed
	spending  bool // wrong options may be struck out by what was disclosed
	anyTold   bool // what follows from something told may be asked
	anyLook   bool // any look will do, and what is only recalled may decide
	forgiving bool // what was told may be asked
	lenient   leniency

	unspared bool // what the set begins without may be asked
	again    bool // parts of one whole may be asked again
}

// rungs lead from a set of the best questions to whatever the roster gives.
var rungs = []leave{
	{},
	{uneven: true},
	{uneven: true, spending: true, anyTold: true},
	{uneven: true, spending: true, anyTold: true, anyLook: true},
	{uneven: true, spending: true, anyTold: true, anyLook: true, forgiving: true},
	{uneven: true, spending: true, anyTold: true, anyLook: true, forgiving: true, lenient: besideStrangers},
}

func newPlanner(b *Bank, w Wish) *planner {
	p := &planner{wish: w, bank: b, book: phrasebooks[b.catalogue.Language], dice: rand.New(rand.NewPCG(w.Seed, 0x66736967)), asked: map[string]int{}, seen: map[string]bool{}, told: map[told]int{}, known: map[told]int{}, put: map[told]int{}, used: uses{}, loreUsed: map[string]bool{}, loreless: map[attempt]bool{}, seats: seats{}, spared: map[told]bool{}}
	if len(p.wish.Subjects) == 0 {
		p.wish.Subjects = catalogue.Usual
	}
	for _, subject := range p.wish.Subjects {
		m := &maker{index: b.index(subject), tiers: b.indexes[subject](), dice: p.dice, wish: w.Difficulty, used: p.used,
			near: map[looked][]neighbour{}, counted: map[string]bool{}, sight: subject, wrong: others, weights: w.Traits, beside: anyone, photos: w.Photos, heard: p.heard, wasTold: p.wasTold, struck: p.struck, seats: p.seats}
		places := map[string]int{}
		for i, s := range m.species {
			places[s.Name] = i
			if !slices.Contains(p.species, s.Name) {
				p.species = append(p.species, s.Name)
			}
		}
		p.makers, p.places = append(p.makers, m), append(p.places, places)
	}
	p.subjects = make([]float64, len(p.makers))
	p.look = w.Drawings.always()
	p.lore = slices.DeleteFunc(slices.Clone(b.lore), func(l catalogue.Lore) bool { return !p.inPlay(l) })
	p.unasked = slices.Clone(p.lore)
	slices.Sort(p.species)
	p.heaviest = heaviest(w.Traits)
	if len(w.Species) > 0 {
		p.keyed = make([]float64, len(p.species))
	}
	return p
}

// turn is a pass over all species, those first that came least, in random order among
// equals; or as their weights say.
func (p *planner) turn() []string {
	if p.keyed != nil && !p.forgiving {
		return p.weighedTurn()
	}
	came := map[string]int{}
	for _, q := range p.set {
		came[q.keySpecies()]++
	}
	order := make([]string, max(1, len(p.species)))
	for i, k := range p.dice.Perm(len(p.species)) {
		order[i] = p.species[k]
	}
	slices.SortStableFunc(order, func(a, b string) int { return came[a] - came[b] })
	if p.holdsThirds(came[order[0]]) {
		order = slices.DeleteFunc(order, func(s string) bool { return came[s] > 1 })
	}
	return order
}

// holdsThirds reports whether nobody comes a third time yet, by how often that animal came
// which came least. Among many one may wait long for a question of its own.
func (p *planner) holdsThirds(least int) bool {
	if len(p.species) <= fewAnimals {
		return !p.uneven && !p.waited()
	}
	return !p.anyLook && least == 0 && 2*len(p.set) < 5*len(p.species)
}

// waited reports whether every animal had time to come in a subject of its own.
func (p *planner) waited() bool { return 2*len(p.set) >= len(p.species) }

// difficulty is the wished one of the next question.
func (p *planner) difficulty() int {
	if p.comparing {
		return 0
	}
	if p.wish.Rising {
		return 1 + 5*len(p.set)/p.wish.Count
	}
	return p.wish.Difficulty
}

// stuck says what a rising set failed on.
func (p *planner) stuck() string {
	if p.wish.Rising {
		return fmt.Sprintf(" (there is no more of difficulty %d)", p.difficulty())
	}
	return ""
}

// loreDue keeps the trade's own words to their part of the set.
func (p *planner) loreDue() bool {
	return len(p.wish.Templates) > 0 || len(p.set)%loreEvery == loreEvery/2
}

// loreLeft lets words of the trade in, up to a fifth of a set before what is only
// recalled, and up to a third before animals that nobody takes for the key. Where animals
// are wished for they come last.
func (p *planner) loreLeft() bool {
	every := 5
	if p.lenient == besideStrangers {
		every = 3
	}
	return (p.keyed == nil || p.forgiving) && len(p.wish.Templates) == 0 && len(p.loreUsed)*every < len(p.set)
}

// ask adds one new question with the species as its key, if there is one.
func (p *planner) ask(species string) {
	for _, least := range tiers {
		if p.barred(least) || least == catalogue.Memory && !p.anyLook || least == catalogue.Practice && !p.uneven {
			return
		}
		for _, m := range p.makers {
			m.lacks = lacks{}
		}
		for _, p.anyAlike = range []bool{false, true} {
			if p.askFrom(species, least) {
				return
			}
			if !slices.ContainsFunc(p.makers, func(m *maker) bool { return m.lacks.alike }) {
				break
			}
		}
	}
}

// choosy reports whether only one of two looks is due, and another animal may have it.
func (p *planner) choosy() bool { return !p.anyLook && len(p.looks()) > 1 }

func (p *planner) looks() []look { return p.wish.Drawings.next(p.drawn, len(p.set)) }

// askFrom asks by facts that rest on so much, with a drawing or without as the
// wish has it next; otherwise only where a set would stay short of it.
func (p *planner) askFrom(species string, least catalogue.Basis) bool {
	defer func() { p.look = p.wish.Drawings.always() }()
	looks := p.looks()
	if p.choosy() {
		looks = looks[:1]
	}
	for _, p.look = range looks {
		if p.askOnce(species, least) {
			return true
		}
	}
	return false
}

// askOnce asks in the subject that was asked least beside its share.
func (p *planner) askOnce(species string, least catalogue.Basis) bool {
	for _, s := range rarest(p.dice, len(p.makers), p.due) {
		m := p.makers[s]
		key, in := p.places[s][species]
		if !in || p.ahead(s) {
			continue
		}
		m.wish, m.index = p.difficulty(), m.tier(least)
		if p.offers(m, key) && p.askBy(m, key) {
			p.subjects[s]++
			return true
		}
	}
	return false
}

func (p *planner) askBy(m *maker, key int) bool {
	// Words and sums take turns: neither has animals of its own to ask about.
	if m.subject == catalogue.Management && p.dice.IntN(2) == 0 && p.askLoreOf([]string{m.subject}) {
		return true
	}
	for _, t := range rarest(p.dice, len(templates), p.turns) {
		if p.wanted(templates[t], m.subject) && p.try(templates[t], m, key) {
			return true
		}
	}
	return false
}

// byTiers asks by the best facts first, and by what is only recalled where no
// other will do and the wish lets it.
func (p *planner) byTiers(m *maker, ask func() bool) bool {
	for _, m.index = range m.tiers {
		if p.barred(m.least) {
			break
		}
		if ask() {
			return true
		}
	}
	return false
}

// barred reports whether the wish forbids what rests on no more than this.
func (p *planner) barred(b catalogue.Basis) bool { return p.wish.NoMemory && b == catalogue.Memory }

// turns is how often a template was asked, over its weight.
func (p *planner) turns(template int) float64 {
	t := templates[template]
	return float64(p.asked[t.name]) / cmp.Or(t.weight, 1)
}

// usualShare is what a subject has of a set without a wish, as far as it goes: of a skull
// more was read than of a scat.
var usualShare = map[string]float64{"skull": .44, "track": .34, "scat": .22}

// share is what a maker's subject has of the set, as it was wished or is usual.
func (p *planner) share(maker int) float64 {
	most := usualShare[p.makers[maker].subject]
	switch {
	case len(p.wish.Shares) > 0:
		sum := 0
		for _, share := range p.wish.Shares {
			sum += share
		}
		return float64(p.wish.Shares[maker]) / float64(sum)
	case len(p.makers) == len(usualShare) && most > 0:
		return most
	}
	return 1 / float64(len(p.makers))
}

// due is how often a maker's subject was asked about, over its share.
func (p *planner) due(maker int) float64 { return p.subjects[maker] / p.share(maker) }

// ahead reports whether a subject has had more than its share. Where none was wished for
// it the others may fall behind as soon as they give no more as good, otherwise once all
// else is let in.
func (p *planner) ahead(maker int) bool {
	wished := len(p.wish.Shares) > 0
	if wished && p.anyLook || !wished && p.uneven {
		return false
	}
	return p.subjects[maker] >= p.share(maker)*float64(len(p.set))+1
}

// rarest orders 0..n-1 by use, at random among equals.
func rarest[N int | float64](dice *rand.Rand, n int, use func(int) N) []int {
	order, uses := dice.Perm(n), make([]N, n)
	for i := range uses {
		uses[i] = use(i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(uses[a], uses[b]) })
	return order
}

func (p *planner) wanted(t template, subject string) bool {
	if len(p.wish.Templates) > 0 && !slices.Contains(p.wish.Templates, t.name) || len(p.wish.Templates) == 0 && t.weight == 0 {
		return false
	}
	if !p.look.suitsTemplate(t) {
		return false
	}
	share := t.most
	wished := p.keyed != nil
	if wished { // what shows no animal known takes a turn from one that was wished for
		share /= 2
	}
	if t.most > 0 && p.asked[t.name] > 0 && len(p.wish.Templates) == 0 && (t.neverMore || !p.forgiving && (p.lenient == strict || wished)) && float64(p.asked[t.name]) >= share*float64(len(p.set)+1) {
		return false
	}
	return len(t.subjects) == 0 || slices.Contains(t.subjects, subject)
}

func (p *planner) try(t template, m *maker, key int) bool {
	if p.over(t, m.species[key].Name) {
		return false
	}
	for _, m.wrong = range []int{others, fewest} {
		m.lacks.third = false
		added, made := p.tryWith(t, m, key)
		if added || made && p.floor > 0 || !m.lacks.third { // what weighs too little is not made again
			return added
		}
	}
	return false
}

// tryWith also reports whether there was such a question at all.
func (p *planner) tryWith(t template, m *maker, key int) (added, made bool) {
	const tries = 3
	for range tries {
		m.sight, m.lenient, m.anyAlike, m.floor = m.subject, p.lenient, p.anyAlike, p.floor
		m.recalls = !t.drawn
		q, ok := t.make(m, key)
		if !ok || !p.look.suits(q) {
			return false, made
		}
		made = true
		q.Template = t.name
		if m.worthIt(q) && p.add(q) {
			return true, true
		}
	}
	return false, made
}

// add takes a question into the set unless it is there already, misses the
// wished difficulty, or asks what was told a short while ago.
func (p *planner) add(q Question) bool {
	if p.difficulty() != 0 && q.Difficulty != p.difficulty() || p.givenAway(q) {
		return false
	}
	q = p.book.finished(q)
	signature := q.signature()
	if p.seen[signature] || !p.forgiving && p.seen[q.stem()] || p.fits != nil && !p.fits(q) {
		return false
	}
	if q.Rests = p.bank.Rests(q); p.barred(q.Rests) {
		return false
	}
	if q.reason != nil {
		q.Reason, q.reason = p.book.finish(q.reason()), nil
	}
	p.seen[signature], p.seen[q.stem()] = true, true
	q = q.Numbered(len(p.set) + 1)
	p.note(q, len(p.set)+1)
	q.says = nil
	p.set = append(p.set, q)
	p.seats[seat{len(q.Options), q.Key}]++
	if q.Drawn() {
		p.drawn++
	}
	p.asked[q.Template]++
	if q.labels() {
		p.read(q.Options[q.Key].Species)
	}
	if sort, is := q.sumSort(); is {
		p.used.add(sort)
	}
	if answer := q.row().answer; answer != nil {
		p.used.add(answer(q))
	}
	return true
}

// note keeps what a question tells, and what it puts.
func (p *planner) note(q Question, number int) {
	if p.wish.Alone {
		return
	}
	for _, fact := range q.tells() {
		p.told[fact.gist()] = number
		for _, as := range p.bank.wider(fact) {
			p.put[as] = number
		}
	}
	for _, fact := range p.bank.discloses(q) {
		p.known[fact] = number
	}
	for _, fact := range slices.Concat(q.puts(), q.once(), q.fresh(), q.drawings()) {
		p.put[fact] = number
	}
}

func (p *planner) givenAway(q Question) bool {
	if slices.ContainsFunc(q.once(), p.justPut) || q.Subject == catalogue.FoodWeb && slices.ContainsFunc(q.asks(), func(f told) bool { return p.justTold(f.gist()) }) {
		return true
	}
	if slices.ContainsFunc(q.fresh(), func(f told) bool { return p.within(p.apart(), p.put[f]) }) {
		return true
	}
	if p.forgiving {
		return false
	}
	if !p.again && p.keyed == nil && p.apart() > 0 && slices.ContainsFunc(q.drawings(), p.justPut) {
		return true
	}
	return slices.ContainsFunc(q.decides(), func(f told) bool { return p.justTold(f.gist()) || p.asGoodAsTold(f) }) ||
		!p.again && slices.ContainsFunc(p.puts(q), p.justPut) && !p.insisted(q) ||
		q.spent(p.justKnown) > p.maySpend(q)
}

// apart is how many questions lie between two that show the same of a sign. Where all are
// over drawings, or of one difficulty, their few kinds have to come again.
func (p *planner) apart() int {
	if p.wish.Drawings == AllDrawings || p.wish.Difficulty > 0 {
		return 0
	}
	return showsFor
}

func (p *planner) justTold(f told) bool { return p.within(tellsFor, p.told[f]) }

// within reports whether a question, by its number, was one of the last n. There is none of number 0.
func (p *planner) within(n, number int) bool { return number > 0 && len(p.set)-number < n }

// asGoodAsTold reports whether a paper told something from which a fact follows. Among
// many animals it is let in: all questions on birds tell of their toes, and one of the
// few birds would come too late.
func (p *planner) asGoodAsTold(f told) bool {
	return !p.again && !p.anyTold && len(p.species) <= fewAnimals && len(p.set) < hintsFor && slices.ContainsFunc(p.bank.wider(f), p.justPut)
}

// heard reports whether a maker had better leave a fact alone.
func (p *planner) heard(f told) bool { return p.wasTold(f) || !p.forgiving && p.spares(f) }

func (p *planner) wasTold(f told) bool { return !p.forgiving && p.justTold(f) }

// struck reports whether an option of it would be spent.
func (p *planner) struck(f told) bool { return !p.spending && !p.comparing && p.justKnown(f) }

// spares reports whether a paper begins without a fact: of each animal a third, by
// chance. Small rosters would give the same papers again and again.
func (p *planner) spares(f told) bool {
	unusual := func(subject string) bool { return !slices.Contains(catalogue.Usual, subject) }
	if p.unspared || p.spending || p.comparing || p.wish.Alone || len(p.set) >= sparesFor || p.heaviest > 0 || p.keyed != nil || slices.ContainsFunc(p.wish.Subjects, unusual) {
		return false
	}
	spared, drawn := p.spared[f]
	if !drawn {
		spared = hash(fmt.Sprint(p.wish.Seed, f))%3 == 0
		p.spared[f] = spared
	}
	return spared
}

// puts is what may not be put again. Of statements the right one may, where all is used
// up but what is recalled.
func (p *planner) puts(q Question) []told {
	all := q.puts()
	if p.spending && q.About != nil {
		all = slices.DeleteFunc(all, func(f told) bool { return f == told{"", q.claimed()} })
	}
	return all
}

// insisted reports whether the wish has a trait asked again and again, of other animals.
func (p *planner) insisted(q Question) bool {
	return q.About == nil && slices.ContainsFunc(q.Test.All, func(c catalogue.Claim) bool { return p.wish.Traits[c.Trait] > 1 })
}

func (p *planner) justPut(f told) bool { return p.within(putsFor, p.put[f]) }

// maySpend is how many wrong options may be struck out by what was disclosed: none, or
// where nothing else is left all but one.
func (p *planner) maySpend(q Question) int {
	if p.spending || p.comparing {
		return len(q.Options) - 2
	}
	return 0
}

func (p *planner) justKnown(f told) bool { return p.within(putsFor, p.known[f]) }

// over reports whether a template can have nothing new about a species.
func (p *planner) over(t template, species string) bool {
	return !p.forgiving && !p.again && (p.justPut(told{species, t.name}) || p.justPut(told{species, t.asksPart}))
}

func hash(s string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(s))
	return h.Sum64()
}
