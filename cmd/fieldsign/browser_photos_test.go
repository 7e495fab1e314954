package main

import (
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"fieldsign/hub/bot"
)

// A teacher's photo is added on the console, stands in for the drawing on a
// phone, is credited after the reveal, and is deleted.
func TestAPhotoInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	scratch := start(t, filepath.Join(t.TempDir(), "scratch.db"), freePort(t))
	dialed(t, scratch, map[string]any{"type": "join", "name": "Idle Herons"}) // with nobody to answer, no question stays open
	animal := owner(toOwner(t, scratch))                                      // the same plan and seed ask the same again
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 800)
	phone := b.open("phone", "/team?game="+hub.code, phoneWidth, phoneHeight)
	phone.set("name", "Marsh Wrens")
	phone.press("Join")
	phone.wait("its name", says("Marsh Wrens"))

	host.showPhotos()
	host.wait("that there is none", says("No photo yet"))
	host.shotSizes("host-photos-empty")
	host.addPhoto(animal, snapshot(t))
	host.wait("the photo in its list", fmt.Sprintf("document.querySelectorAll('.photos li').length == 1 && %s", says("Added: "+animal)))
	host.shotSizes("host-photos-added")

	f := toOwner(t, hub)
	if owner(f) != animal {
		t.Fatalf("asked whose skull it is, the hub means the %s, the other one meant the %s", owner(f), animal)
	}
	phone.shotWhen("phone-photo", "(i => i?.naturalWidth == 320 && i.naturalHeight == 240 && i.alt == 'Photograph of a skull')(document.querySelector('img.plate'))")
	if phone.js(says("Own photo")) {
		t.Error("the credit is shown before the reveal")
	}
	host.press("Take it back")
	host.shotWhen("host-photo", "document.querySelector('img.plate')?.naturalWidth == 320")
	host.press("Stop the clock")
	phone.shotWhen("phone-photo-credit", "!!document.querySelector('.row.key') && "+says("Photo: Own photo"))

	host.showPhotos()
	host.press("Delete")
	host.shotWhen("host-photo-delete", "!!document.querySelector('dialog[open]')")
	host.wait("the last word", "document.querySelector('dialog[open] button.main').click() || true")
	host.wait("that there is none", says("No photo yet"))
	answer, err := http.Get(hub.url() + f.Question.Plate)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if got := answer.Header.Get("Content-Type"); got != "image/svg+xml; charset=utf-8" {
		t.Errorf("with its photo deleted, the question shows %s", got)
	}
	b.check(hub.port)
}

// toOwner has a host go on to the first question that asks whose skull it is.
func toOwner(t *testing.T, p *program) bot.Frame {
	t.Helper()
	desk := deskOf(t, p)
	defer desk.Close()
	round := map[string]any{"name": "skull", "kind": "open", "subjects": []string{"skull"}, "count": 40, "seconds": 600, "points": 100}
	desk.act("plan", map[string]any{"plan": map[string]any{"title": "Skulls", "seed": 3, "rounds": []any{round}}})
	for {
		desk.act("next", nil)
		f := awaited(t, desk.Conn, "a question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" })
		if strings.HasPrefix(f.Question.Prompt, "Whose ") && strings.HasSuffix(f.Question.Prompt, " is this?") {
			return f
		}
		desk.act("skip", nil)
	}
}

func owner(f bot.Frame) string { return f.Question.Options[f.Host.Key] }

// snapshot is a file with a photo of 320 × 240 pixels.
func snapshot(t *testing.T) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 320, 240))
	for y := range 240 {
		for x := range 320 {
			c := color.RGBA{uint8(70 + y/4), uint8(90 + y/4), uint8(60 + x/8), 255}
			if dx, dy := x-160, (y-120)*2; dx*dx+dy*dy < 120*120 {
				c = color.RGBA{uint8(235 - y/6), uint8(225 - y/6), uint8(200 - x/8), 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	name := filepath.Join(t.TempDir(), "skull.jpg")
	file, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, m, nil); err != nil {
		t.Fatal(err)
	}
	return name
}

func (p *page) showPhotos() {
	p.Helper()
	p.wait("its photos", "(d => { if (!d) return false; d.open = true; d.scrollIntoView(); return true; })(document.querySelector('details.photos'))")
	p.wait("the animals' names", "document.querySelectorAll('#photo-names option').length > 20")
}

// addPhoto fills in the form of the photos and sends it.
func (p *page) addPhoto(animal, file string) {
	p.Helper()
	p.set("photo-species", animal)
	p.set("photo-subject", "skull")
	p.set("photo-credit", "Own photo, school collection")
	if err := chromedp.Do(p.ctx, chromedp.SetUploadFiles("#photo-file", []string{file})); err != nil {
		p.Fatal(err)
	}
	p.press("Add the photo")
}

// shotSizes shows the photos on a laptop and on a phone.
func (p *page) shotSizes(name string) {
	p.Helper()
	for _, size := range [][2]int64{{phoneWidth, phoneHeight}, {1280, 800}} {
		if err := chromedp.Do(p.ctx, chromedp.EmulateViewport(size[0], size[1])); err != nil {
			p.Fatal(err)
		}
		p.wait("its photos", fmt.Sprintf("(d => { d.scrollIntoView(); return innerWidth == %d; })(document.querySelector('details.photos'))", size[0]))
		p.shot(fmt.Sprint(name, "-", size[0]))
		if p.js("document.documentElement.scrollWidth > innerWidth") {
			p.Errorf("the photos scroll sideways at %d pixels", size[0])
		}
	}
}
