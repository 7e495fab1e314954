package main

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"
)

// A season played in real pages, from its plan to the third debrief: each
// meeting is opened by one press, and what a game shows changes the plan.
func TestASeasonFromPlanToThirdDebrief(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	coach := b.open("coach", "/season-plan#key="+testKey, 1280, 800)
	coach.wait("the form", "!!document.getElementById('contest')")
	today := time.Now()
	coach.set("season", "Spring")
	coach.set("from", today.Format(time.DateOnly))
	coach.set("contest", today.AddDate(0, 0, 43).Format(time.DateOnly))
	coach.set("new", "900") // few items, so that the games are short
	coach.set("review", "400")
	coach.press("Plan the season")
	coach.wait("the next meeting", "document.querySelectorAll('.next .agenda').length > 0 && "+says("Nothing has been played yet"))
	coach.shot("season-plan-1280")
	for n := range 3 {
		coach.visit("/season-plan?season=Spring")
		coach.wait(fmt.Sprintf("%d meetings held", n), fmt.Sprintf("[...document.querySelectorAll('.meetings tbody tr')].filter((r) => r.textContent.includes('held') && r.querySelector('a')).length === %d", n))
		coach.press("Open this meeting’s game")
		coach.wait("its console", "location.pathname === '/host' && !!new URLSearchParams(location.search).get('game')")
		hub.code = read[string](coach, "new URLSearchParams(location.search).get('game')")
		if n == 0 {
			keepsItsPlan(coach)
		}
		coach.visit("/season-plan?season=Spring") // one console at a time
		rehearsed(t, hub, 3)
	}
	coach.visit("/season-plan?season=Spring")
	coach.wait("three debriefs", "document.querySelectorAll('.meetings a[href^=\"/debrief\"]').length === 3 && document.querySelectorAll('.known .bars li').length > 4")
	coach.shot("season-plan-third")
	phone := b.open("phone", "/season-plan?season=Spring#key="+testKey, phoneWidth, 664)
	phone.wait("the next meeting", "!!document.querySelector('.next')")
	phone.shot("season-plan-phone")
	coach.visit("/debrief?game=" + hub.code)
	coach.wait("the third debrief", says("Meeting of"))
	b.check(hub.port)
}

// keepsItsPlan holds where a meeting's plan stands among the recipes, as the chosen
// one, and comes back after another was stored in its place.
func keepsItsPlan(p *page) {
	p.Helper()
	const chosen = "document.querySelector('.recipe[aria-pressed=true]')?.innerText"
	rounds := "[...document.querySelectorAll('.rounds .name')].map((e) => e.innerText).join()"
	p.wait("its own plan", chosen+".startsWith('Meeting of')")
	p.shot("season-plan-game")
	before := p.text(rounds)
	p.press("Mixed review")
	p.wait("the other plan", chosen+".startsWith('Mixed review')")
	p.press("Save the plan")
	p.wait("that it is stored", says("Plan saved"))
	p.wait("its own card", "(b => { b?.click(); return !!b; })([...document.querySelectorAll('.recipe')].find((b) => b.innerText.startsWith('Meeting of')))")
	p.wait("its own plan again", chosen+".startsWith('Meeting of')")
	if after := p.text(rounds); after != before {
		p.Errorf("%q came back as %q", before, after)
	}
	p.press("Save the plan")
	p.wait("that it is stored again", says("Plan saved"))
}
