package picture

import (
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

func TestPhotosAreDescribedInSpanish(t *testing.T) {
	t.Parallel()
	for kind, k := range photoKinds {
		if got := plate.Said(k.alt, catalogue.Spanish); !strings.HasPrefix(got, "Fotografía de ") || strings.Contains(got, " or ") {
			t.Errorf("a photo of a %s is described as %q", kind, got)
		}
	}
}
