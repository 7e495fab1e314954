package main

import (
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
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
	coach.papers("season-plan", "Quiz", "Key", "Study sheet")
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
	coach.resize(phoneWidth, 664)
	coach.wait("the next meeting", "!!document.querySelector('.next')")
	coach.shot("season-plan-phone")
	coach.js("document.querySelector('.meetings').scrollIntoView(), true")
	coach.shot("season-plan-meetings-phone")
	coach.resize(1280, 800)
	coach.visit("/debrief?game=" + hub.code)
	coach.wait("the third debrief", says("Meeting of"))
	papersInSpanish(coach)
	b.check(hub.port)
}

// papersInSpanish holds that a club that plans in Spanish has its papers in Spanish.
func papersInSpanish(coach *page) {
	coach.Helper()
	coach.visit("/season-plan?lang=es&season=Primavera")
	coach.wait("the form", "!!document.getElementById('contest')")
	coach.set("season", "Primavera")
	coach.set("from", time.Now().Format(time.DateOnly))
	coach.set("contest", time.Now().AddDate(0, 0, 43).Format(time.DateOnly))
	coach.press("Planear la temporada")
	coach.papers("season-plan-es", "Cuestionario", "Clave", "Hoja de estudio")
}

// papers presses for each of the next meeting's papers, and keeps what the page hands
// the browser as a file.
func (p *page) papers(shot string, kinds ...string) {
	p.Helper()
	pdftotext := need(p.T, "pdftotext")
	p.js("(() => { const make = URL.createObjectURL; URL.createObjectURL = (blob) => { const r = new FileReader(); r.onload = () => { globalThis.kept = r.result; }; r.readAsDataURL(blob); return make(blob); }; return true; })()")
	for _, kind := range kinds {
		p.js("globalThis.kept = '', true")
		p.press(kind)
		p.wait("its "+kind, "!!globalThis.kept")
		_, data, _ := strings.Cut(p.text("globalThis.kept"), ",")
		pdf, err := base64.StdEncoding.DecodeString(data)
		file := filepath.Join(p.artifacts, shot+"-"+strings.ReplaceAll(strings.ToLower(kind), " ", "-")+".pdf")
		if err = errors.Join(err, os.WriteFile(file, pdf, 0o644)); err != nil {
			p.Fatal(err)
		}
		text, err := exec.Command(pdftotext, file, "-").Output()
		if err != nil || len(text) < 500 {
			p.Errorf("%s: %v, %d characters of text", kind, err, len(text))
		}
	}
	p.js("document.querySelector('.meetings').scrollIntoView(), true")
	p.shot(shot + "-papers")
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
