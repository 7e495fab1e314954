package questions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// FieldKey is a dichotomous key to a roster by one subject, computed. Whoever
// follows what is true of an animal comes to an end that names it. A species
// whose value does not decide a couplet is found down both of its leads.
type FieldKey struct {
	Subject  string
	Couplets []Couplet // the first is where to start
}

// Couplet is a pair of leads of which the second denies the first.
type Couplet struct {
	Leads [2]Lead
}

// Lead is one half of a couplet: go on to couplet Next (counted from 0), or
// where Next is 0, come to an end.
type Lead struct {
	Claim catalogue.Claim
	Text  string
	Next  int
	End   []catalogue.Species // more than one: nothing in the catalogue separates them
}

// maxCouplets bounds a key. Few known values make keys long: a species goes
// down both leads wherever it is not decided.
const maxCouplets = 2000

// NewFieldKey computes the key. Each couplet is the split that tells most, the
// information it gives weighted by how easily its trait is seen.
func NewFieldKey(c *catalogue.Catalogue, roster catalogue.Roster, subject string) (*FieldKey, error) {
	ix := newIndex(c, roster, subject, catalogue.Memory)
	if len(ix.species) < 2 {
		return nil, fmt.Errorf("a key needs two species or more; roster %s has %d in play with their %s", roster.Name, len(ix.species), subject)
	}
	b := &keyBuilder{index: ix, splits: ix.splits(c), key: &FieldKey{Subject: subject}, done: map[string]Lead{}}
	all := newBitset(len(ix.species))
	for i := range ix.species {
		all.add(i)
	}
	if start := b.lead(all); start.End != nil {
		return nil, fmt.Errorf("no trait of the %s separates any species of roster %s", subject, roster.Name)
	}
	if len(b.key.Couplets) > maxCouplets {
		return nil, fmt.Errorf("the key would need more than %d couplets, since too few values are known: choose a smaller roster", maxCouplets)
	}
	return b.key, nil
}

// splits are the claims that a couplet may rest on: a word, or a number's cut
// between two ranges that don't touch.
func (ix *index) splits(c *catalogue.Catalogue) []*fact {
	out := slices.Clone(ix.facts)
	out = slices.DeleteFunc(out, func(f *fact) bool { return f.trait.Kind == catalogue.Count || !positive(f) || f.value.Usual != "" })
	for i, f := range out {
		out[i] = f.inHand()
	}
	for _, t := range c.Traits {
		if t.Subject != ix.subject || t.Kind != catalogue.Count && t.Kind != catalogue.Range {
			continue
		}
		for _, x := range ix.cuts(t.ID) {
			out = append(out, ix.cutAt(t, x))
		}
	}
	return out
}

// cuts finds a number in each gap between one species' highest and the next
// species' lowest value.
func (ix *index) cuts(trait string) []float64 {
	var lows, highs []float64
	for _, s := range ix.species {
		if v := s.Values[trait]; v.Known() {
			lows, highs = append(lows, v.Lo), append(highs, v.Hi)
		}
	}
	slices.Sort(lows)
	slices.Sort(highs)
	var out []float64
	for _, h := range slices.Compact(highs) {
		if above := slices.IndexFunc(lows, func(l float64) bool { return l > h }); above >= 0 {
			out = append(out, roundBetween(h, lows[above]))
		}
	}
	return out
}

// roundBetween is the roundest number x with lo < x <= hi, near the middle;
// above nothing it is 1, so that a count is asked as "has some" or "has none".
func roundBetween(lo, hi float64) float64 {
	if lo == 0 && hi >= 1 {
		return 1
	}
	for scale := 1.0; scale <= 1000; scale *= 10 {
		if x := math.Round((lo+hi)/2*scale) / scale; lo < x && x <= hi {
			return x
		}
	}
	return hi
}

func (ix *index) cutAt(t catalogue.Trait, x float64) *fact {
	at := catalogue.Value{Status: catalogue.Known, Lo: x, Hi: x}
	return ix.factOf(t, at, catalogue.Claim{Trait: t.ID, Op: ">=", Value: at.String()})
}

// keyBuilder splits groups of species until nothing separates them.
type keyBuilder struct {
	*index
	splits []*fact
	key    *FieldKey
	done   map[string]Lead // by group: the same species part at the same couplet
}

// lead says where a group of species goes on. It ends, for each side of a
// split lacks the species that the claim sends to the other.
func (b *keyBuilder) lead(group bitset) Lead {
	id := fmt.Sprint(group)
	if l, done := b.done[id]; done {
		return l
	}
	f, ok := b.best(group)
	if !ok {
		return Lead{End: b.named(group)}
	}
	at := len(b.key.Couplets)
	b.key.Couplets = append(b.key.Couplets, Couplet{})
	b.done[id] = Lead{Next: at}
	if at > maxCouplets {
		return b.done[id]
	}
	for side, sent := range [2]bitset{f.no, f.yes} {
		next := b.lead(group.clone().without(sent))
		next.Claim, next.Text = f.side(side), b.say(f, group, side)
		b.key.Couplets[at].Leads[side] = next
	}
	return b.done[id]
}

// best picks the split that tells most of a group.
func (b *keyBuilder) best(group bitset) (*fact, bool) {
	best, top := -1, 0.0
	n := group.count()
	if n < 2 {
		return nil, false
	}
	for i, f := range b.splits {
		yes, no := group.shared(f.yes), group.shared(f.no)
		if yes == 0 || no == 0 {
			continue
		}
		if score := gain(yes, no, n-yes-no) * float64(f.trait.Ease); best < 0 || score > top {
			best, top = i, score
		}
	}
	if best < 0 {
		return nil, false
	}
	return b.splits[best], true
}

// gain is what a couplet's answer tells of the species, in bits, where the
// undecided species come up with either answer equally often.
func gain(yes, no, undecided int) float64 {
	n := float64(yes + no + undecided)
	p := (float64(yes) + float64(undecided)/2) / n
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p) - float64(undecided)/n
}

// The sides of a couplet.
const (
	affirms = 0
	denies  = 1
)

// side is the fact's claim, or its denial.
func (f *fact) side(side int) catalogue.Claim {
	c := f.claim
	if side == denies {
		c.Op = map[string]string{"=": "!=", ">=": "<"}[c.Op]
	}
	return c
}

// say words a lead. Where all is known of the group and its species on this
// side agree, the lead says what they show; else it says the bare claim.
func (b *keyBuilder) say(f *fact, group bitset, side int) string {
	where := b.book.head(f.trait) + " "
	here := group.clone().with([2]bitset{f.yes, f.no}[side])
	decided := f.yes.clone().plus(f.no)
	if f.trait.Kind != catalogue.Range && group.clone().without(decided).count() == 0 {
		if shown := b.shown(here, f.trait); len(shown) == 1 {
			return where + shown[0]
		}
	}
	switch {
	case f.claim.Op == ">=":
		return where + b.book.cutWords(f.trait, f.value.Lo, side)
	case side == affirms:
		return where + f.holds
	case f.trait.Wording.Denies == "":
		return b.book.notAsAbove
	}
	return where + f.trait.Deny(f.value)
}

// shown lists the different things that species show for a trait, in words.
func (b *keyBuilder) shown(group bitset, t catalogue.Trait) []string {
	var out []string
	for _, i := range group.members() {
		if w := actual(b.species[i], t); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// head is what a lead looks at, without its article in English: "Skull has …".
func (b *phrasebook) head(t catalogue.Trait) string {
	return sentence(strings.TrimPrefix(b.all(b.part(catalogue.Species{}, t)), "the "))
}

// cutWords says on which side of x a number lies: "is under 96 mm long",
// "has at least 40 teeth in all", "has no upper canines".
func (b *phrasebook) cutWords(t catalogue.Trait, x float64, side int) string {
	limit, word := x, b.atLeast
	switch {
	case t.Kind == catalogue.Count && side == affirms && x == 1 && t.Wording.Some != "":
		return t.Wording.Some
	case t.Kind == catalogue.Count && side == denies && x == 1:
		return t.Say(catalogue.Value{Status: catalogue.Known})
	case t.Kind == catalogue.Count && side == denies:
		limit, word = x-1, b.atMost
	case side == denies:
		word = b.under
	}
	v := catalogue.Value{Status: catalogue.Known, Lo: limit, Hi: limit}
	v.Text = word + " " + v.String()
	return t.Say(v)
}

// String prints the key as field guides do.
func (k *FieldKey) String() string {
	var b strings.Builder
	for i, c := range k.Couplets {
		for side, l := range c.Leads {
			b.WriteString(line(fmt.Sprintf("%d%c  %s", i+1, 'a'+side, l.Text), l.goal()) + "\n")
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// line sets a lead and where it goes at the ends of a dotted line.
func line(lead, goal string) string {
	const width = 78
	dots := max(width-len([]rune(lead))-len([]rune(goal))-2, 3)
	return lead + " " + strings.Repeat(".", dots) + " " + goal
}

func (l Lead) goal() string {
	if l.End == nil {
		return fmt.Sprint(l.Next + 1)
	}
	var names []string
	for _, s := range l.End {
		names = append(names, s.Vernacular)
	}
	goal := sentence(strings.Join(names, " or "))
	if len(names) > 1 {
		goal += ", not separated"
	}
	return goal
}
