package questions

import "fieldsign/questions/catalogue"

// inRows are the terms of label questions that are pointed at in the view from below.
var inRows = []string{"premolars", "molars", "carnassials", "auditory bulla", "foramen magnum", "occipital condyle", "palate"}

// coloured reports whether a mark's own colour would hide what the trait is about.
func coloured(t catalogue.Trait) bool { return t.ID == "incisor_colour" || t.ID == "tooth_tips" }
