package hub_test

import (
	"net/http"
	"strings"
	"testing"
)

// Anyone may look at a roster's food web, in the language that they ask for; one
// that is not on offer, or has too many animals, is said so.
func TestFoodWebPage(t *testing.T) {
	t.Parallel()
	p := begin(t)
	for _, e := range []struct {
		path, says string
		status     int
	}{
		{"/foodweb?roster=woodland-edge", "Who eats whom: Woodland edge", http.StatusOK},
		{"/foodweb?roster=woodland-edge&lang=es", "Quién come a quién: De borde de bosque", http.StatusOK},
		{"/foodweb?roster=woodland-edge", "A food web of 18 animals", http.StatusOK},
		{"/foodweb", `href="/foodweb?roster=waterside"`, http.StatusOK},
		{"/foodweb", "Who eats whom: Furbearers", http.StatusOK}, // the first that can be drawn
		{"/foodweb?roster=everything", "too many for one picture: it takes 24", http.StatusOK},
		{"/foodweb?roster=everything", `<a href="#American-mink">American mink</a>`, http.StatusOK},
		{"/foodweb?roster=furbearers", "no arrow leads to or from them: coyote, bobcat", http.StatusOK},
		{"/foodweb?roster=%3Cb%3E", "There is no roster “&lt;b&gt;” on this hub", http.StatusNotFound},
		{"/foodweb.svg?roster=furbearers&shape=tall", ">muskrat<", http.StatusOK},
		{"/foodweb.svg?roster=furbearers&shape=tall&lang=es", ">castor", http.StatusOK},
		{"/foodweb.svg?roster=furbearers&shape=round", "the shape is wide or tall", http.StatusNotFound},
		{"/foodweb.svg?roster=/etc/passwd&shape=wide", "There is no such drawing", http.StatusNotFound},
	} {
		if w := p.answers("10.0.0.1", "GET", e.path, "", ""); w.Code != e.status || !strings.Contains(w.Body.String(), e.says) {
			t.Errorf("%s: %d %.300s", e.path, w.Code, w.Body)
		}
	}
}
