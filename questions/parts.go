package questions

import "fieldsign/questions/catalogue"

// termParts are the parts of a skull's drawing that the terms of label questions
// name, as plate.PartsOf has those of traits; inRows are the terms that are pointed
// at in the rows of teeth.
var termParts = map[string][]string{
	"incisors": {"I", "side-I"}, "canines": {"C", "side-C"}, "premolars": {"upper P"}, "molars": {"upper M"},
	"sagittal crest": {"crest"}, "zygomatic arch": {"arch"}, "orbit": {"orbit", "rim"}, "braincase": {"cranium"}, "mandible": {"jaw"},
	"antlers": {"antler"}, "horns": {"horn"},
}

var inRows = []string{"premolars", "molars", "carnassials"}

// coloured reports whether a mark's own colour would hide what the trait is about.
func coloured(t catalogue.Trait) bool { return t.ID == "incisor_colour" || t.ID == "tooth_tips" }
