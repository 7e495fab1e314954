package plate

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestPartsOfTracks: where an animal is known to have what a trait speaks of, a
// drawing of it has a part of the class that the trait names.
func TestPartsOfTracks(t *testing.T) {
	c := catalogue.Builtin()
	classes := map[string]map[string]bool{} // by species
	drawn(func(s catalogue.Species, view string, p Plate) {
		if classes[s.Name] == nil {
			classes[s.Name] = map[string]bool{}
		}
		for _, m := range partNames.FindAllStringSubmatch(p.SVG, -1) {
			for _, class := range strings.Fields(m[1]) {
				classes[s.Name][class] = true
			}
		}
	})
	// what shows only in a foot or a gait that is drawn, or as the shape of a part
	without := []string{"scat_contents", "stride", "straddle", "tail_drag", "gait", "larger_foot", "furred_sole", "long_hind_heel"}
	seen := 0
	for _, trait := range c.Traits {
		parts := PartsOf(trait)
		if parts == nil || trait.Subject == "skull" || trait.From == "scat_contents" || slices.Contains(without, trait.ID) {
			continue
		}
		for _, s := range c.Species {
			v := s.Values[trait.ID]
			if slices.Contains(parts, "print") && !classes[s.Name]["print"] {
				continue // of a trail, and none is drawn
			}
			if !v.Known() || v.Text == "no" || v.Text == "none" || v.Text == "short" || classes[s.Name] == nil || trait.Subject == "scat" && !HasScat(s) {
				continue
			}
			seen++
			if !slices.ContainsFunc(parts, func(class string) bool { return classes[s.Name][class] }) {
				t.Errorf("%s: %s is %v, and no part is marked %v", s.Name, trait.ID, v, parts)
			}
		}
	}
	if seen < 400 {
		t.Errorf("only %d values are shown", seen)
	}
}
