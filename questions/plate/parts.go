package plate

import (
	"slices"

	"fieldsign/questions/catalogue"
)

// parts are the names that a skull's drawing gives, in data-n, to what a trait
// speaks of, so that a page can mark what decides.
var parts = map[string][]string{
	"upper_incisors": {"side-I", "I"}, "lower_incisors": {"side-I", "I"}, "incisor_colour": {"side-I", "I"}, "peg_incisors": {"side-I", "I"},
	"incisor_grooves": {"side-I", "I"}, "incisor_notch": {"side-I", "I"}, "incisor_breadth": {"side-I", "I"}, "upper_incisor_gap": {"I"},
	"upper_canines": {"side-C", "C"}, "lower_canines": {"side-C", "C"}, "large_canines": {"side-C", "C"}, "canine_reach": {"side-C"}, "tusks": {"side-C", "C"},
	"upper_premolars": {"side-P", "P"}, "lower_premolars": {"side-P", "P"}, "carnassials": {"side-P", "P"}, "premolar_peg": {"side-P", "P"},
	"upper_molars": {"side-M", "M"}, "lower_molars": {"side-M", "M"}, "last_upper_molar": {"side-M", "M"}, "long_last_molar": {"side-M", "M"}, "molar_pattern": {"M"},
	"cheek_teeth": {"side-P", "side-M", "P", "M"}, "upper_tooth_rows": {"P", "M"}, "tooth_tips": {"side-I", "I"}, "diastema": {"cranium", "jaw"},
	"sagittal_crest": {"crest"}, "temporal_ridges": {"ridges", "crest"}, "orbit_size": {"orbit"}, "orbit_placement": {"orbit"}, "orbit_ringed": {"rim"},
	"orbit_notch": {"window"}, "postorbital_process": {"postorbital"}, "postorbital_size": {"postorbital"}, "profile": {"cranium"}, "forehead": {"cranium"},
	"rostrum": {"cranium"}, "short_nasals": {"nose"}, "zygomatic_arch": {"arch"}, "head_gear": {"antler", "horn"}, "gear_shape": {"antler", "horn"},
	"latticed_snout": {"lattice"}, "infraorbital_opening": {"infraorbital"}, "antorbital_pit": {"pit"}, "bulla": {"bulla"}, "ear_tube": {"ear-tube"},
	"basioccipital_pit": {"base-pit"}, "palate_past_molars": {"palate"}, "palate_holes": {"hole"}, "inflected_jaw": {"shelf"}, "jaw_step": {"step"},
	"long_paroccipital": {"paroccipital"}, "interparietal": {"above"}, "skull_length": {"cranium", "above"}, "postglenoid_share": {"below"},
}

// PartsOf are the names, in the drawing of a skull, of what a trait speaks of;
// none for a trait that no drawing shows.
func PartsOf(t catalogue.Trait) []string {
	if t.Subject != "skull" {
		return nil
	}
	return slices.Clone(parts[t.ID])
}
