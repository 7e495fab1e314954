package plate

import (
	"strings"
	"testing"
	"unicode"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
)

// Whatever is seen on any drawing of the catalogue can be said in Spanish, with
// the same numbers in the same order.
func TestAllThatIsSeenInSpanish(t *testing.T) {
	said := map[string]bool{}
	look := func(p Plate, drawn bool) {
		if !drawn {
			return
		}
		text, whole := translated(p.Alt)
		if !whole {
			t.Errorf("not whole: %s\n%s", p.Alt, text)
		}
		if strings.Contains(text, "#") || strings.Join(numbers.FindAllString(text, -1), " ") != strings.Join(numbers.FindAllString(p.Alt, -1), " ") {
			t.Errorf("other numbers: %s\n%s", p.Alt, text)
		}
		said[text] = true
		for _, note := range noted.FindAllString(p.SVG, -1) {
			if words := strings.TrimSuffix(note[1:], "</text>"); strings.ContainsFunc(words, unicode.IsLetter) && !strings.HasSuffix(words, " cm") || strings.HasPrefix(words, "str") {
				if spanish, _ := translated(words); strings.EqualFold(spanish, words) {
					t.Errorf("a note stays English: %s", words)
				}
			}
		}
	}
	species := catalogue.Builtin().Species
	feet := []string{"front", "hind", "left front", "left hind"}
	pairs := soak.Size(1, len(feet)) // of feet that are drawn two by two
	for i, s := range species {
		for n, foot := range feet {
			look(Track(s, foot))
			if n >= pairs {
				continue
			}
			for _, other := range feet[:2] {
				look(Pair(s, foot, species[(i+1)%len(species)], other))
			}
		}
		look(Trail(s))
		look(Scat(s))
		look(Skull(s))
		look(SkullSide(s))
		look(SkullAbove(s))
		if s.Name == "Odocoileus virginianus" {
			for _, class := range DeerJaws() {
				look(own.DeerJaw(s, class))
			}
		}
	}
	for _, l := range labels() {
		look(l.plate, l.ok)
	}
	if len(said) < 300 {
		t.Errorf("only %d descriptions", len(said))
	}
}

func TestAltIn(t *testing.T) {
	c := catalogue.Builtin()
	s, _ := c.Find("Puma concolor")
	p, _ := Scat(s)
	if p.AltIn(catalogue.English) != p.Alt {
		t.Error("English is what it was")
	}
	if got := p.AltIn(catalogue.Spanish); !strings.HasPrefix(got, "Dibujo de una excreta; ") || !strings.HasSuffix(got, ".") {
		t.Errorf("in Spanish: %s", got)
	}
	if got := Said("Mud", catalogue.Spanish); got != "Mud" {
		t.Errorf("an unknown word: %s", got)
	}
	odd := Plate{Alt: "Drawing of a dropping; traces of mud and hair show in it."}
	if got := odd.AltIn(catalogue.Spanish); got != "Dibujo de una excreta; se ven restos de mud y pelo en ella." {
		t.Errorf("a word of one's own: %s", got)
	}
}

// No label's description says the term that it asks for.
func TestSpanishLabelsTellNothing(t *testing.T) {
	terms := strings.Fields("incisivo canino premolar molar carnicera diastema cresta cigomático órbita rostro craneana mandíbula asta cuerno")
	for _, l := range labels() {
		text := l.plate.AltIn(catalogue.Spanish)
		for _, term := range terms {
			if strings.Contains(text, term) {
				t.Errorf("the label of the %s says %s: %s", l.st.Term, term, text)
			}
		}
	}
}
