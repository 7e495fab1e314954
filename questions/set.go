package questions

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

// Bank computes question sets from one roster. It is safe for concurrent use.
type Bank struct {
	catalogue *catalogue.Catalogue
	indexes   map[string]func() []*index // by subject, made when it is first asked about; one for each of the tiers
	lore      []catalogue.Lore
	web       *foodweb.Web
}

// NewBank prepares a roster in all its subjects.
func NewBank(c *catalogue.Catalogue, roster catalogue.Roster) *Bank {
	b := &Bank{c, map[string]func() []*index{}, c.Lore, foodweb.New(c)}
	for _, subject := range catalogue.Asked() {
		b.indexes[subject] = sync.OnceValue(func() []*index { return b.indexed(roster, subject) })
	}
	return b
}

func (b *Bank) indexed(roster catalogue.Roster, subject string) (all []*index) {
	known, web := b.catalogue, (*foodweb.Web)(nil)
	switch subject {
	case catalogue.FoodWeb:
		known, web = webbed(b.catalogue, roster, b.web), b.web
	case catalogue.Specimen:
		known = withGenus(b.catalogue)
	}
	for _, least := range tiers {
		ix := newIndex(known, roster, subject, least)
		if ix.web = web; web != nil {
			ix.addChains(known)
		}
		all = append(all, ix)
	}
	return all
}

// index is that of a subject by all that is known, or nil.
func (b *Bank) index(subject string) *index {
	made := b.indexes[subject]
	if made == nil {
		return nil
	}
	return made()[len(tiers)-1]
}

// tiers are what questions may rest on: sources that were read, where a question
// can be made of those alone; then the trade's common practice; recollection last.
var tiers = []catalogue.Basis{catalogue.Absence, catalogue.Practice, catalogue.Memory}

// Wish is what a set should be.
type Wish struct {
	Subjects   []string // none: skull, track and scat
	Shares     []int    // of the subjects, in their order, in any unit; none: equal, as far as what was read goes
	Count      int
	Seed       uint64
	Difficulty int      // 1 (unlike animals) to 5 (the closest look-alikes); 0: look-alikes first, of any degree
	Rising     bool     // from difficulty 1 at the start to 5 at the end
	Templates  []string // none: all
	NoMemory   bool     // nothing that is only recalled decides
	Alone      bool     // each is asked by itself, as in practice: none is held to give another away, and fewer than wished are no error
	Drawings   Drawings
	Photos     []PlateRef // that there are of pelts and head gear; nil: whatever is asked about is laid out

	// What a debrief asks for. A pair comes back as a comparison of its two
	// species, of any difficulty; one that the roster lacks is passed over. A
	// weight says how readily a species is the key, or a trait decides, beside
	// those not named, whose weight is 1.
	Pairs   []Pair
	Species map[string]float64
	Traits  map[string]float64
}

// Pair is two species to be told apart in a subject.
type Pair struct{ Subject, A, B string }

// MostWeight is the weight of a species beside which the others hardly count:
// it is the key a hundred times as often as one whose weight is 1.
const MostWeight = 100.0

// MaxCount bounds a set.
const MaxCount = 100_000

func (w Wish) check() error {
	for _, s := range w.Subjects {
		if !slices.Contains(catalogue.Asked(), s) {
			return fmt.Errorf("no subject %q: there are %s", s, strings.Join(catalogue.Asked(), ", "))
		}
	}
	for _, t := range w.Templates {
		if !slices.Contains(Templates(), t) {
			return fmt.Errorf("no template %q: there are %s", t, strings.Join(Templates(), ", "))
		}
	}
	switch {
	case w.Count < 1 || w.Count > MaxCount:
		return fmt.Errorf("a set has 1 to %d questions, not %d", MaxCount, w.Count)
	case w.Difficulty < 0 || w.Difficulty > 5:
		return fmt.Errorf("difficulty is 1 to 5, or 0 for any, not %d", w.Difficulty)
	case w.Rising && w.Difficulty != 0:
		return fmt.Errorf("a rising set has no single difficulty: leave out %d", w.Difficulty)
	case len(w.Shares) > 0 && len(w.Shares) != len(w.Subjects):
		return fmt.Errorf("%d shares for %d subjects: give one for each", len(w.Shares), len(w.Subjects))
	}
	if err := w.Drawings.check(); err != nil {
		return err
	}
	for _, weights := range []map[string]float64{w.Species, w.Traits} {
		for name, weight := range weights {
			if !(weight >= 1/MostWeight && weight <= MostWeight) {
				return fmt.Errorf("the weight of %s is %v to %v, not %v", name, 1/MostWeight, MostWeight, weight)
			}
		}
	}
	for i, share := range w.Shares {
		if share < 1 || share > 1000 {
			return fmt.Errorf("the share of %s is 1 to 1000, not %d", w.Subjects[i], share)
		}
	}
	return nil
}

// Set plans and computes a set: species take turns as the key, subjects keep
// to their shares, templates and traits are kept even, no question comes twice,
// and none asks what one of the last questions has told, unless nothing else is
// left to ask. Where the roster holds
// fewer different questions than wished, the error says how many.
func (b *Bank) Set(w Wish) ([]Question, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	set, err := newPlanner(b, w).plan()
	if err == nil {
		return set, nil
	}
	for other, dice := w, uint64(1); dice < begins && len(set) > 0 && w.Count-len(set) <= nearly; dice++ {
		other.Seed = w.Seed ^ dice<<seedBits
		if set, err := newPlanner(b, other).plan(); err == nil {
			return set, nil
		}
	}
	return nil, err
}

// A set that lacks a question or two is begun with other dice: what came first may have
// taken the last link of a food chain.
const (
	begins   = 4  // times
	nearly   = 2  // questions
	seedBits = 53 // of a drawn seed: no host has the others
)

// plan computes the set that was wished for. With an error it is what was found.
func (p *planner) plan() ([]Question, error) {
	w := p.wish
	failed := map[string]int{} // the first rung at which a species may be tried again
	for rung := 0; len(p.set) < w.Count; {
		before := len(p.set)
		p.leave = rungs[rung]
		p.uneven = p.uneven || p.keyed != nil || p.heaviest > 0 // other things were wished for
		if p.anyLook && p.loreLeft() && p.askLore() {
			rung--
			continue
		}
		for _, species := range p.turn() {
			if len(p.set) < w.Count && p.comparisonDue() {
				p.compare()
			}
			if found := len(p.set); found < w.Count && failed[species] <= rung {
				if p.askInTurn(species); len(p.set) == found && w.Alone {
					failed[species] = rung + 1 // nothing that was asked is forgotten: it would fail again
				}
			}
			if len(p.set) < w.Count && p.loreDue() {
				p.askLore()
			}
		}
		switch {
		case len(p.set) > before && w.Alone:
		case len(p.set) > before:
			rung = max(0, rung-1) // what failed just before would mostly fail again
		case rung < len(rungs)-1:
			rung++
		case w.Alone && before > 0:
			return p.set, nil
		default:
			return p.set, fmt.Errorf("this roster gives only %d different questions of the kind wished, not %d%s: %s%s", before, w.Count, p.stuck(), fewer(before), w.remedy())
		}
	}
	return p.set, nil
}

// askInTurn asks about a species. Where it never came it may come by what the set began
// without, without the drawing that is due, or with one that isn't; and where none could
// be taken for it, by statements that fit any other. In its second turn an option may be
// spent, and in its third what was told of it may be asked.
func (p *planner) askInTurn(species string) {
	before := len(p.set)
	asked := func() bool {
		p.ask(species)
		return len(p.set) > before
	}
	if p.weighty(asked) || asked() {
		return
	}
	came := func(q Question) bool { return q.keySpecies() == species }
	passed := p.keyed != nil && p.wish.Species[species] <= 1 // others are wished for
	if !p.uneven && !p.waited() || p.lenient != strict || passed || slices.ContainsFunc(p.set, came) {
		return
	}
	usual := p.leave
	p.uneven, p.unspared = true, true
	p.ask(species)
	p.unspared = false
	for _, p.lenient = range []leniency{strict, tellOfStrangers} {
		if p.spending, p.anyLook = len(p.set) >= len(p.species), true; len(p.set) == before {
			p.ask(species)
		}
	}
	if p.lenient, p.forgiving = strict, true; len(p.set) == before && len(p.set) >= 2*len(p.species) {
		p.ask(species)
	}
	p.leave = usual
}

// fewer is the plainest remedy.
func fewer(found int) string {
	if found == 0 {
		return ""
	}
	return fmt.Sprintf("ask for %d, or ", found)
}

func (w Wish) remedy() string {
	if w.Photos != nil && slices.Contains(w.Subjects, catalogue.Specimen) {
		return "add photos of pelts, antlers or horns, or add subjects; each photo gives a question or two, and none is asked without one"
	}
	if slices.Equal(w.Subjects, []string{catalogue.FoodWeb}) {
		return "add to the roster an animal that eats, or is eaten by, one that is in it, or ask for another subject of questions, too"
	}
	if w.NoMemory {
		return "add species or subjects, wish for another difficulty, or let what is only recalled decide too (fieldsign catalogue sources says what is)"
	}
	return "add species or subjects, or wish for another difficulty"
}

// stem is equal for two questions that differ in their distractors only.
func (q Question) stem() string {
	key := q.Options[q.Key]
	switch {
	case key.Plate != nil:
		return q.Prompt + "\n" + key.Species
	case q.Plate != nil && q.Plate.With != "":
		return q.signature()
	case q.ofSign():
		return q.Prompt + "\n" + key.Text + "\n" + q.Plate.View
	}
	return q.Prompt + "\n" + key.Text
}

// wording is equal for two questions that read alike. It tells nothing of the
// key, nor of what is drawn, so ids may be made from it.
func (q Question) wording() string {
	var texts []string
	for _, o := range q.Options {
		texts = append(texts, o.Text)
	}
	slices.Sort(texts)
	return q.Prompt + "\n" + strings.Join(texts, "\n")
}

// Numbered has an id made from its place in a round, and from what it reads.
func (q Question) Numbered(n int) Question {
	q.ID = fmt.Sprintf("q%d-%016x", n, hash(q.wording()))
	return q
}

// signature is equal for two questions that a student would call the same: they
// read alike, and where the drawings make the question, those are alike too.
func (q Question) signature() string {
	var drawn []string
	if q.labels() {
		drawn = append(drawn, q.Plate.Species, q.Plate.Mark)
	}
	if q.Plate != nil && q.Plate.With != "" {
		drawn = append(drawn, q.Plate.Species, q.Plate.With)
	}
	if q.jaw() || q.ofSign() {
		drawn = append(drawn, q.Plate.View)
	}
	for _, o := range q.Options {
		if o.Plate != nil {
			drawn = append(drawn, o.Species)
		}
	}
	slices.Sort(drawn)
	return q.wording() + "\n" + strings.Join(drawn, "\n")
}
