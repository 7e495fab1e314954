package questions

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fieldsign/questions/catalogue"
)

// Bounds of a question that comes from elsewhere, such as a file.
const (
	mostOptions = 5
	mostText    = 2000 // bytes of a prompt, an option or a reason
	mostTests   = 64   // claims of a test
)

// Prove checks a question that was not just computed: that it is complete, that
// the roster knows all it speaks of, and that by the catalogue its key holds
// and every other option fails. How it is put in words is its writer's.
func (b *Bank) Prove(q Question) error {
	if err := b.whole(q); err != nil {
		return err
	}
	if err := b.drawn(q); err != nil {
		return err
	}
	for i := range q.Options {
		want, says := catalogue.False, "is not disproved"
		if i == q.Key {
			want, says = catalogue.True, "is the key, but is not proved"
		}
		if b.truth(q, i) != want {
			return fmt.Errorf("option %c (%s) %s by the catalogue", 'A'+i%26, q.Options[i].Text, says)
		}
	}
	return nil
}

// whole looks at the form alone.
func (b *Bank) whole(q Question) error {
	ix := b.index(q.Subject)
	most := mostOptions
	if ix != nil && q.Typed {
		most = len(ix.species)
	}
	switch {
	case ix == nil:
		return fmt.Errorf("there is no subject %q", q.Subject)
	case !slices.Contains(Templates(), q.Template):
		return fmt.Errorf("there is no template %q", q.Template)
	case q.Difficulty < 1 || q.Difficulty > 5:
		return fmt.Errorf("difficulty is 1 to 5, not %d", q.Difficulty)
	case len(q.Options) < 2 || len(q.Options) > most:
		return fmt.Errorf("there are 2 to %d options, not %d", most, len(q.Options))
	case q.Key < 0 || q.Key >= len(q.Options):
		return fmt.Errorf("key %d is none of the options, which are counted from 0", q.Key)
	case len(q.Test.All) == 0 || len(q.Test.All) > mostTests:
		return fmt.Errorf("test.all has 1 to %d claims, not %d", mostTests, len(q.Test.All))
	case q.Typed != (q.Template == TypeTheName) || q.Typed && len(q.Options) != len(ix.species):
		return fmt.Errorf("a %s question is typed, and its options are all %d animals in play", TypeTheName, len(ix.species))
	}
	texts := map[string]bool{}
	for _, o := range q.Options {
		if texts[o.Text] {
			return fmt.Errorf("two options read %q", o.Text)
		}
		texts[o.Text] = true
		if o.Test != nil && (len(o.Test.All) == 0 || len(o.Test.All) > mostTests) {
			return fmt.Errorf("the test of %q has 1 to %d claims, not %d", o.Text, mostTests, len(o.Test.All))
		}
		if !readable(o.Text) {
			return fmt.Errorf("option %q is empty, too long, or holds invisible characters", clip(o.Text))
		}
	}
	if !readable(q.Prompt) || !readable(q.Reason) {
		return errors.New("the prompt or the reason is empty, too long, or holds invisible characters")
	}
	return nil
}

func readable(text string) bool {
	hidden := func(r rune) bool { return !unicode.IsGraphic(r) }
	return text != "" && len(text) <= mostText && utf8.ValidString(text) && !strings.ContainsFunc(text, hidden)
}

func clip(text string) string { return text[:min(len(text), 40)] }

// truth is whether an option satisfies the question.
func (b *Bank) truth(q Question, i int) catalogue.Truth {
	o := q.Options[i]
	switch {
	case q.Plate != nil && q.Plate.With != "":
		return b.pairTruth(q, o)
	case q.About == nil:
		return b.holds(q.Subject, o.Species, q.Test)
	case o.Test == nil:
		return catalogue.Undecided
	}
	is := b.holds(q.Subject, q.About.Is, *o.Test)
	if q.About.Not == "" || is != catalogue.True {
		return is
	}
	// True of the one: it then has to be false of the other.
	switch b.holds(q.Subject, q.About.Not, *o.Test) {
	case catalogue.True:
		return catalogue.False
	case catalogue.False:
		return catalogue.True
	}
	return catalogue.Undecided
}

// holds judges a test on an animal of the roster, on a food chain, or on an entry of lore.
func (b *Bank) holds(subject, name string, test Test) catalogue.Truth {
	if v, is := b.inChain(subject, name, test); is {
		return v.Truth
	}
	if truth, is := inSum(subject, test); is {
		return truth
	}
	if s, ok := b.find(subject, name); ok {
		return catalogue.All(test.All, s.Values)
	}
	values := map[string]catalogue.Value{}
	for _, l := range b.lore {
		if l.Name == name {
			values[l.Kind] = catalogue.Value{Status: catalogue.Known, Text: l.Meaning}
		}
	}
	return catalogue.All(test.All, values)
}

func (b *Bank) find(subject, name string) (catalogue.Species, bool) {
	for _, s := range b.index(subject).species {
		if s.Name == name {
			return s, true
		}
	}
	return catalogue.Species{}, false
}

// pairTruth is of two prints side by side: they can be of one kind if they are
// drawn from one; they can't if a trait that both show differs.
func (b *Bank) pairTruth(q Question, o Option) catalogue.Truth {
	one, _ := b.find(q.Subject, q.Plate.Species)
	two, _ := b.find(q.Subject, q.Plate.With)
	at := slices.IndexFunc(pairings, func(p pairing) bool { return p.one == q.Plate.View && p.two == q.Plate.WithView })
	if at < 0 {
		return catalogue.Undecided
	}
	differs := func(trait string) catalogue.Truth {
		t, known := b.index(q.Subject).traits[trait]
		a, z := one.Values[trait], two.Values[trait]
		switch {
		case !known || !slices.Contains(slices.Concat(pairings[at].asked, pairings[at].proved), trait):
			return catalogue.Undecided
		case apart(t, a, z):
			return catalogue.True
		case a.Known() && a.String() == z.String():
			return catalogue.False
		}
		return catalogue.Undecided
	}
	if o.Differ != "" {
		return differs(o.Differ)
	}
	if one.Name == two.Name {
		return catalogue.True
	}
	if slices.ContainsFunc(q.Options, func(other Option) bool { return differs(other.Differ) == catalogue.True }) {
		return catalogue.False
	}
	return catalogue.Undecided
}

// drawn checks that a question's drawings exist and are of what it asks about.
func (b *Bank) drawn(q Question) error {
	pictured := 0
	for _, o := range q.Options {
		if o.Plate != nil {
			pictured++
		}
	}
	switch {
	case pictured > 0 && (pictured < len(q.Options) || q.Plate != nil):
		return errors.New("either every option is a drawing, or none is")
	case pictured > 0:
		return b.picturedWell(q)
	case q.Plate == nil:
		return nil
	}
	s, ok := b.find(q.Subject, q.Plate.Species)
	if _, drawable := Draw(b.catalogue, *q.Plate); !ok || !drawable {
		return fmt.Errorf("there is no drawing %q of %q", q.Plate.View, q.Plate.Species)
	}
	if q.Plate.Mark != "" {
		return b.labelledWell(q, s)
	}
	if strings.HasPrefix(q.Plate.View, jawView) {
		return agedWell(q)
	}
	if q.ofSign() {
		if err := signedWell(q, s); err != nil {
			return err
		}
	}
	if q.keySpecies() != q.Plate.Species {
		return fmt.Errorf("the drawing is of %s, the question about %s", q.Plate.Species, q.keySpecies())
	}
	if _, ok := b.find(q.Subject, q.Plate.With); q.Plate.With != "" && !ok {
		return fmt.Errorf("there is no animal %q in play", q.Plate.With)
	}
	return nil
}

// labelledWell: the key is what is pointed at, the animal has it, and no other
// option could be said of the same spot.
func (b *Bank) labelledWell(q Question, s catalogue.Species) error {
	if q.Options[q.Key].Species != q.Plate.Mark {
		return fmt.Errorf("the drawing points at the %s, the key is another part", q.Plate.Mark)
	}
	if q.Plate.Test == nil || len(q.Plate.Test.All) == 0 || catalogue.All(q.Plate.Test.All, s.Values) != catalogue.True {
		return fmt.Errorf("that %s has the %s is not proved by plate.test", s.Vernacular, q.Plate.Mark)
	}
	for i, o := range q.Options {
		if i != q.Key && slices.Contains(labels[q.Plate.Mark].also, o.Species) {
			return fmt.Errorf("%s may be said of the same spot as the key", o.Text)
		}
	}
	return nil
}

// picturedWell: each option is the same view of its own animal, the key can be
// told by what is seen there, and no two look alike.
func (b *Bank) picturedWell(q Question) error {
	at := slices.IndexFunc(plateViews, func(v plateView) bool { return v.pose == q.Options[q.Key].Plate.View && v.subject == q.Subject })
	if at < 0 {
		return fmt.Errorf("there is no small drawing %q", q.Options[q.Key].Plate.View)
	}
	view := plateViews[at]
	for _, c := range q.Test.All {
		if !view.shows(b.index(q.Subject).traits[c.Trait], c.Value == "0") {
			return fmt.Errorf("%s can't be seen on a small drawing", c.Trait)
		}
	}
	var shown []catalogue.Species
	for _, o := range q.Options {
		s, ok := b.find(q.Subject, o.Species)
		if _, drawable := Draw(b.catalogue, *o.Plate); !ok || !drawable || o.Plate.Species != o.Species || o.Plate.View != view.pose {
			return fmt.Errorf("%s is not the drawing %q of its own animal", o.Text, view.pose)
		}
		if o.Plate.Frame != q.Options[q.Key].Plate.Frame {
			return errors.New("drawings that are compared have one scale")
		}
		for _, other := range shown {
			if !b.lookApart(q.Subject, view, s, other) {
				return fmt.Errorf("the drawings of %s and %s look alike", s.Vernacular, other.Vernacular)
			}
		}
		shown = append(shown, s)
	}
	return nil
}

// shows: teeth can't be counted on a small drawing, but one sees whether there are any.
func (v plateView) shows(t catalogue.Trait, none bool) bool {
	return t.ID == v.size || slices.Contains(v.small, t.ID) && (t.Unit != "per side" || none)
}

func (b *Bank) lookApart(subject string, v plateView, one, two catalogue.Species) bool {
	return slices.ContainsFunc(append(slices.Clone(v.small), v.size), func(id string) bool {
		t, x, y := b.index(subject).traits[id], one.Values[id], two.Values[id]
		return apart(t, x, y) && v.shows(t, x.String() == "0" || y.String() == "0")
	})
}
