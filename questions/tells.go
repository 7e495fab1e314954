package questions

import (
	"cmp"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// What a question tells once it is revealed, what deciding it takes, and of what it puts a
// part. The planner keeps these apart.

// told is what a revealed question tells: how a species stands in a trait.
type told struct{ species, trait string }

func (t told) gist() told {
	if t.trait == feedsAs || strings.HasPrefix(t.trait, livesOn+"_") {
		return told{t.species, diet}
	}
	return told{t.species, gistOf(t.trait)}
}

// asks is what deciding the question takes.
func (q Question) asks() []told {
	species := q.Options[q.Key].Species
	if q.About != nil {
		species = q.About.Is
	}
	var out []told
	for _, c := range q.Test.All {
		out = append(out, told{species, c.Trait})
	}
	return out
}

// decides is what whoever knows it needs no question for: of both animals, where two
// are told apart.
func (q Question) decides() []told {
	out := q.asks()
	if q.About == nil || q.About.Not == "" {
		return out
	}
	for _, c := range q.Test.All {
		out = append(out, told{q.About.Not, c.Trait})
	}
	return out
}

// tells is what is known once the key and the reason are out. Who sees a formula can
// add it up.
func (q Question) tells() []told {
	out := append(q.saysOf(), q.says...)
	if said := q.row().reasonSays; said != "" {
		out = append(out, told{q.asks()[0].species, said})
	}
	for _, f := range out {
		if f.trait == formula {
			for _, count := range append([]string{formula, "total_teeth"}, teethShown...) {
				out = append(out, told{f.species, count})
			}
		}
		if slices.Contains(cheekTeeth, f.trait) {
			out = append(out, told{f.species, "total_teeth"})
		}
	}
	return out
}

func (q Question) saysOf() []told {
	if q.Plate != nil && (q.labels() || q.jaw() || q.ofSpecimen()) {
		return q.asks() // nothing is said of the other terms, ages or animals
	}
	var out []told
	out = append(out, q.diets()...)
	for _, c := range q.Test.All {
		for _, o := range q.Options {
			if o.Species != "" {
				out = append(out, told{o.Species, c.Trait})
			}
		}
	}
	if q.About == nil {
		return out
	}
	out = append(out, q.asks()...)
	for _, o := range q.Options {
		if o.Test != nil {
			out = append(out, told{q.About.Is, o.Test.All[0].Trait}, told{q.About.Not, o.Test.All[0].Trait})
		}
	}
	return append(out, told{q.About.Not, q.Test.All[0].Trait})
}

// puts is of what wholes the question asks a part. Statements on an animal, by one
// template, count as one, too, and so does one claim about all that are in play: the
// wrong ones would come again.
func (q Question) puts() []told {
	var out []told
	switch {
	case q.About == nil && q.countsToes():
		out = append(out, told{"", "toes"})
	case q.Plate != nil && q.Plate.With == q.Plate.Species:
		out = append(out, told{"", "two of one kind"})
	case q.Plate != nil && q.Plate.With != "":
		out = append(out, told{"", "two apart by " + q.Test.All[0].Trait})
	case q.Plate != nil:
	case q.About == nil && len(q.Test.All) == 1 && !q.row().asksNone:
		out = append(out, told{"", q.claimed()})
	case q.About != nil && q.About.Not == "":
		out = append(out, told{q.About.Is, q.Template})
	}
	if kind, of := q.chainKind(); of {
		out = append(out, told{"", kind})
	}
	if q.About == nil && strings.HasPrefix(q.Test.All[0].Trait, "deer age") { // its reason tells all ages
		out = append(out, told{"", "deer age"})
	}
	if q.About != nil && q.About.Not == "" && (q.Subject == "sign" || slices.Contains(catalogue.Usual, q.Subject)) {
		out = append(out, told{"", q.claimed()})
	}
	if lesson, is := q.suggests(q.Options[q.Key]); is {
		out = append(out, owned(lesson))
	}
	if method, is := q.sumMethod(); is {
		out = append(out, told{"", method})
	}
	for _, fact := range q.asks() {
		if w := whole(fact.trait); w != "" {
			out = append(out, told{fact.species, w})
		}
	}
	return out
}

// drawings are what is seen of animals: one drawing comes once in a paper while another
// can be had, but for an animal that is wished for. Of four that are compared the wrong ones
// may come again.
func (q Question) drawings() []told {
	drawn := cmp.Or(q.Plate, q.Options[q.Key].Plate)
	if drawn == nil || !slices.Contains(catalogue.Usual, q.Subject) {
		return nil
	}
	out := []told{{drawn.Species, "drawing of its " + strings.TrimPrefix(drawn.View, "left ")}}
	if drawn.With != "" {
		out = append(out, told{drawn.With, "drawing of its " + drawn.WithView})
	}
	return out
}

// claimed is the first claim of the key.
func (q Question) claimed() string {
	c := q.Test.All[0]
	return c.Trait + c.Op + c.Value
}

// suggests is the claim that an entry of lore is about whose meaning the reason says.
func (q Question) suggests(o Option) (catalogue.Claim, bool) {
	claim := loreRelated[o.Species].shown
	return claim, q.Template == whatItTells && claim.Trait != ""
}

// countsToes reports whether the key is known by the number of its toes alone. Few
// animals differ in it: it is one lesson, whatever the animal and the foot.
func (q Question) countsToes() bool {
	return len(q.Test.All) == 1 && slices.Contains(toeCounts, q.Test.All[0].Trait)
}
