package questions

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"slices"
	"sort"
	"strings"

	"fieldsign/questions/catalogue"
)

// Bank computes question sets from one roster. It is read-only once built and
// safe for concurrent use.
type Bank struct {
	indexes map[string]*index
}

// NewBank prepares a roster in all its subjects.
func NewBank(c *catalogue.Catalogue, roster catalogue.Roster) *Bank {
	b := &Bank{map[string]*index{}}
	for _, subject := range catalogue.Subjects {
		b.indexes[subject] = newIndex(c, roster, subject)
	}
	return b
}

// Wish is what a set should be.
type Wish struct {
	Subjects   []string // none: skull, track and scat
	Count      int
	Seed       uint64
	Difficulty int      // 1 (unlike animals) to 5 (the closest look-alikes); 0: look-alikes first, of any degree
	Templates  []string // none: all
}

// MaxCount bounds a set.
const MaxCount = 100_000

func (w Wish) check() error {
	for _, s := range w.Subjects {
		if !slices.Contains(catalogue.Subjects, s) {
			return fmt.Errorf("no subject %q: there are %s", s, strings.Join(catalogue.Subjects, ", "))
		}
	}
	for _, t := range w.Templates {
		if !slices.Contains(Templates(), t) {
			return fmt.Errorf("no template %q: there are %s", t, strings.Join(Templates(), ", "))
		}
	}
	if w.Count < 1 || w.Count > MaxCount {
		return fmt.Errorf("a set has 1 to %d questions, not %d", MaxCount, w.Count)
	}
	if w.Difficulty < 0 || w.Difficulty > 5 {
		return fmt.Errorf("difficulty is 1 to 5, or 0 for any, not %d", w.Difficulty)
	}
	return nil
}

// Set plans and computes a set: species take turns as the key, subjects and
// templates are kept even, and no question comes twice. Where the roster holds
// fewer different questions than wished, the error says how many.
func (b *Bank) Set(w Wish) ([]Question, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	p := newPlanner(b, w)
	for len(p.set) < w.Count {
		before := len(p.set)
		for _, species := range p.turn() {
			if len(p.set) < w.Count {
				p.ask(species)
			}
		}
		if len(p.set) == before {
			return nil, fmt.Errorf("this roster gives only %d different questions of the kind wished, not %d: add species or subjects, or wish for another difficulty", before, w.Count)
		}
	}
	return p.set, nil
}

// planner holds what a set has used so far.
type planner struct {
	wish     Wish
	dice     *rand.Rand
	makers   []*maker
	species  []string
	places   []map[string]int // by maker: a species' place in its index
	subjects map[string]int   // how often each was asked
	asked    map[string]int   // likewise each template
	seen     map[string]bool
	set      []Question
}

func newPlanner(b *Bank, w Wish) *planner {
	p := &planner{wish: w, dice: rand.New(rand.NewPCG(w.Seed, 0x66736967)), subjects: map[string]int{}, asked: map[string]int{}, seen: map[string]bool{}}
	if len(p.wish.Subjects) == 0 {
		p.wish.Subjects = catalogue.Subjects[1:]
	}
	used := map[string]int{}
	for _, subject := range p.wish.Subjects {
		m := &maker{b.indexes[subject], p.dice, w.Difficulty, used, map[int][]neighbour{}}
		places := map[string]int{}
		for i, s := range m.species {
			places[s.Name] = i
			if !slices.Contains(p.species, s.Name) {
				p.species = append(p.species, s.Name)
			}
		}
		p.makers, p.places = append(p.makers, m), append(p.places, places)
	}
	slices.Sort(p.species)
	return p
}

// turn is a pass over all species, in random order.
func (p *planner) turn() []string {
	order := make([]string, len(p.species))
	for i, k := range p.dice.Perm(len(p.species)) {
		order[i] = p.species[k]
	}
	return order
}

// ask adds one new question with the species as its key, if there is one.
func (p *planner) ask(species string) {
	for _, s := range p.rarest(len(p.makers), func(i int) int { return p.subjects[p.makers[i].subject] }) {
		m := p.makers[s]
		key, in := p.places[s][species]
		if !in {
			continue
		}
		for _, t := range p.rarest(len(templates), func(i int) int { return p.asked[templates[i].name] }) {
			if p.wanted(templates[t], m.subject) && p.try(templates[t], m, key) {
				return
			}
		}
	}
}

// rarest orders 0..n-1 by use, at random among equals.
func (p *planner) rarest(n int, use func(int) int) []int {
	order := p.dice.Perm(n)
	sort.SliceStable(order, func(i, j int) bool { return use(order[i]) < use(order[j]) })
	return order
}

func (p *planner) wanted(t template, subject string) bool {
	return (len(t.subjects) == 0 || slices.Contains(t.subjects, subject)) &&
		(len(p.wish.Templates) == 0 || slices.Contains(p.wish.Templates, t.name))
}

func (p *planner) try(t template, m *maker, key int) bool {
	const tries = 3
	for range tries {
		q, ok := t.make(m, key)
		if !ok || p.wish.Difficulty != 0 && q.Difficulty != p.wish.Difficulty {
			return false
		}
		q.Template = t.name
		if signature := q.signature(); !p.seen[signature] {
			p.seen[signature] = true
			q.ID = fmt.Sprintf("q%d-%016x", len(p.set)+1, hash(signature))
			p.set = append(p.set, q)
			p.subjects[m.subject]++
			p.asked[t.name]++
			return true
		}
	}
	return false
}

// signature is equal for two questions that a student would call the same.
func (q Question) signature() string {
	var texts []string
	for _, o := range q.Options {
		texts = append(texts, o.Text)
	}
	slices.Sort(texts)
	return q.Prompt + "\n" + strings.Join(texts, "\n")
}

func hash(s string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(s))
	return h.Sum64()
}
