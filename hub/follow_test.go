//go:build unix

package hub_test

import (
	"encoding/json"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/store/redis/redistest"
)

// nextGame asks for the game that follows, and returns its code.
func (p *place) nextGame() string {
	p.Helper()
	status, body := p.asHost("POST", "/games/"+p.code+"/next", hostKey)
	var made struct{ Code string }
	if err := json.Unmarshal(body, &made); err != nil || status != http.StatusCreated {
		p.Fatalf("no next game: %d %s", status, body)
	}
	return made.Code
}

// next is the code that a state names, after it was asked for.
func next(f bot.Frame) string {
	var state struct{ Next string }
	json.Unmarshal(f.Raw, &state)
	return state.Next
}

func names(f bot.Frame) (list []string) {
	for _, t := range f.Host.Teams {
		list = append(list, t.Name)
	}
	slices.Sort(list)
	return list
}

func TestTheNextGameHasTheSameTeams(t *testing.T) {
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	host, a, b, gone := p.host(), p.join("Wrens"), p.join("Otters"), p.join("Stoats")
	asleep := token(b)
	b.conn.Drop()
	host.act("remove", "team", "t3")
	gone.closed(4101)
	host.act("extend", "team", "t2", "extra", 50)
	if status, body := p.asHost("POST", "/games/"+p.code+"/next", hostKey); status != http.StatusConflict || !strings.Contains(string(body), "not_now") {
		t.Errorf("a game in its lobby is followed: %d %s", status, body)
	}
	before := p.codes()
	host.act("end")
	a.phase("ended")
	if p.codes() != before {
		t.Errorf("a refused wish left a game: %s", p.codes())
	}

	// However many ask at once, one game follows.
	made := make([]string, 4)
	var asking sync.WaitGroup
	for i := range made {
		asking.Go(func() { made[i] = p.nextGame() })
	}
	asking.Wait()
	if slices.Sort(made); made[0] != made[3] || made[0] == p.code || len(strings.Fields(p.codes())) != 2 {
		t.Fatalf("%v follow, and there are %s", made, p.codes())
	}
	told := func(f bot.Frame) bool { return f.Type == "state" && next(f) == made[0] }
	a.until("where the game goes on", told)
	first, old := token(a), p.code
	late := p.dial(asleep)
	late.until("where the game goes on", told)

	p.code = made[0]
	p.dial(first).until("its own name", func(f bot.Frame) bool { return f.Type == "welcome" && f.Name == "Wrens" })
	p.dial(asleep).until("its extra time", func(f bot.Frame) bool { return f.Type == "you" && f.Extra == 50 })
	f := p.host().until("the teams", func(f bot.Frame) bool { return f.Type == "state" && f.Host != nil })
	if got := names(f); f.Phase != "lobby" || !slices.Equal(got, []string{"Otters", "Wrens"}) {
		t.Errorf("%s with %q", f.Phase, got)
	}
	if games := p.codes(); !strings.Contains(games, old) {
		t.Errorf("the first game is gone: %s", games)
	}
}

// Two hubs share the games: the one that has the old game makes the next one,
// and phones come to it by the other.
func TestTheNextGameOnTwoHubs(t *testing.T) {
	ctx := patient(t)
	address := redistest.Start(t).URL()
	owner, other := openMember(t, ctx, address), openMember(t, ctx, address)
	owner.create()
	other.code = owner.code
	host, a := other.host(), other.join("Wrens")
	host.act("end")
	code := other.nextGame()
	a.until("where the game goes on", func(f bot.Frame) bool { return f.Type == "state" && next(f) == code })
	other.code = code
	if c := other.back(token(a)); !strings.Contains(string(c.log[len(c.log)-1].Raw), "Wrens") {
		t.Errorf("it came back as %s", c.log[len(c.log)-1].Raw)
	}
}
