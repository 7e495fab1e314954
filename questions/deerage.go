package questions

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// A deer's age is read off its lower jaw, of which there is a drawing for each
// class.
const (
	whiteTail = "Odocoileus virginianus"
	jawView   = "lower jaw, " // and the class of age
)

// jawsOf are the drawings that show what lore.csv says of an age.
var jawsOf = map[string][]string{
	"a fawn":     {"fawn"},
	"a yearling": {"yearling"},
	"an adult of two and a half years or more": {"2.5", "3.5", "4.5", "5.5", "6.5", "7.5", "8.5"},
	"about eighteen months old":                {"yearling, third tooth new"},
	"two and a half years old":                 {"2.5"},
	"three and a half years old":               {"3.5"},
	"four and a half years old":                {"4.5"},
	"five and a half years old":                {"5.5"},
	"six and a half years old":                 {"6.5"},
	"seven and a half years old":               {"7.5"},
}

func jawOf(l catalogue.Lore, dice *rand.Rand) (*PlateRef, bool) {
	all := jawsOf[l.Name]
	if len(all) == 0 {
		return nil, false
	}
	return &PlateRef{Species: whiteTail, View: jawView + all[dice.IntN(len(all))]}, true
}

// grown reports whether an age is told by wear: a fawn's and a yearling's by teeth that are
// still to come.
func grown(age string) bool {
	return strings.HasSuffix(jawsOf[age][0], ".5")
}

// jaw reports whether the question is of the age of a jaw that is drawn.
func (q Question) jaw() bool { return q.Plate != nil && strings.HasPrefix(q.Plate.View, jawView) }

// drawJaw is the drawing of a view that begins with jawView.
func drawJaw(h plate.Hand, s catalogue.Species, view string) (plate.Plate, bool) {
	return h.DeerJaw(s, strings.TrimPrefix(view, jawView))
}

// agedWell: the drawing is of the key's age and of no other option's.
func agedWell(q Question) error {
	class := strings.TrimPrefix(q.Plate.View, jawView)
	for i, o := range q.Options {
		switch shown := slices.Contains(jawsOf[o.Species], class); {
		case i == q.Key && !shown:
			return fmt.Errorf("the drawing is not of %s", o.Species)
		case i != q.Key && shown:
			return errors.New("the drawing is of two of the ages")
		}
	}
	return nil
}
