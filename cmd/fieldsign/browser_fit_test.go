package main

import (
	"fmt"
	"testing"

	"fieldsign/hub/lab/soak"
)

// One page goes through the gallery, whose modules are all that there are: opening it anew
// takes longer than looking at a screen.
func TestScreensOfTheGallery(t *testing.T) {
	t.Parallel()
	need(t, headless)
	p := newBrowser(t, fmt.Sprintf("http://localhost:%d", withGallery(t, 0))).open("gallery", "/gallery", 1280, 800)
	coloured, marks := soak.Size(5, 18), soak.Size(10, 40)
	t.Run("the console cuts no option", func(t *testing.T) { p.of(t).consoleCutsNoOption() })
	t.Run("questions fit a phone", func(t *testing.T) { p.of(t).questionsFitAPhone() })
	t.Run("marks need no colour", func(t *testing.T) { p.of(t).marksNeedNoColour(coloured, marks) })
}

// questionsFitAPhone: a question fits the small phones that schools have: nothing of it lies below
// the screen or behind the bar with which a team buzzes. From 700 px on, what is
// drawn stands beside what is to be answered.
func (p *page) questionsFitAPhone() {
	p.Helper()
	p.resize(phoneWidth, phoneHeight)
	for _, screen := range []string{"team-plate", "team-plate-buzz", "team-pictured", "team-pictured-buzz", "team-pictured-yours", "team-open", "team-buzz", "team-long"} {
		p.screen(screen)
		p.wait(screen, "document.querySelectorAll('.options .row').length >= 3")
		for _, size := range []size{{360, 640}, {360, 740}, {390, 664}, {412, 732}} {
			p.resize(size.wide, size.high)
			p.shot(fmt.Sprintf("fits-%s-%dx%d", screen, size.wide, size.high))
			if over := read[int](p, "document.documentElement.scrollHeight - innerHeight"); over > 0 {
				p.Errorf("%s at %dx%d is %d px too high", screen, size.wide, size.high, over)
			}
			if least := read[float64](p, "Math.min(999, ...[...document.querySelectorAll('.plate, .thumb')].map((e) => e.getBoundingClientRect().height))"); least < 80 {
				p.Errorf("%s at %dx%d: a drawing is %.0f px high", screen, size.wide, size.high, least)
			}
			if !p.js("[...document.querySelectorAll('.row button, .reach button')].every((e) => e.getBoundingClientRect().height >= 48)") {
				p.Errorf("%s at %dx%d: a control is under 48 px high", screen, size.wide, size.high)
			}
		}
		p.resize(800, 1100)
		p.shot(fmt.Sprintf("fits-%s-800x1100", screen))
		if !p.js("((plate, row) => !plate || plate.right <= row.left && plate.bottom > row.top)(document.querySelector('.enlarge')?.getBoundingClientRect(), document.querySelector('.row').getBoundingClientRect())") {
			p.Errorf("%s: on a tablet the drawing does not stand beside the answers", screen)
		}
	}
}
