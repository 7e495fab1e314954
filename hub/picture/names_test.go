package picture

import (
	"testing"

	"fieldsign/questions/catalogue"
)

func TestWhatAFilesNameSays(t *testing.T) {
	h := &Cabinet{drawings: newDrawings(catalogue.Builtin())}
	for _, tc := range []struct{ file, species, subject string }{
		{"red-fox_skull_2.jpg", "red fox", "skull"},
		{"RED FOX Skull (3).JPEG", "red fox", "skull"},
		{"Vulpes_vulpes-scat.png", "red fox", "scat"},
		{"zorro rojo huella trasera.webp", "red fox", "hind print"},
		{"2026/field day/river otter front track 01.jpg", "river otter", "front print"},
		{"white-tailed-deer_tracks.jpg", "white-tailed deer", "track"},
		{"IMG_20260501.jpg", "", ""},
		{"skull.jpg", "", "skull"},
		{"American beaver pelt.jpg", "American beaver", "pelt"},
		{"piel de castor americano 2.png", "American beaver", "pelt"},
		{"elk_antlers.jpg", "elk", "head gear"},
		{"elk skull with antlers.jpg", "elk", "skull"},
		{"red fox.jpg", "red fox", ""},
		{"..", "", ""},
		{"", "", ""},
	} {
		if g := h.guess(tc.file); g.Species != tc.species || g.Subject != tc.subject {
			t.Errorf("%q: %q and %q, want %q and %q", tc.file, g.Species, g.Subject, tc.species, tc.subject)
		}
	}
}
