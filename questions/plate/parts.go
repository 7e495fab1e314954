package plate

import (
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// parts are the names that a skull's drawing gives, in data-n, to what a trait
// speaks of, so that a page can mark what decides. A name may follow that of the
// group it is in: "upper P" is a premolar of the upper row. The side view has the
// teeth of both jaws under one name.
var parts = map[string][]string{
	"upper_incisors": {"upper I"}, "lower_incisors": {"lower I"}, "incisor_colour": {"side-I", "I"}, "peg_incisors": {"upper I"},
	"incisor_grooves": {"side-I", "I"}, "incisor_notch": {"side-I", "I"}, "incisor_breadth": {"upper I"}, "upper_incisor_gap": {"upper I"},
	"upper_canines": {"upper C"}, "lower_canines": {"lower C"}, "large_canines": {"side-C", "C"}, "canine_reach": {"side-C"}, "tusks": {"side-C", "C"},
	"upper_premolars": {"upper P"}, "lower_premolars": {"lower P"}, "carnassials": {"side-P", "P"}, "premolar_peg": {"upper P"},
	"upper_molars": {"upper M"}, "lower_molars": {"lower M"}, "last_upper_molar": {"upper M"}, "long_last_molar": {"upper M"}, "molar_pattern": {"M"},
	"cheek_teeth": {"side-P", "side-M", "P", "M"}, "upper_tooth_rows": {"upper P", "upper M"}, "tooth_tips": {"side-I", "I"}, "diastema": {"cranium", "jaw"},
	"sagittal_crest": {"crest"}, "temporal_ridges": {"ridges", "crest"}, "orbit_size": {"orbit"}, "orbit_placement": {"orbit"}, "orbit_ringed": {"rim"},
	"orbit_notch": {"window"}, "postorbital_process": {"postorbital"}, "postorbital_size": {"postorbital"}, "profile": {"cranium"}, "forehead": {"cranium"},
	"rostrum": {"cranium"}, "short_nasals": {"nose"}, "zygomatic_arch": {"arch"}, "head_gear": {"antler", "horn"}, "gear_shape": {"antler", "horn"},
	"latticed_snout": {"lattice"}, "infraorbital_opening": {"infraorbital"}, "antorbital_pit": {"pit"}, "bulla": {"bulla"}, "ear_tube": {"ear-tube"},
	"basioccipital_pit": {"base-pit"}, "palate_past_molars": {"palate"}, "palate_holes": {"hole"}, "inflected_jaw": {"shelf"}, "jaw_step": {"step"},
	"long_paroccipital": {"paroccipital"}, "interparietal": {"interparietal"}, "skull_length": {"cranium", "above"}, "postglenoid_share": {"glenoid"},
}

// bestSeen are the traits that a view shows better than the one from the side.
var bestSeen = map[string][]string{
	"skull above": strings.Fields("temporal_ridges orbit_notch interparietal short_nasals"),
	"skull below": strings.Fields("upper_incisors peg_incisors incisor_breadth upper_incisor_gap upper_canines upper_premolars premolar_peg upper_molars last_upper_molar long_last_molar molar_pattern cheek_teeth upper_tooth_rows bulla basioccipital_pit palate_past_molars palate_holes postglenoid_share"),
	"skull jaw":   strings.Fields("lower_incisors lower_canines lower_premolars lower_molars"),
}

// SkullView is the one view of a skull that shows best what a trait speaks of;
// empty for a trait that no part of a skull shows.
func SkullView(trait string) string {
	if parts[trait] == nil {
		return ""
	}
	for view, traits := range bestSeen {
		if slices.Contains(traits, trait) {
			return view
		}
	}
	return "skull side"
}

// PartsOf are the names, in a drawing, of what a trait speaks of; none for a
// trait that no drawing shows.
func PartsOf(t catalogue.Trait) []string {
	switch {
	case t.Subject == "skull":
		return slices.Clone(parts[t.ID])
	case t.From == "scat_contents":
		return []string{strings.ReplaceAll(strings.TrimPrefix(t.ID, t.From+"_"), "_", "-")}
	}
	return slices.Clone(trackParts[t.ID])
}
