//go:build !race

package hub_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
	"fieldsign/static"
)

// What practice holds takes the race detector a minute to compute, and needs none.

// exerciseFile is /practice.json as a page reads it.
type exerciseFile struct {
	Roster  string
	Rosters []string
	Names   map[string]string
	// by language and English name
	Translations map[string]map[string]string
	Questions    []struct {
		Subject, Prompt, Reason string
		Options, Facts          []string
		Key                     int
		Plate                   *int
		Plates, Lessons         []int
	}
	Lessons []struct{ Sides []exerciseSide }
	Plates  []struct{ SVG, Alt string }
}

type exerciseSide struct{ Plate *int }

// Inert as images are, since pages put drawings in as their own nodes.
var active = regexp.MustCompile(`(?i)<(script|style|foreignobject|image|use|a|iframe|animate|set)[\s>]|\s(on[a-z]+|href|style|id)=|url\(`)

// TestPractice has one hub work practice out for all that is to be seen of it.
func TestPractice(t *testing.T) {
	t.Parallel()
	p := begin(t)
	t.Run("of each roster", p.practiceOfEachRoster)
	t.Run("in Spanish", p.practiceInSpanish)
	t.Run("is sent once", p.practiceIsSentOnce)
	t.Run("is bounded", p.practiceIsBounded)
	t.Run("has a name in each language", p.practiceIsNamed)
}

func (p *place) practiceIsNamed(t *testing.T) {
	for _, language := range static.Pages().Languages() {
		var manifest struct {
			Lang  string
			Short string `json:"short_name"`
		}
		_, body := p.fetch("/practice.webmanifest?lang=" + language)
		if err := json.Unmarshal(body, &manifest); err != nil || manifest.Lang != language || manifest.Short == "" {
			t.Errorf("%s: %s, %v", language, body, err)
		}
	}
}

func (p *place) practiceOfEachRoster(t *testing.T) {
	for _, roster := range catalogue.Rosters()[:soak.Size(2, 4)] {
		a, body := p.fetch("/practice.json?roster=" + roster)
		var e exerciseFile
		if err := json.Unmarshal(body, &e); a.StatusCode != 200 || err != nil || e.Roster != roster || !slices.Contains(e.Rosters, roster) {
			t.Fatalf("%s: %s, %v, roster %q of %v", roster, a.Status, err, e.Roster, e.Rosters)
		}
		packed, small := p.fetch("/practice.json?roster="+roster, "Accept-Encoding", "gzip")
		z, err := gzip.NewReader(bytes.NewReader(small))
		if err != nil || packed.Header.Get("Content-Encoding") != "gzip" {
			t.Fatalf("%s is not compressed: %v", roster, err)
		}
		if plain, _ := io.ReadAll(z); !bytes.Equal(plain, body) {
			t.Errorf("%s: compressed and plain differ", roster)
		}
		_, saved := p.fetch("/practice/save?roster=" + roster)
		t.Logf("%-14s %d questions, %3d drawings, %d facts' species, %4d kB, %3d kB compressed, saved page %4d kB", roster, len(e.Questions), len(e.Plates), len(e.Names), len(body)/1000, len(small)/1000, len(saved)/1000)
		if len(body) >= 3_000_000 || len(e.Questions) < 240 {
			t.Errorf("%s: %d questions in %d bytes", roster, len(e.Questions), len(body))
		}
		if drawn := e.drawn(); roster != "everything" && drawn*10 < 7*len(e.Questions) {
			t.Errorf("%s: %d of %d questions show a drawing, or teach by one", roster, drawn, len(e.Questions))
		}
		e.check(t)
	}
}

// drawn counts the questions that show a drawing, or whose answer is taught by one.
func (e exerciseFile) drawn() (n int) {
	for _, q := range e.Questions {
		taught := slices.ContainsFunc(q.Lessons, func(at int) bool {
			return slices.ContainsFunc(e.Lessons[at].Sides, func(s exerciseSide) bool { return s.Plate != nil })
		})
		if q.Plate != nil || len(q.Plates) > 0 || taught {
			n++
		}
	}
	return n
}

func (e exerciseFile) check(t *testing.T) {
	t.Helper()
	for _, name := range e.Names {
		if e.Translations["es"][name] == "" {
			t.Errorf("%s: no Spanish name for the %s", e.Roster, name)
		}
	}
	used, drawings := map[int]bool{}, map[string]bool{}
	for _, q := range e.Questions {
		if q.Key < 0 || q.Key >= len(q.Options) || len(q.Options) > 5 || len(q.Facts) == 0 || q.Reason == "" || !slices.Contains(catalogue.Subjects, q.Subject) {
			t.Errorf("%s: a question that can't be asked: %+v", e.Roster, q)
		}
		if q.Plate != nil {
			used[*q.Plate] = true
		}
		if len(q.Plates) != 0 && len(q.Plates) != len(q.Options) || q.Plates == nil && slices.Contains(q.Options, "Plate A") {
			t.Errorf("%s: %d drawings for %d options: %+v", e.Roster, len(q.Plates), len(q.Options), q)
		}
		for _, i := range q.Plates {
			used[i] = true
		}
	}
	for _, q := range e.Questions {
		if len(q.Lessons) != 0 && len(q.Lessons) != len(q.Options) {
			t.Errorf("%s: %d lessons for %d options: %+v", e.Roster, len(q.Lessons), len(q.Options), q)
		}
		for _, i := range q.Lessons {
			for _, side := range e.Lessons[i].Sides {
				if side.Plate != nil {
					used[*side.Plate] = true
				}
			}
		}
	}
	for i, plate := range e.Plates {
		if drawings[plate.SVG] || !used[i] || plate.Alt == "" {
			t.Errorf("%s: drawing %d comes twice, belongs to no question or is not described", e.Roster, i)
		}
		drawings[plate.SVG] = true
		if m := active.FindString(plate.SVG); m != "" {
			t.Errorf("%s: drawing %d has %q", e.Roster, i, m)
		}
	}
}

// Practice is in the page's language.
func (p *place) practiceInSpanish(t *testing.T) {
	for path, want := range map[string]string{"roster=furbearers&lang=es": "es", "roster=furbearers&lang=en": "", "roster=furbearers&lang=fr": "", "": ""} {
		_, body := p.fetch("/practice.json?" + path)
		var e struct {
			exerciseFile
			Language string
		}
		if err := json.Unmarshal(body, &e); err != nil || e.Language != want {
			t.Fatalf("%s: %v, in %q", path, err, e.Language)
		}
		e.check(t)
		asked := 0
		for _, q := range e.Questions {
			if strings.Contains(q.Prompt, "¿") {
				asked++
			}
		}
		if want == "es" && asked < len(e.Questions) || want == "" && asked > 0 || len(body) > 3_000_000 {
			t.Errorf("%s: %d of %d questions are Spanish, in %d bytes", path, asked, len(e.Questions), len(body))
		}
	}
}

var (
	policy    = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]+)">`)
	reference = regexp.MustCompile(`(?:src|href|action)="[^"]*"|@import|url\(`)
)

func TestTheSavedPageHoldsEverything(t *testing.T) {
	t.Parallel()
	p := begin(t)
	a, body := p.fetch("/practice/save?roster=waterside")
	page := string(body)
	if got := a.Header.Get("Content-Type"); got != "text/html; charset=utf-8" {
		t.Errorf("it is %q", got)
	}
	if got := a.Header.Get("Content-Disposition"); got != "attachment; filename=fieldsign-practice-waterside.html" {
		t.Errorf("it is not to be saved: %q", got)
	}
	m := policy.FindStringSubmatchIndex(page)
	if m == nil || m[0] > strings.Index(page, "<style") || m[0] > strings.Index(page, "<script") {
		t.Fatal("no policy before what it is to bind")
	}
	if got := page[m[2]:m[3]]; !strings.HasPrefix(got, "default-src 'none'; script-src 'nonce-") || strings.Contains(got, "unsafe") || strings.Contains(got, "data:") {
		t.Errorf("the policy is %s", got)
	}
	head, script, _ := strings.Cut(page, `id="exercise">`)
	data, tail, _ := strings.Cut(script, "</script>")
	if found := reference.FindString(head + tail); found != "" {
		t.Errorf("it refers to something outside: %s", found)
	}
	var e exerciseFile
	if err := json.Unmarshal([]byte(data), &e); err != nil || e.Roster != "waterside" {
		t.Errorf("its questions can't be read: %v", err)
	}
	if n := strings.Count(page, "</script>"); n != 3 {
		t.Errorf("%d script elements end, not 3", n)
	}
}
