//go:build !race

package hub_test

import (
	"encoding/json"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// A pupil has the program, its catalogue and what a phone is sent. Below such a
// pupil tries what there is to try, for the seed and for the drawings.

// spied is what a phone was sent of a round's questions.
type spied struct {
	ids, texts []string
	drawings   map[string]string // by what is seen on them
}

// spy has the host open so many questions, and notes what the phone is sent.
func spy(host, phone *client, count int) spied {
	s := spied{drawings: map[string]string{}}
	for range count {
		host.act("next")
		shown := host.phase("asking")
		f := phone.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == shown.Question.ID })
		q := f.Question
		s.ids, s.texts = append(s.ids, q.ID), append(s.texts, q.Prompt+"\n"+strings.Join(q.Options, "\n"))
		if q.Plate != "" {
			_, s.drawings[altOf(f)] = phone.p.get(q.Plate)
		}
		for _, o := range q.Plates {
			_, s.drawings[o.Alt] = phone.p.get(o.Plate)
		}
		host.act("skip")
	}
	return s
}

// altOf is what is seen on the plate of a question.
func altOf(f bot.Frame) string {
	var told struct{ Question struct{ PlateAlt string } }
	json.Unmarshal(f.Raw, &told)
	return told.Question.PlateAlt
}

func textOf(q questions.Question) string {
	text := q.Prompt
	for _, o := range q.Options {
		text += "\n" + o.Text
	}
	return text
}

// tryOut computes what each seed up to the last gives, and tells which of them
// fit the ids of what was spied, and which its texts. A table made beforehand
// would say no more.
func tryOut(s spied, bank *questions.Bank, wish questions.Wish, last uint64) (byID, byText []uint64) {
	hashes := map[string]bool{}
	for _, id := range s.ids {
		_, hash, _ := strings.Cut(id, "-")
		hashes[hash] = true
	}
	var next atomic.Uint64
	var mu sync.Mutex
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for seed := next.Add(1); seed <= last; seed = next.Add(1) {
				fitsID, fitsText := fits(s, hashes, bank, wish, seed)
				mu.Lock()
				if fitsID {
					byID = append(byID, seed)
				}
				if fitsText {
					byText = append(byText, seed)
				}
				mu.Unlock()
			}
		})
	}
	all.Wait()
	return byID, byText
}

// fits looks at the first question, and at the others only where that one fits.
func fits(s spied, hashes map[string]bool, bank *questions.Bank, wish questions.Wish, seed uint64) (byID, byText bool) {
	wish.Seed, wish.Count = seed, 1
	first, err := bank.Set(wish)
	if err != nil {
		return false, false
	}
	_, hash, _ := strings.Cut(first[0].ID, "-")
	byID = hashes[hash]
	if byText = textOf(first[0]) == s.texts[0]; byText {
		wish.Count = len(s.texts)
		whole, err := bank.Set(wish)
		byText = err == nil && slices.EqualFunc(whole, s.texts, func(q questions.Question, text string) bool { return textOf(q) == text })
	}
	return byID, byText
}

func usualRound() (map[string]any, questions.Wish) {
	r := round("open", 8)
	r["subjects"] = []string{"skull", "track", "scat"}
	return r, questions.Wish{Subjects: []string{"skull", "track", "scat"}, Drawings: questions.HalfDrawings}
}

// quickRound is one whose seeds take least time to try.
func quickRound() (map[string]any, questions.Wish) {
	r := round("open", 8)
	r["subjects"], r["drawings"] = []string{"skull"}, "none"
	return r, questions.Wish{Subjects: []string{"skull"}, Drawings: questions.NoDrawings}
}

func furbearers(t *testing.T) *questions.Bank {
	c := catalogue.Builtin()
	roster, err := c.Roster("furbearers")
	if err != nil {
		t.Fatal(err)
	}
	return questions.NewBank(c, roster)
}

// A drawn seed is found by nothing that a phone is sent.
func TestNoSeedIsFound(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	r, wish := quickRound()
	with := plan(r)
	with["seed"] = 0
	host.act("plan", "plan", with)
	s := spy(host, a, 3)
	last := soak.Size(1<<9, 1<<24) // all of 24 bits take two cores half an hour
	if byID, byText := tryOut(s, furbearers(t), wish, uint64(last)); byID != nil || byText != nil {
		t.Errorf("seeds found by ids %v, by texts %v", byID, byText)
	}
}

// A typed seed gives its set as ever, and is found by that set: of this the
// console warns. Ids add nothing to it, so that no table of them helps.
func TestIDsTestNoSeed(t *testing.T) {
	t.Parallel()
	for _, of := range []func() (map[string]any, questions.Wish){usualRound, quickRound} {
		r, wish := of()
		testTypedSeed(t, plan(r), wish)
	}
}

func testTypedSeed(t *testing.T, with map[string]any, wish questions.Wish) {
	const typed = 1234
	with["seed"] = typed
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	host.act("plan", "plan", with)
	s := spy(host, a, 8)
	byID, byText := tryOut(s, furbearers(t), wish, 1<<11)
	if byID != nil {
		t.Errorf("ids of questions give the seeds %v away", byID)
	}
	if !slices.Equal(byText, []uint64{typed}) {
		t.Errorf("the seed %d gives another set than before: it is that of %v", typed, byText)
	}
	if again := spyAnew(t, with); !slices.Equal(again.texts, s.texts) || slices.Equal(again.ids, s.ids) {
		t.Errorf("in another game the same questions have the ids %v, here %v", again.ids, s.ids)
	}
}

func spyAnew(t *testing.T, with map[string]any) spied {
	p := begin(t)
	host, a := p.host(), p.join("Otters")
	host.act("plan", "plan", with)
	return spy(host, a, 8)
}

// A page's number holds 53 bits: seeds are drawn from all of them.
func TestSeedsAreDrawnFromAll(t *testing.T) {
	t.Parallel()
	seen := map[uint64]bool{}
	var all uint64
	for range 200 {
		seed := hub.NewSeed()
		if seed == 0 || seed >= 1<<53 || seen[seed] {
			t.Fatalf("drew %d", seed)
		}
		seen[seed], all = true, all|seed
	}
	if all != 1<<53-1 {
		t.Errorf("200 seeds leave bits unused: %053b", all)
	}
}

// No drawing of a game is found by its bytes among those of the practice page,
// which anyone may have.
func TestNoDrawingIsLookedUp(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	public, bytes := publicDrawings(p)
	r, _ := usualRound()
	r["count"] = 20
	host.act("plan", "plan", plan(r))
	s := spy(host, a, 20)
	known := 0
	for alt, svg := range s.drawings {
		if !strings.HasPrefix(svg, "<svg") {
			t.Fatalf("not a drawing: %.80s", svg)
		}
		if bytes[svg] {
			t.Errorf("the drawing of %q is found by its bytes", alt)
		}
		if public[alt] {
			known++ // so it would be there
		}
	}
	if known < 5 {
		t.Errorf("of %d drawings only %d are among the public ones: too little was tried", len(s.drawings), known)
	}
}

func publicDrawings(p *place) (alts, bytes map[string]bool) {
	status, body := p.get("/practice.json?roster=furbearers")
	var file struct{ Plates []struct{ SVG, Alt string } }
	if status != http.StatusOK || json.Unmarshal([]byte(body), &file) != nil {
		p.Fatalf("%d %.200s", status, body)
	}
	alts, bytes = map[string]bool{}, map[string]bool{}
	for _, d := range file.Plates {
		alts[d.Alt], bytes[d.SVG] = true, true
	}
	return alts, bytes
}

// Two questions on one animal's drawing don't show the same bytes either, nor
// do two games; and whoever asks again gets the same.
func TestEachQuestionHasAHandOfItsOwn(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	_, shown := toKind(host, a, "skull", "Whose skull is this?")
	_, once := p.get(shown.Question.Plate)
	if _, again := p.get(shown.Question.Plate); once != again || once == "" {
		t.Error("a drawing is not the same when it is asked for again")
	}
	other := begin(t)
	host, a = other.host(), other.join("Wrens")
	_, same := toKind(host, a, "skull", "Whose skull is this?")
	_, elsewhere := other.get(same.Question.Plate)
	if altOf(same) != altOf(shown) || elsewhere == once {
		t.Errorf("%q is drawn alike in two games, or is %q there", altOf(shown), altOf(same))
	}
}
