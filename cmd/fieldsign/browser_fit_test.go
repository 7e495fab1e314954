package main

import (
	"fmt"
	"testing"
)

// A question with drawings fits the small phones that schools have: nothing of
// it lies below the screen or behind the bar with which a team buzzes.
func TestQuestionsWithDrawingsFitAPhone(t *testing.T) {
	t.Parallel()
	need(t, headless)
	p := newBrowser(t, fmt.Sprintf("http://localhost:%d", withGallery(t, 0))).open("phone", "/gallery", phoneWidth, phoneHeight)
	for _, screen := range []string{"team-plate", "team-plate-buzz", "team-pictured", "team-pictured-buzz", "team-pictured-yours"} {
		p.visit("/gallery?screen=" + screen)
		p.wait(screen, "document.querySelectorAll('.options .row').length >= 3")
		for _, size := range []size{{360, 640}, {360, 740}, {390, 664}, {412, 732}} {
			p.resize(size.wide, size.high)
			p.shot(fmt.Sprintf("fits-%s-%dx%d", screen, size.wide, size.high))
			if over := read[int](p, "document.documentElement.scrollHeight - innerHeight"); over > 0 {
				t.Errorf("%s at %dx%d is %d px too high", screen, size.wide, size.high, over)
			}
			if least := read[float64](p, "Math.min(...[...document.querySelectorAll('.plate, .thumb')].map((e) => e.getBoundingClientRect().height))"); least < 80 {
				t.Errorf("%s at %dx%d: a drawing is %.0f px high", screen, size.wide, size.high, least)
			}
			if !p.js("[...document.querySelectorAll('.row button, .reach button')].every((e) => e.getBoundingClientRect().height >= 48)") {
				t.Errorf("%s at %dx%d: a control is under 48 px high", screen, size.wide, size.high)
			}
		}
	}
}
