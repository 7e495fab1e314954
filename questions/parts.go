package questions

import (
	"strings"

	"fieldsign/questions/catalogue"
)

// What of a drawing shows a trait. A part is named as the drawing marks it
// (data-n), after the group that it is in where there are several:
// "upper P" is a premolar of the upper row. A drawing that lacks a part has
// nothing to mark.

// partsOf is the table to extend, by trait.
var partsOf = map[string][]string{
	"upper_incisors": {"upper I"}, "lower_incisors": {"lower I"}, "upper_canines": {"upper C"}, "lower_canines": {"lower C"},
	"upper_premolars": {"upper P"}, "lower_premolars": {"lower P"}, "upper_molars": {"upper M"}, "lower_molars": {"lower M"},
	"incisor_colour": {"I", "side-I"}, "incisor_grooves": {"I", "side-I"}, "incisor_notch": {"I", "side-I"}, "incisor_breadth": {"upper I"},
	"peg_incisors": {"upper I"}, "upper_incisor_gap": {"upper I"}, "tooth_tips": {"side-I", "side-P", "side-M"},
	"large_canines": {"C", "side-C"}, "canine_reach": {"side-C"}, "tusks": {"C", "side-C"}, "premolar_peg": {"upper P"},
	"cheek_teeth": {"P", "M", "side-P", "side-M"}, "molar_pattern": {"P", "M"}, "upper_tooth_rows": {"upper P", "upper M"},
	"last_upper_molar": {"upper M"}, "long_last_molar": {"upper M"},
	"sagittal_crest": {"crest"}, "temporal_ridges": {"ridges"}, "zygomatic_arch": {"arch"}, "rostrum": {"nose"},
	"orbit_size": {"orbit", "rim"}, "orbit_placement": {"orbit", "rim"}, "orbit_ringed": {"rim"}, "orbit_notch": {"rim"},
	"postorbital_process": {"postorbital"}, "postorbital_size": {"postorbital"}, "latticed_snout": {"lattice"},
	"head_gear": {"antler", "horn"}, "gear_shape": {"antler", "horn"}, "inflected_jaw": {"jaw"}, "jaw_step": {"jaw"},
	"bulla": {"bulla"}, "ear_tube": {"ear-tube"}, "infraorbital_opening": {"infraorbital"}, "basioccipital_pit": {"pit"},
	"palate_holes": {"window", "slit"}, "palate_past_molars": {"palate"}, "antorbital_pit": {"fossa"},

	"front_toes": {"toe"}, "hind_toes": {"toe"}, "foot_type": {"toe", "pad"}, "toes_forward": {"toe"}, "toe_line": {"toe"}, "hoof_tips": {"toe"},
	"claws_show": {"claw"}, "long_front_claws": {"claw"}, "middle_claws": {"claw"}, "front_webbing": {"web"}, "hind_webbing": {"web"},
	"heel_pad": {"pad"}, "pad_bar": {"pad"}, "pad_lobes_back": {"pad"}, "pad_lobes_front": {"pad"}, "long_hind_heel": {"heel", "sole"},
	"thumb": {"thumb"}, "dewclaws": {"dewclaw"}, "dewclaw_set": {"dewclaw"}, "furred_sole": {"fur"}, "hind_fringe": {"fringe"},
	"leading_toe": {"lead"}, "negative_space": {"space"}, "stride": {"stride"}, "straddle": {"straddle"}, "tail_drag": {"drag"},
	"gait": {"print"}, "group_pattern": {"print"},

	"scat_form": {"body"}, "scat_ends": {"end"}, "scat_surface": {"body"}, "pellet_shape": {"body"}, "scat_grooves": {"body"},
}

// termParts is the same for the terms of label questions; inRows are those that
// are pointed at in the rows of teeth.
var termParts = map[string][]string{
	"incisors": {"I", "side-I"}, "canines": {"C", "side-C"}, "premolars": {"upper P"}, "molars": {"upper M"},
	"sagittal crest": {"crest"}, "zygomatic arch": {"arch"}, "orbit": {"orbit", "rim"}, "braincase": {"cranium"}, "mandible": {"jaw"},
	"antlers": {"antler"}, "horns": {"horn"},
}

var inRows = []string{"premolars", "molars", "carnassials"}

// PartsOf names what of a drawing shows a trait; none where nothing can be marked.
func PartsOf(t catalogue.Trait) []string {
	if t.From == "scat_contents" {
		return []string{strings.ReplaceAll(strings.TrimPrefix(t.ID, t.From+"_"), "_", "-")}
	}
	return partsOf[t.ID]
}

// coloured reports whether a mark's own colour would hide what the trait is about.
func coloured(t catalogue.Trait) bool { return t.ID == "incisor_colour" || t.ID == "tooth_tips" }
