package main

import (
	"fmt"
	"testing"
)

// A question fits the small phones that schools have: nothing of it lies below
// the screen or behind the bar with which a team buzzes. From 700 px on, what is
// drawn stands beside what is to be answered.
func TestQuestionsFitAPhone(t *testing.T) {
	t.Parallel()
	need(t, headless)
	p := newBrowser(t, fmt.Sprintf("http://localhost:%d", withGallery(t, 0))).open("phone", "/gallery", phoneWidth, phoneHeight)
	for _, screen := range []string{"team-plate", "team-plate-buzz", "team-pictured", "team-pictured-buzz", "team-pictured-yours", "team-open", "team-buzz", "team-long"} {
		p.screen(screen)
		p.wait(screen, "document.querySelectorAll('.options .row').length >= 3")
		for _, size := range []size{{360, 640}, {360, 740}, {390, 664}, {412, 732}} {
			p.resize(size.wide, size.high)
			p.shot(fmt.Sprintf("fits-%s-%dx%d", screen, size.wide, size.high))
			if over := read[int](p, "document.documentElement.scrollHeight - innerHeight"); over > 0 {
				t.Errorf("%s at %dx%d is %d px too high", screen, size.wide, size.high, over)
			}
			if least := read[float64](p, "Math.min(999, ...[...document.querySelectorAll('.plate, .thumb')].map((e) => e.getBoundingClientRect().height))"); least < 80 {
				t.Errorf("%s at %dx%d: a drawing is %.0f px high", screen, size.wide, size.high, least)
			}
			if !p.js("[...document.querySelectorAll('.row button, .reach button')].every((e) => e.getBoundingClientRect().height >= 48)") {
				t.Errorf("%s at %dx%d: a control is under 48 px high", screen, size.wide, size.high)
			}
		}
		p.resize(800, 1100)
		p.shot(fmt.Sprintf("fits-%s-800x1100", screen))
		if !p.js("((plate, row) => !plate || plate.right <= row.left && plate.bottom > row.top)(document.querySelector('.enlarge')?.getBoundingClientRect(), document.querySelector('.row').getBoundingClientRect())") {
			t.Errorf("%s: on a tablet the drawing does not stand beside the answers", screen)
		}
	}
}
