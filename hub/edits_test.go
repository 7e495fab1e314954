package hub_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

type planned struct {
	Questions []struct {
		ID, Subject, Prompt, Reason, Photo, Rests string
		Difficulty, Key, Station                  int
		Typed                                     bool
		Options                                   []string
		Plate                                     *int
		Plates                                    []int
		Told                                      *struct{ Round, Question int }
	}
	Plates []struct{ SVG, Alt string }
}

func (p *place) planned(round int) planned {
	p.Helper()
	status, body := p.ask("GET", fmt.Sprintf("/questions.json?game=%s&round=%d", p.code, round), hostKey, "")
	var out planned
	if err := json.Unmarshal([]byte(body), &out); err != nil || status != http.StatusOK {
		p.Fatalf("the planned questions: %d, %v: %s", status, err, body)
	}
	return out
}

// prompts are a round's questions as the host sees them.
func (p planned) prompts() (out []string) {
	for _, q := range p.Questions {
		out = append(out, q.Prompt+" "+strings.Join(q.Options, "|")+" "+q.Options[q.Key])
	}
	return out
}

func (p *place) wholePlan() (out [][]string) {
	for round := range 2 {
		out = append(out, p.planned(round).prompts())
	}
	return out
}

// choose is one and the same round of edits, whatever the plan.
func choose(p *place, host *client) {
	first := p.planned(0)
	host.act("replace", "round", 0, "question", first.Questions[1].ID)
	host.act("replace", "round", 0, "question", p.planned(0).Questions[1].ID)
	host.act("strike", "round", 0, "question", first.Questions[2].ID)
	host.act("move", "round", 0, "question", first.Questions[0].ID, "to", 3)
	host.act("replace", "round", 1, "question", p.planned(1).Questions[0].ID)
}

func twoRounds() map[string]any {
	all := []string{"skull", "track", "scat"}
	open, buzz := round("open", 6), round("buzz", 4)
	open["subjects"], buzz["subjects"] = all, all
	return plan(open, buzz)
}

func TestTheHostLooksAtTheQuestions(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", twoRounds())
	for path, want := range map[string]int{"/questions.json?round=0&game=otter-den-99": 404, "/questions.json?round=2&game=" + p.code: 404, "/questions.json?game=" + p.code: 404, "/set?game=otter-den-99": 404} {
		if status, _ := p.ask("GET", path, hostKey, ""); status != want {
			t.Errorf("%s: %d, want %d", path, status, want)
		}
		if status, body := p.ask("GET", path, "guess", ""); status != http.StatusForbidden || strings.Contains(body, "prompt") {
			t.Errorf("%s with another key: %d", path, status)
		}
	}
	plates := 0
	for round := range 2 {
		got := p.planned(round)
		for _, q := range got.Questions {
			if q.Prompt == "" || q.Reason == "" || len(q.Options) < 2 || q.Difficulty == 0 {
				t.Errorf("not whole: %+v", q)
			}
			if q.Plate != nil {
				plates++
			}
			plates += len(q.Plates)
		}
		for _, d := range got.Plates {
			if !strings.HasPrefix(d.SVG, "<svg") || d.Alt == "" {
				t.Errorf("no drawing: %.40s", d.SVG)
			}
		}
	}
	if plates == 0 {
		t.Error("no plate in ten questions")
	}
}

// What the host looks at and changes is told to nobody else, and asked as it
// was left, after a restart too.
func TestTheHostChoosesTheQuestions(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	host, board, phone := p.host(), p.dial(map[string]any{"type": "board"}), p.join("Wrens")
	host.act("plan", "plan", twoRounds())
	before := p.wholePlan()
	choose(p, host)
	after := p.wholePlan()
	if len(after[0]) != 5 || len(after[1]) != 4 || after[0][3] != before[0][0] || slices.Contains(after[0], before[0][1]) || slices.Contains(after[0], before[0][2]) || after[1][0] == before[1][0] {
		t.Errorf("before %q\nafter %q", before, after)
	}
	// Others hear nothing, and may change nothing.
	if f := phone.do(map[string]any{"type": "do", "action": "strike", "round": 0, "question": p.planned(0).Questions[0].ID}); f.Code != "not_host" {
		t.Errorf("a phone strikes a question: %+v", f)
	}
	board.send(map[string]any{"type": "clock", "t1": 1})
	board.until("the clock", func(f bot.Frame) bool { return f.Type == "clock" })
	for _, c := range []*client{board, phone} {
		for _, f := range c.log {
			if f.Question != nil || f.Host != nil || strings.Contains(string(f.Raw), p.planned(0).Questions[0].Prompt) {
				t.Errorf("a board or a phone was sent %s", f.Raw)
			}
		}
	}
	p.stop()

	p = open(t, file)
	if got := p.wholePlan(); !reflect.DeepEqual(got, after) {
		t.Errorf("after the restart: %q, want %q", got, after)
	}
	host = p.host()
	host.act("next")
	var ids []string
	for _, q := range p.planned(0).Questions {
		ids = append(ids, q.ID)
	}
	for _, id := range ids {
		host.until(id, func(f bot.Frame) bool { return f.Phase == "asking" && f.Question.ID == id })
		host.act("skip")
		host.act("next")
	}
	if f := host.do(map[string]any{"type": "do", "action": "strike", "round": 1, "question": p.planned(1).Questions[0].ID}); f.Code != "not_now" {
		t.Errorf("struck in the game: %+v", f)
	}
}

func TestTheSameEditsGiveTheSameSet(t *testing.T) {
	t.Parallel()
	var plans [2][][]string
	for i := range plans {
		p := begin(t)
		host := p.host()
		host.act("plan", "plan", twoRounds())
		choose(p, host)
		plans[i] = p.wholePlan()
	}
	if !reflect.DeepEqual(plans[0], plans[1]) {
		t.Errorf("%q\n%q", plans[0], plans[1])
	}
}

// The chosen questions stay while their round is sent back under their name. By
// this seed the second round asks nothing that the chosen ones keep it from.
func TestAPlanIsChangedAroundItsChosenQuestions(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	wish := twoRounds()
	wish["seed"] = 13
	host.act("plan", "plan", wish)
	computed := p.wholePlan()
	choose(p, host)
	chosen := p.wholePlan()
	id := p.planned(0).Questions[0].ID
	host.conn.Close()
	host = p.host()
	rounds := host.plan().Rounds
	if rounds[0].Set == "" || rounds[1].Set == "" || rounds[0].Count != 5 {
		t.Fatalf("the plan does not say what was chosen: %+v", rounds)
	}
	list := wish["rounds"].([]map[string]any)
	list[0]["seconds"], list[0]["name"], list[0]["set"], list[0]["count"] = 90, "Longer", rounds[0].Set, 5
	host.act("plan", "plan", wish)
	if got := p.wholePlan(); !reflect.DeepEqual(got[0], chosen[0]) || !reflect.DeepEqual(got[1], computed[1]) {
		t.Errorf("got %q\nwant %q and %q", got, chosen[0], computed[1])
	}
	list[0]["set"] = "0123456789abcdef"
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "stale_plan" {
		t.Errorf("an unknown choice: %+v", f)
	}
	list[0]["set"], wish["roster"] = rounds[0].Set, "waterside"
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "stale_plan" {
		t.Errorf("a choice for another roster: %+v", f)
	}
	// A question is struck once, however often its command comes.
	strike := map[string]any{"type": "do", "action": "strike", "round": 0, "question": id, "id": "again"}
	for range 2 {
		host.send(strike)
		if f := host.until("an answer", func(f bot.Frame) bool { return f.ID == "again" }); f.Type != "done" {
			t.Errorf("refused: %s", f.Message)
		}
	}
	replace := map[string]any{"type": "do", "action": "replace", "round": 0, "question": p.planned(0).Questions[0].ID, "id": "once"}
	for range 2 {
		host.send(replace)
		if f := host.until("an answer", func(f bot.Frame) bool { return f.ID == "once" }); f.Type != "done" {
			t.Errorf("refused: %s", f.Message)
		}
	}
	if got := p.planned(0); len(got.Questions) != 4 {
		t.Errorf("%d questions are left", len(got.Questions))
	}
}

type wished struct {
	NoMemory bool
	Title    string
	Rounds   []struct {
		Kind, Set      string
		Seconds, Count int
	}
}

// plan is the plan as the console is told it.
func (c *client) plan() wished {
	c.p.Helper()
	f := c.until("the state", func(f bot.Frame) bool { return f.Host != nil })
	var plan wished
	if err := json.Unmarshal(f.Host.Plan, &plan); err != nil {
		c.p.Fatal(err)
	}
	return plan
}

func TestASetIsSavedAndLoaded(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", twoRounds())
	choose(p, host)
	want := p.wholePlan()
	status, set := p.ask("GET", "/set?name=Spring+evening&game="+p.code, hostKey, "")
	if status != http.StatusOK || strings.Count(set, "\n") != 10 {
		t.Fatalf("%d: %s", status, set)
	}
	if status, body := p.ask("GET", "/set?name="+strings.Repeat("a", 61)+"&game="+p.code, hostKey, ""); status != http.StatusUnprocessableEntity || !strings.Contains(body, "60 characters") {
		t.Errorf("a long name: %d %s", status, body)
	}

	other := begin(t)
	if status, _ := other.ask("POST", "/set?game="+other.code, "guess", set); status != http.StatusForbidden {
		t.Errorf("loaded without the key: %d", status)
	}
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, set); status != http.StatusOK {
		t.Fatalf("%d: %s", status, body)
	}
	if got := other.wholePlan(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	console := other.host()
	if got := console.plan(); got.Title != "Spring evening" || got.Rounds[1].Kind != "buzz" || got.Rounds[0].Seconds != 60 {
		t.Errorf("the plan is %+v", got)
	}
	choose(other, console) // a loaded set can be changed like any

	lines := strings.SplitAfter(set, "\n")
	for name, tc := range map[string]struct{ body, says string }{
		"a moved key":    {strings.NewReplacer(`"key":0`, `"key":1`, `"key":1`, `"key":0`, `"key":2`, `"key":0`, `"key":3`, `"key":0`).Replace(set), "by the catalogue"},
		"another roster": {strings.Replace(set, `"roster":"furbearers"`, `"roster":"/etc/animals.csv"`, 1), "which this hub does not have"},
		"too large":      {strings.Repeat("\n", 5<<20), "4 MiB"},
		"prose":          {"Dear hub", "line 1"},
		"a typed one":    {lines[1] + typedLine(t, other), "mixes typed"},
		"bad play":       {strings.Replace(set, `"seconds":60`, `"seconds":1`, 1), "3 to 600 seconds"},
		"odd play":       {strings.Replace(set, `"seconds":60`, `"seconds":"long"`, 1), "round 1"},
	} {
		status, body := other.ask("POST", "/set?game="+other.code, hostKey, tc.body)
		if status != http.StatusUnprocessableEntity || !strings.Contains(body, tc.says) {
			t.Errorf("%s: %d %s, want something on %q", name, status, body, tc.says)
		}
	}
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, lines[1]+lines[2]); status != http.StatusOK {
		t.Errorf("two bare questions: %d %s", status, body)
	}
	if got := other.planned(0); len(got.Questions) != 2 || !strings.HasPrefix(got.Questions[1].ID, "q2-") {
		t.Errorf("loaded: %+v", got.Questions)
	}
	other.join("Wrens")
	console.act("next")
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, set); status != http.StatusConflict || !strings.Contains(body, "lobby") {
		t.Errorf("loaded in the game: %d %s", status, body)
	}
}

// typedLine is a question whose answer is typed, as a set file has it.
func typedLine(t *testing.T, p *place) string {
	t.Helper()
	q := begin(t)
	typed := round("open", 1)
	typed["typed"] = true
	q.host().act("plan", "plan", plan(typed))
	_, set := q.ask("GET", "/set?game="+q.code, hostKey, "")
	return strings.SplitAfter(set, "\n")[1]
}

// A roster's name could be that of any file on the hub's machine.
func TestPlansKeepToTheRostersOnOffer(t *testing.T) {
	t.Parallel()
	own := filepath.Join(t.TempDir(), "elsewhere.csv")
	if err := os.WriteFile(own, []byte("species\nVulpes vulpes\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	p := begin(t)
	host := p.host()
	wish := twoRounds()
	wish["roster"] = own
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "bad_plan" || !strings.Contains(f.Message, "no roster") {
		t.Errorf("%s", f.Raw)
	}
}

// The host sees what each question rests on, and can forbid memory: for the
// plan and for what takes a question's place.
func TestTheHostForbidsMemory(t *testing.T) {
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	host := p.host()
	count := soak.Size(15, 30)
	wish := plan(round("open", count), round("open", count))
	for _, r := range wish["rounds"].([]map[string]any) {
		r["subjects"] = []string{"track", "scat"}
	}
	recalled := func() (n int) {
		for i := range 2 {
			for _, q := range p.planned(i).Questions {
				switch q.Rests {
				case "memory":
					n++
				case "":
					t.Errorf("it isn't said what this rests on: %s", q.Prompt)
				}
			}
		}
		return n
	}
	host.act("plan", "plan", wish)
	t.Logf("%d of %d questions rest on memory, without the wish", recalled(), 2*count)
	wish["noMemory"] = true
	host.act("plan", "plan", wish)
	for range 5 {
		host.act("replace", "round", 1, "question", p.planned(1).Questions[3].ID)
	}
	if n := recalled(); n > 0 {
		t.Errorf("%d questions rest on memory", n)
	}
	host.conn.Close()
	host = p.host() // is told the plan anew
	told := host.plan()
	if !told.NoMemory {
		t.Error("the form is not told of the wish")
	}
	// What was chosen under the one wish does not stand for the other.
	wish["noMemory"] = false
	wish["rounds"].([]map[string]any)[1]["set"] = told.Rounds[1].Set
	if f := host.do(action("plan", "plan", wish)); f.Code != "stale_plan" {
		t.Errorf("chosen without memory, asked with: %s", f.Raw)
	}
}
