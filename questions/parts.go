package questions

import "fieldsign/questions/catalogue"

// termParts are the parts of a skull's drawing that the terms of label questions
// name, as plate.PartsOf has those of traits; inRows are the terms that are pointed
// at in the view from below.
var termParts = map[string][]string{
	"incisors": {"I", "side-I"}, "canines": {"C", "side-C"}, "premolars": {"upper P"}, "molars": {"upper M"},
	"sagittal crest": {"crest"}, "zygomatic arch": {"arch"}, "orbit": {"orbit", "rim"}, "braincase": {"cranium"}, "mandible": {"jaw"},
	"antlers": {"antler"}, "horns": {"horn"},
	"carnassials": {"upper P"}, "auditory bulla": {"bulla"}, "foramen magnum": {"foramen"}, "occipital condyle": {"condyle"}, "palate": {"palate"},
}

var inRows = []string{"premolars", "molars", "carnassials", "auditory bulla", "foramen magnum", "occipital condyle", "palate"}

// coloured reports whether a mark's own colour would hide what the trait is about.
func coloured(t catalogue.Trait) bool { return t.ID == "incisor_colour" || t.ID == "tooth_tips" }
