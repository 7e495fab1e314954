package hub_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

// sent is what the console was sent, without what the bot adds.
func sent(t *testing.T, f bot.Frame) (whole, plan bool, teams []string) {
	t.Helper()
	var v struct{ Host bot.Host }
	if err := json.Unmarshal(f.Raw, &v); err != nil {
		t.Fatal(err)
	}
	for _, team := range v.Host.Teams {
		teams = append(teams, team.Name)
	}
	return v.Host.Whole, v.Host.Plan != nil, teams
}

// A console is told everything when it comes and when the plan or the list of
// teams changes, and otherwise what is new; together that is the whole.
func TestTheConsoleIsToldWhatIsNew(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	wants := func(what string, f bot.Frame, whole bool, teams ...string) {
		t.Helper()
		gotWhole, gotPlan, gotTeams := sent(t, f)
		if gotWhole != whole || gotPlan != whole || !slices.Equal(gotTeams, teams) {
			t.Errorf("%s: whole %v, plan %v, teams %v; want whole %v, teams %v", what, gotWhole, gotPlan, gotTeams, whole, teams)
		}
	}
	greeting := host.until("the state", func(f bot.Frame) bool { return f.Host != nil })
	wants("the greeting", greeting, true)
	if !strings.Contains(string(greeting.Raw), `"teams":[]`) {
		t.Errorf("without teams: %s", greeting.Raw)
	}
	wrens, otters, voles := p.join("Wrens"), p.join("Otters"), p.join("Voles")
	host.until("three teams", func(f bot.Frame) bool { return f.Host != nil && len(f.Host.Teams) == 3 && f.Host.Teams[2].Online })

	host.act("plan", "plan", plan(round("open", 2)))
	wants("a new plan", host.until("its state", func(f bot.Frame) bool { return f.Host != nil && f.Host.Whole }), true, "Wrens", "Otters", "Voles")
	host.act("next")
	shown := host.phase("asking")
	wants("a question", shown, false)
	answer := map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key}
	otters.do(answer)
	wants("an answer", host.until("it counted", func(f bot.Frame) bool { return f.Answered == 1 }), false, "Otters")
	wrens.do(answer)
	answer["option"] = wrong(shown.Host.Key)
	voles.do(answer)
	revealed := host.phase("revealed")
	for i, want := range []int{100, 100, 0} {
		if got := revealed.Host.Teams[i].Score; got != want {
			t.Errorf("team %d has %d points, want %d", i+1, got, want)
		}
	}
	host.act("remove", "team", "t2")
	gone := host.until("two teams", func(f bot.Frame) bool { return f.Teams == 2 })
	wants("a team removed", gone, true, "Wrens", "Voles")

	voles.conn.Drop()
	last := host.until("a phone gone", func(f bot.Frame) bool { return f.Host != nil && !f.Host.Teams[1].Online })
	wants("a phone gone", last, false, "Voles")
	other := p.dial(map[string]any{"type": "host", "key": hostKey, "takeOver": true})
	fresh := other.until("the state", func(f bot.Frame) bool { return f.Host != nil })
	wants("another console", fresh, true, "Wrens", "Voles")
	if !reflect.DeepEqual(fresh.Host.Teams, last.Host.Teams) || string(fresh.Host.Plan) != string(last.Host.Plan) {
		t.Errorf("the first console had put together\n%+v, %s\nthe other was told\n%+v, %s", last.Host.Teams, last.Host.Plan, fresh.Host.Teams, fresh.Host.Plan)
	}
}

// A question is sent when it opens and when anything of it changes; whoever
// comes later, or comes back, is sent it, too.
func TestAQuestionIsSentOnce(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, wrens, otters := p.host(), p.join("Wrens"), p.join("Otters")
	host.act("plan", "plan", plan(round("open", 2)))
	host.act("next")
	asked := func(c *client, phase string, teams int) bot.Frame {
		t.Helper()
		return c.until(phase, func(f bot.Frame) bool { return f.Phase == phase && f.Answered == teams })
	}
	opened := asked(wrens, "asking", 0)
	later := p.dial(map[string]any{"type": "board"})
	greeted := asked(later, "asking", 0)
	wrens.do(map[string]any{"type": "answer", "question": opened.Question.ID, "option": 0})
	counted := asked(later, "asking", 1)
	token := otters.log[slices.IndexFunc(otters.log, func(f bot.Frame) bool { return f.Type == "welcome" })].Token
	otters = p.dial(map[string]any{"type": "resume", "token": token})
	back := asked(otters, "asking", 1)
	host = p.host()
	taken := asked(host, "asking", 1)
	otters.do(map[string]any{"type": "answer", "question": opened.Question.ID, "option": 0})
	for what, got := range map[string]struct {
		frame bot.Frame
		same  bool
	}{
		"the open question": {opened, false}, "a board that comes": {greeted, false}, "an answer counted": {counted, true},
		"a phone that comes back": {back, false}, "another console": {taken, false},
		"the reveal": {asked(wrens, "revealed", 2), true}, "that phone's": {asked(otters, "revealed", 2), true}, "that console's": {asked(host, "revealed", 2), true},
	} {
		if got.frame.Same != got.same || strings.Contains(string(got.frame.Raw), `"options":[`) == got.same {
			t.Errorf("%s: %s", what, got.frame.Raw)
		}
		if q := got.frame.Question; q == nil || q.ID != opened.Question.ID || !slices.Equal(q.Options, opened.Question.Options) {
			t.Errorf("%s is of %+v, not of %+v", what, q, opened.Question)
		}
	}
	host.act("next")
	if f := wrens.until("the next", func(f bot.Frame) bool { return f.Phase == "asking" && f.Question.N == 2 }); f.Same {
		t.Errorf("the next question: %s", f.Raw)
	}
}

// The console is shown the whole leaderboard, phones its first five.
func TestTheConsoleSeesAllLeaders(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	var last *client
	for n := range 7 {
		last = p.join(fmt.Sprint("Team ", n))
	}
	host.act("plan", "plan", plan(round("open", 1), round("open", 1)))
	for _, action := range []string{"next", "close", "next"} {
		host.act(action)
	}
	if hosts, phones := host.phase("break").Leaders, last.phase("break").Leaders; len(hosts) != 7 || len(phones) != 5 {
		t.Errorf("the console is shown %v, a phone %v", hosts, phones)
	}
}
