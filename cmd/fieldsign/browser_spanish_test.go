package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
)

// turns is a link that sets the page's language.
func (p *page) turns(language, shows string) {
	p.Helper()
	p.wait("the link to its other language", fmt.Sprintf(`(() => { const a = document.querySelector('.languages a[lang=%s]'); if (!a) return false; a.click(); return true; })()`, language))
	p.wait("the other language", fmt.Sprintf("document.documentElement.lang === %q && ", language)+says(shows))
}

// Pages in Spanish over a game in English: the choice is kept, the board has its own by its address,
// and animals are named in Spanish and English.
func TestPagesInSpanish(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	hub := start(t, data, port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	phone := b.open("phone", "/", phoneWidth, phoneHeight)
	phone.wait("the landing page", says("Join code"))
	phone.turns("es", "Código de acceso")
	phone.targets()
	phone.shot("es-landing")
	phone.visit("/practice")
	phone.wait("practice in Spanish", says("Practicar a solas")+" && document.title === 'Práctica · Fieldsign'")
	phone.targets()
	phone.shot("es-practice")

	host := b.open("host", "/host?lang=es&game="+hub.code+"#key="+testKey, 1280, 900)
	board := b.open("board", "/board?lang=es&game="+hub.code, 1920, 1080)
	board.shotWhen("es-board-lobby", says("Escaneen, pónganle nombre")+" && "+says("Ronda de repaso"))
	phone.visit("/team?game=" + hub.code)
	phone.shotWhen("es-phone-name", says("Nombre del equipo"))
	phone.targets()
	phone.set("name", "<b>")
	phone.press("Entrar")
	phone.wait("why the name is refused, in Spanish", says("Ese nombre no sirve"))
	phone.wait("the name that was typed", "document.getElementById('name').value === '<b>'")
	phone.set("name", "sh1t")
	phone.press("Entrar")
	phone.wait("why that one is refused", says("Ese nombre no es para una clase")+" && document.getElementById('name').value === 'sh1t'")
	phone.set("name", "Nutrias del Arroyo")
	phone.press("Entrar")
	phone.wait("its name", says("Nutrias del Arroyo"))
	host.wait("the team", says("1 equipo"))
	host.shot("es-host-lobby")
	host.wait("the questions' language, which is the page's", `document.querySelector('#language').value === 'es'`)
	host.choose("language", "en")
	host.set("seed", "12")
	host.set("round-1-seconds", "600")
	host.press("Empezar el juego")
	host.press("Comenzar la ronda 1")

	for n := 1; ; n++ {
		host.wait("a question", keyShown)
		animals := host.js(`[...document.querySelectorAll('.options .text')].every((e) => /\(.+\)$/.test(e.innerText) && !e.lang)`)
		if animals && host.js("document.querySelectorAll('.options .text').length > 2") {
			break
		}
		if n == 8 {
			t.Fatal("no question of the round has animals as its options")
		}
		phone.wait("the question, too", says(fmt.Sprintf("Pregunta %d de", n)))
		phone.pick(0)
		host.press("Siguiente pregunta")
		host.wait("the next question", says(fmt.Sprintf("Pregunta %d de", n+1)))
	}
	if !host.js(`document.querySelector('h2 [lang]').lang === 'en'`) {
		t.Error("an English prompt is not marked as English")
	}
	for _, p := range []*page{phone, host} {
		p.wait("the first plan's names in Spanish", says("Cráneos, huellas y excretas"))
	}
	board.wait("the round in Spanish", says("Ronda 1 de 2"))
	phone.wait("the same animals", "document.querySelectorAll('.options button .text').length > 2")
	phone.targets()
	phone.shot("es-phone-question")
	host.shot("es-host-question")
	board.shot("es-board-question")

	hub.kill()
	phone.wait("that the hub is gone", says("Se perdió la conexión"))
	start(t, data, port)
	for _, p := range []*page{phone, board, host} {
		p.wait("the hub's notice in Spanish", says("El servidor se reinició"))
	}
	host.press("Reanudar")
	phone.pick(host.key())
	board.wait("the reveal", "!!document.querySelector('.row.key')")
	board.shot("es-board-reveal")
	phone.wait("the verdict", says("Correcto"))
	phone.targets()
	phone.shot("es-phone-right")
	b.check(port)
}

// A game in Spanish: it is what a host whose page is Spanish gets, and reads as
// Spanish on an English page too.
func TestAGameInSpanish(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?lang=es&game="+hub.code+"#key="+testKey, 1280, 900)
	board := b.open("board", "/board?lang=es&game="+hub.code, smallWidth, smallHeight)
	board.wait("the lobby", says("Escaneen, pónganle nombre"))
	phone := b.open("phone", "/team?lang=es&game="+hub.code, phoneWidth, phoneHeight)
	phone.wait("the name", says("Nombre del equipo"))
	phone.set("name", "Nutrias del Arroyo")
	phone.press("Entrar")
	host.wait("the team", says("1 equipo"))
	host.wait("the language of the questions", `document.querySelector('#language').value === 'es'`)
	host.set("seed", "12")
	host.press("Guardar el plan y mostrar sus preguntas y claves")
	host.wait("planned questions in Spanish", `[...document.querySelectorAll('.prompt')].length > 0 && [...document.querySelectorAll('.prompt')].every((e) => /¿/.test(e.innerText))`)
	host.shot("es-game-plan")
	host.set("round-1-seconds", "600")
	host.press("Empezar el juego")
	host.press("Comenzar la ronda 1")
	host.wait("a question", keyShown)
	for n := 1; !host.js("document.querySelectorAll('.options .text').length > 2"); n++ {
		host.press("Parar el reloj y mostrar") // its options are drawings, or two
		host.press("Siguiente pregunta")
		host.wait("the next question", says(fmt.Sprintf("Pregunta %d de", n+1)))
	}
	for _, p := range []*page{host, board, phone} {
		p.wait("the question in Spanish", `/¿/.test(document.querySelector('main, body').innerText)`)
		if !p.js(`[...document.querySelectorAll('h1 span, h2 span, .options .text')].every((e) => !e.lang)`) {
			t.Error("Spanish words on a Spanish page are marked as if they were others")
		}
	}
	phone.targets()
	phone.shot("es-game-phone")
	board.shot("es-game-board")
	english := b.open("english", "/board?lang=en&game="+hub.code, smallWidth, smallHeight)
	english.wait("the question, marked as Spanish", `document.querySelector('h1 [lang]')?.lang === 'es' && document.querySelector('.options .text').lang === 'es'`)
	phone.pick(host.key())
	for p, tag := range map[*page]string{board: "", english: "es"} { // drawings have their lines in the reason's place
		p.wait("the reason in Spanish", fmt.Sprintf(`[...document.querySelectorAll('.likeness.key .says, .reason > :not(b)')].some((e) => e.innerText && e.lang === %q)`, tag))
	}
	board.wait("its words in Spanish", "/Razón: .+/.test(document.body.innerText) || !!document.querySelector('.likeness.key .says')?.innerText && "+says("la clave"))
	board.shot("es-game-reveal")
	phone.shot("es-game-right")
	b.check(hub.port)
}

// Every screen in Spanish keeps within what it is for: a phone, a desk, a
// projector, or several of them; and within the narrowest that it may be shown on.
func TestScreensInSpanish(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	port := withGallery(t, hub.port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	p := b.open("es", "/gallery?lang=es", phoneWidth, phoneHeight)
	p.wait("the list", "document.querySelectorAll('[data-screen]').length > 150")
	screens := p.text("[...document.querySelectorAll('[data-screen]')].map((a) => a.dataset.screen).join()")
	for screen := range strings.SplitSeq(screens, ",") {
		p.screen(screen)
		p.wait(screen, "document.documentElement.lang === 'es' && !!document.querySelector('h1, dialog')")
		for _, size := range sizesOf(read[string](p, "document.documentElement.className")) {
			p.resize(size.wide, size.high)
			if p.js("document.documentElement.scrollWidth > innerWidth") {
				t.Errorf("%s scrolls sideways on a screen %d px wide", screen, size.wide)
			}
			if size == aProjector && !scrolls[screen] && p.js("document.documentElement.scrollHeight > innerHeight") {
				t.Errorf("%s is higher than the projector", screen)
			}
		}
		p.fits(t, screen)
	}
}

type size struct{ wide, high int64 }

var (
	aPhone     = size{phoneWidth, phoneHeight}
	aDesk      = size{1280, 900}
	aProjector = size{boardWidth, boardHeight}
)

// sizesOf are the screens that a page is shown on, by the classes of its html element.
func sizesOf(class string) []size {
	switch {
	case strings.Contains(class, "board"):
		return []size{aProjector}
	case strings.Contains(class, "tournament-public"):
		return []size{aPhone, aProjector}
	case strings.Contains(class, "team"):
		return []size{aPhone}
	}
	return []size{aPhone, aDesk}
}

// scrolls are the screens that show tables below a bracket.
var scrolls = map[string]bool{"bracket-pools-drawn": true}

// A page that was saved in Spanish opens in Spanish, without any hub, and can
// be turned to English.
func TestPracticeFromAFileInSpanish(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	file := filepath.Join(t.TempDir(), "practica.html")
	save(t, hub.url()+"/practice/save?roster=furbearers&lang=es", file)
	hub.kill()
	b := newBrowser(t, "file://")
	p := b.open("saved", file, phoneWidth, phoneHeight)
	p.wait("its start in Spanish", says("Practicar a solas"))
	p.press("Empezar")
	for n := range 6 { // one may be about a term alone
		if n > 0 {
			p.press("Siguiente")
		}
		p.wait("a question", asking)
		p.pick(0)
		p.wait("the reason", says("Razón:"))
		p.targets()
	}
	p.press("Parar")
	p.wait("an animal by both names", "[...document.querySelectorAll('.leaders tbody th')].some((e) => /\\(.+\\)/.test(e.innerText))")
	p.shot("es-practice-saved")
	p.turns("en", "Practise alone")
	p.visit(file)
	p.wait("the language that was chosen", says("Practise alone"))
	b.onlyAsked()
}
