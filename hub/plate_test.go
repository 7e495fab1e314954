package hub_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/wire"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// toKind has the host go on to a question whose prompt begins so, and gives
// the frame of the host and that of the phone.
func toKind(host, phone *client, subject, prompt string) (told, shown bot.Frame) {
	host.p.Helper()
	r := round("open", 60)
	r["subjects"], r["drawings"] = []string{subject}, "all"
	host.act("plan", "plan", plan(r))
	host.act("next")
	for {
		told = host.phase("asking")
		shown = phone.until("the question", func(g bot.Frame) bool { return g.Question != nil && g.Question.ID == told.Question.ID })
		if strings.HasPrefix(told.Question.Prompt, prompt) {
			return told, shown
		}
		host.act("skip")
		host.act("next")
	}
}

// The drawings' own words: what a marked part may be called, and what the
// catalogue calls itself.
var markup = regexp.MustCompile(`(?i)<title|<desc|<!--|\bid=|class=|href|aria|<metadata`)

// tellNothing reads all that a phone is sent of a question's drawings.
func tellNothing(p *place, shown bot.Frame, addresses ...string) []string {
	p.Helper()
	var drawn []string
	for _, address := range addresses {
		status, svg := p.get(address)
		if status != http.StatusOK || !strings.HasPrefix(svg, "<svg") {
			p.Fatalf("%s: %d %.60s", address, status, svg)
		}
		if m := markup.FindString(svg); m != "" {
			p.Errorf("a drawing holds %q", m)
		}
		drawn = append(drawn, svg)
	}
	prompt := strings.ToLower(shown.Question.Prompt)
	everything := strings.ToLower(strings.Join(drawn, "") + string(shown.Raw))
	everything = strings.ReplaceAll(strings.ReplaceAll(everything, p.code, ""), prompt, "")
	for _, s := range catalogue.Builtin().Species {
		for _, name := range []string{s.Name, s.Vernacular} {
			if strings.Contains(everything, strings.ToLower(name)) {
				p.Errorf("the question names %s", name)
			}
		}
	}
	return drawn
}

// Four drawings as options: each has an address of its own that tells nothing,
// is there while the question is, and is described.
func TestDrawingsAsOptions(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	told, shown := toKind(host, a, "track", "Which of these is the ")
	q := shown.Question
	if len(q.Plates) < 3 || len(q.Plates) != len(q.Options) || q.Plate != "" { // a print of rare toes has two beside it
		t.Fatalf("shown: %s", shown.Raw)
	}
	var addresses []string
	seen := map[string]bool{}
	for i, o := range q.Plates {
		if q.Options[i] != "Plate "+string(rune('A'+i)) || len(o.Alt) < 40 || seen[o.Alt] || seen[o.Plate] {
			t.Errorf("option %d is %q, described %q at %s", i, q.Options[i], o.Alt, o.Plate)
		}
		seen[o.Alt], seen[o.Plate] = true, true
		addresses = append(addresses, o.Plate)
	}
	box := regexp.MustCompile(`^<svg [^>]* width="([^"]+)" height="([^"]+)"`)
	sizes := map[string]bool{}
	for _, svg := range tellNothing(p, shown, addresses...) {
		if m := box.FindString(svg); m != "" {
			sizes[m] = true
		}
		if seen[svg] {
			t.Error("two options are one drawing")
		}
		seen[svg] = true
	}
	if len(sizes) != 1 {
		t.Errorf("options are not on one scale: %v", sizes)
	}
	a.noLeak("phone")
	host.act("close")
	revealed := a.phase("revealed")
	if key := "Plate " + string(rune('A'+told.Host.Key)); !strings.HasPrefix(revealed.Reveal.Reason, key+" is ") {
		t.Errorf("the reason begins without %s: %s", key, revealed.Reveal.Reason)
	}
	for i := range q.Options {
		if name := fmt.Sprintf("late %c is ", 'A'+i); !strings.Contains(revealed.Reveal.Reason, name) { // "Plate", or "plate" where others show the same
			t.Errorf("%q is not in the reason: %s", name, revealed.Reveal.Reason)
		}
	}
	host.servesUntilTheNextReveal(addresses)
}

// servesUntilTheNextReveal: a phone on a slow network asks for what was shown when the
// next question is open.
func (c *client) servesUntilTheNextReveal(addresses []string) {
	c.p.Helper()
	for _, step := range []struct {
		act, phase string
		want       int
	}{{"next", "asking", http.StatusOK}, {"close", "revealed", http.StatusNotFound}} {
		c.act(step.act)
		c.phase(step.phase)
		for _, address := range addresses {
			if status, _ := c.p.get(address); status != step.want {
				c.p.Errorf("%s: a drawing of the question before got %d, not %d", step.phase, status, step.want)
			}
		}
	}
}

// A reveal shows the very drawing that was asked about, to the last stroke.
func TestARevealShowsWhatWasAsked(t *testing.T) {
	t.Parallel()
	for prompt, subject := range map[string]string{"Whose ": "track", "What does the question mark point at?": "skull"} {
		p := begin(t)
		host, a := p.host(), p.join("Wrens")
		_, shown := toKind(host, a, subject, prompt)
		_, asked := p.get(shown.Question.Plate)
		host.act("close")
		var told wire.State
		if err := json.Unmarshal(a.phase("revealed").Raw, &told); err != nil || told.Reveal.Lesson == nil {
			t.Fatalf("%s: nothing is taught: %v", shown.Question.Prompt, err)
		}
		if _, revealed := p.get(told.Reveal.Lesson.Sides[0].Plate); revealed != asked {
			t.Errorf("%s: another drawing is revealed than was asked about", shown.Question.Prompt)
		}
	}
}

// A label's drawing, description and id don't say at what the mark points, and
// a pair's not whose prints they are; no photo stands in for either.
func TestMarksAndPairsTellNothing(t *testing.T) {
	t.Parallel()
	for prompt, subject := range map[string]string{"What does the question mark point at?": "skull", "Could the same kind of animal ": "track"} {
		p := begin(t)
		host, a := p.host(), p.join("Wrens")
		told, shown := toKind(host, a, subject, prompt)
		for _, s := range catalogue.Builtin().Species {
			if s.Has("skull") && s.Vernacular < "c" {
				p.upload(s.Vernacular, snapshot(t))
			}
		}
		key := strings.ToLower(strings.TrimSuffix(told.Question.Options[told.Host.Key], "s"))
		drawn := tellNothing(p, shown, shown.Question.Plate)
		before, _, _ := strings.Cut(string(shown.Raw), `"options"`)
		if strings.Contains(strings.ToLower(drawn[0]+before), key) {
			t.Errorf("%q: the key %q is there to read", prompt, key)
		}
		a.noLeak("phone")
	}
}

// Anyone may have the catalogue and the program: no id may be worked out from
// the key, or from what is drawn.
func TestQuestionIDsComeFromTheWordsAlone(t *testing.T) {
	t.Parallel()
	c := catalogue.Builtin()
	set, err := questions.NewBank(c, c.Everything()).Set(questions.Wish{Count: soak.Size(40, 60), Seed: 2, Templates: []string{"label-it", "same-animal", "which-plate"}})
	if err != nil {
		t.Fatal(err)
	}
	byWords := map[string]string{}
	same := 0
	for _, q := range set {
		var texts []string
		for _, o := range q.Options {
			texts = append(texts, o.Text)
		}
		slices.Sort(texts)
		words := fmt.Sprint(q.Prompt, texts)
		_, id, _ := strings.Cut(q.ID, "-")
		if known, found := byWords[words]; found {
			same++
			if known != id {
				t.Errorf("%s: %s and %s read alike, but their ids differ", words, known, id)
			}
		}
		byWords[words] = id
	}
	if same == 0 {
		t.Error("no two questions read alike: nothing was tested")
	}
}
