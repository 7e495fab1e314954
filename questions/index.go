package questions

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

// fact is a claim that some species satisfy and others fail, with both sets.
type fact struct {
	trait   catalogue.Trait
	value   catalogue.Value
	claim   catalogue.Claim
	yes, no bitset
	passed  bitset // of no, those that could be said to show it
	degrees bitset // those that differ from it in degree
	root    string // of the trait, and the trait that stands for it where it is told:
	gist    string // kept since every choice of facts asks for them
	holds   string // the claim in words
	typical string // the trait and its value, as passesFor has them
	plain   bool   // unremarkable
}

func newFact(t catalogue.Trait, v catalogue.Value, claim catalogue.Claim, species int) *fact {
	return &fact{trait: t, value: v, claim: claim, yes: newBitset(species), no: newBitset(species), root: root(t), gist: gistOf(t.ID), holds: shownAs(t, v), typical: typically(t.ID, v), plain: unremarkable(t.ID, v)}
}

// index answers claims about a roster's species in one subject by bitsets, as
// far as their values rest on what is good enough. It is read-only once built.
type index struct {
	least      catalogue.Basis
	book       *phrasebook
	subject    string
	species    []catalogue.Species
	borrowed   []catalogue.Species        // prey of these beside the roster, in food chains
	web        *foodweb.Web               // of the subject that asks about it
	chains     map[int][]foodweb.Chain    // by length, likewise
	traits     map[string]catalogue.Trait // by id
	facts      []*fact                    // of the subject's own traits
	said       []*fact                    // those of them that make a statement
	shared     []*fact                    // those by which anyone could tell an odd one out
	of         [][]int                    // the facts that hold, by species
	animal     []*fact                    // of the animal sheet, for compounds
	ranges     []scale                    // numeric traits
	alike      similarity
	sights     map[string]*sight         // by what is looked at
	class      []string                  // mammal or bird, by species
	family     []bitset                  // by species, those of its family, with it
	alikeNamed []bitset                  // by species, those whose name ends as its own: the muskrat with the rat
	shown      sync.Map                  // whether there is a drawing, as it was asked for
	frames     sync.Map                  // of drawings, in mm, likewise
	parts      sync.Map                  // what a label can point at, by species, likewise
	sized      sync.Map                  // facts on its sizes, by species, likewise
	legible    map[string][]*fact        // by drawing, the certain facts that it is read for
	terms      map[string]catalogue.Lore // of the subject's lessons, by name
}

// akin are the species of the key's class: nobody mistakes a crow for a bear,
// and a bird has no front print. In a food web all stand together.
func (ix *index) akin(key, i int) bool { return ix.web != nil || ix.class[key] == ix.class[i] }

// besides reports whether a species can be looked for beside another: nobody looks
// for a bird's signs among those of mammals.
func (ix *index) besides(key, i int) bool {
	return i != key && (ix.subject != "sign" || ix.akin(key, i))
}

// scale is a numeric trait with the species in which it is known.
type scale struct {
	trait  catalogue.Trait
	known  []int
	values []catalogue.Value // of these
}

func newIndex(c *catalogue.Catalogue, roster catalogue.Roster, subject string, least catalogue.Basis) *index {
	ix := &index{least: least, book: phrasebooks[c.Language], subject: subject, traits: map[string]catalogue.Trait{}, sights: map[string]*sight{}, legible: map[string][]*fact{}, terms: map[string]catalogue.Lore{}}
	ix.species = c.InPlay(roster, subject)
	for _, s := range ix.species {
		ix.class = append(ix.class, s.Values["class"].Text)
	}
	ix.addFamilies()
	ix.of = make([][]int, len(ix.species))
	var own []catalogue.Trait
	for _, t := range c.Traits {
		if t.Subject == subject {
			own = append(own, t)
			ix.traits[t.ID] = t
			ix.addTrait(t)
		} else if t.Subject == "animal" && t.Wording.Adjective != "" {
			ix.animal = append(ix.animal, ix.factsOf(t)...)
		}
	}
	for i, f := range ix.facts {
		if f.trait.Kind != catalogue.Formula && worthSaying(f) {
			ix.said = append(ix.said, f)
		}
		if f.trait.Kind == catalogue.State && f.trait.Weight >= taughtWell && !f.plain {
			ix.shared = append(ix.shared, f)
		}
		for _, s := range f.yes.members() {
			ix.of[s] = append(ix.of[s], i)
		}
	}
	for _, v := range plateViews {
		if v.subject == subject {
			ix.legible[v.name] = slices.DeleteFunc(slices.Clone(ix.facts), func(f *fact) bool {
				return !f.provedBy(v.traits) || f.value.Usual != "" || f.trait.ID == "gear_shape" // which nobody overlooks
			})
		}
	}
	for _, l := range c.Lore {
		if _, twice := ix.terms[l.Name]; !twice && l.Kind == "term" && l.Subject == subject {
			ix.terms[l.Name] = l
		}
	}
	ix.alike = newSimilarity(ix.species, own)
	ix.newSights(c, own)
	return ix
}

// addFamilies notes who is related to whom, and who is called as if it were.
func (ix *index) addFamilies() {
	for _, a := range ix.species {
		related, called, family := newBitset(len(ix.species)), newBitset(len(ix.species)), a.Values["family"].Text
		for j, b := range ix.species {
			if family != "" && b.Values["family"].Text == family {
				related.add(j)
			}
			if strings.HasSuffix(ix.book.kind(b.Vernacular), ix.book.kind(a.Vernacular)) {
				called.add(j)
			}
		}
		ix.family, ix.alikeNamed = append(ix.family, related), append(ix.alikeNamed, called)
	}
}

// value is what is known of a species, if it rests on enough. Of a bird's
// droppings only a form that can be recognised is taught.
func (ix *index) value(i int, trait string) catalogue.Value {
	v := ix.species[i].Values[trait]
	if v.Basis >= ix.least && (ix.subject != "scat" || ix.class[i] != "bird" || trait == "scat_form" && v.Text != "loose") {
		return v
	}
	return catalogue.Value{}
}

func (ix *index) addTrait(t catalogue.Trait) {
	ix.facts = append(ix.facts, ix.factsOf(t)...)
	if t.Wording.Most == "" && t.Wording.Least == "" {
		return
	}
	sc := scale{trait: t}
	for i := range ix.species {
		if ix.value(i, t.ID).Known() {
			sc.known = append(sc.known, i)
		}
	}
	for _, i := range sc.known {
		sc.values = append(sc.values, ix.species[i].Values[t.ID])
	}
	ix.ranges = append(ix.ranges, sc)
}

// factsOf gives one fact for each value of a trait that can be claimed with "=",
// for certain or as the usual one.
func (ix *index) factsOf(t catalogue.Trait) []*fact {
	if t.Kind == catalogue.Range || t.Kind == catalogue.Set {
		return nil
	}
	values, where := map[string]catalogue.Value{}, map[string][]int{}
	for i := range ix.species {
		v := ix.value(i, t.ID)
		if text := v.Claimed(); text != "" {
			values[text] = v
			where[text] = append(where[text], i)
		}
	}
	known, varying := ix.knownOf(t.ID)
	var out []*fact
	for _, text := range slices.Sorted(maps.Keys(values)) {
		claim := catalogue.Claim{Trait: t.ID, Op: "=", Value: text}
		if values[text].Usual != "" {
			out = append(out, ix.factOf(t, values[text], claim).sparing(ix))
			continue
		}
		f := newFact(t, values[text], claim, len(ix.species))
		f.no.plus(known)
		for _, i := range where[text] {
			f.yes.add(i)
			f.no.drop(i)
		}
		for _, i := range varying {
			if claim.Holds(ix.value(i, t.ID)) == catalogue.False {
				f.no.add(i)
			}
		}
		out = append(out, f.sparing(ix))
	}
	return out
}

// knownOf are the species whose value of a trait is settled, and the others.
func (ix *index) knownOf(trait string) (known bitset, varying []int) {
	known = newBitset(len(ix.species))
	for i := range ix.species {
		if ix.value(i, trait).Known() {
			known.add(i)
		} else {
			varying = append(varying, i)
		}
	}
	return known, varying
}

// factOf judges a claim on every species.
func (ix *index) factOf(t catalogue.Trait, v catalogue.Value, claim catalogue.Claim) *fact {
	f := newFact(t, v, claim, len(ix.species))
	for i := range ix.species {
		switch f.claim.Holds(ix.value(i, t.ID)) {
		case catalogue.True:
			f.yes.add(i)
		case catalogue.False:
			f.no.add(i)
		}
	}
	return f
}

// mayBeOf reports whether an animal shows a fact or may, on whatever that rests.
func (f *fact) mayBeOf(s catalogue.Species) bool {
	return s.Values[f.trait.ID].May(f.value.Typical().String())
}

// inHand is a fact for whoever has the animals at hand, or all the clues, and tells
// degrees.
func (f *fact) inHand() *fact {
	if f.degrees.count() == 0 {
		return f
	}
	out := *f
	out.no = f.no.clone().plus(f.degrees)
	return &out
}

// sparing notes who shows what passes for a fact, and holds it against nobody who shows
// what is alike.
func (f *fact) sparing(ix *index) *fact {
	f.passed, f.degrees = newBitset(len(ix.species)), newBitset(len(ix.species))
	for _, p := range passesFor {
		if p.said != f.typical && p.said != f.trait.ID {
			continue
		}
		trait, value, _ := strings.Cut(p.shown, "=")
		for _, i := range f.no.members() {
			switch {
			case !ix.value(i, trait).May(value):
			case p.how == asGood:
				f.no.drop(i)
			case p.how == inDegree:
				f.no.drop(i)
				f.degrees.add(i)
			default:
				f.passed.add(i)
			}
		}
	}
	return f
}
