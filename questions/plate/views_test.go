package plate

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// The one view that a reveal shows of a skull has what the trait speaks of, of
// every animal that has it and that the whole plate shows it of.
func TestOneViewShowsTheTrait(t *testing.T) {
	draw := map[string]func(Hand, catalogue.Species) (Plate, bool){
		"skull side": Hand.SkullSide, "skull above": Hand.SkullAbove, "skull below": Hand.SkullBelow, "skull jaw": Hand.SkullJaw,
	}
	for _, s := range catalogue.Builtin().Species {
		whole, ok := Skull(s)
		if !ok {
			continue
		}
		alone := map[string]Plate{}
		for view, f := range draw {
			p, ok := f(own, s)
			elements, _ := read(t, p.SVG)
			if _, spanish := translated(p.Alt); !ok || len(named(elements, "bar")) != 1 || !spanish {
				t.Errorf("%s: %s is not drawn, has no bar or no words in Spanish: %s", s.Name, view, p.Alt)
			}
			alone[view] = p
		}
		for trait, names := range parts {
			shows := func(p Plate) bool {
				return slices.ContainsFunc(names, func(n string) bool {
					group, name, in := strings.Cut(n, " ")
					if !in {
						return strings.Contains(p.SVG, `data-n="`+n+`"`)
					}
					_, row, found := strings.Cut(p.SVG, `<g data-n="`+group+`"`)
					row, _, _ = strings.Cut(row, "</g>")
					return found && strings.Contains(row, `data-n="`+name+`"`)
				})
			}
			v := s.Values[trait]
			has := v.Known() && !slices.Contains([]string{"no", "none", "n/a"}, v.Text)
			if view := SkullView(trait); has && shows(whole) && !shows(alone[view]) {
				t.Errorf("%s: %s is not shown in the view %q", s.Name, trait, view)
			}
		}
	}
	if SkullView("front_toes") != "" {
		t.Error("a skull shows toes")
	}
}
