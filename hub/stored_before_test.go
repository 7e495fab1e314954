package hub_test

import (
	"compress/gzip"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/retention"
	"fieldsign/hub/store/bolt"
)

// stored-2026-11.backup.gz is a backup that the program of November 2026 made of
// three games and a tournament: each opens, with every team and token.
func TestWhatWasStoredBefore(t *testing.T) {
	t.Parallel()
	file, err := os.Open("testdata/stored-2026-11.backup.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	backup, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "games.db")
	if _, err := bolt.Restore(t.Context(), backup, path); err != nil {
		t.Fatal(err)
	}
	p := open(t, path)
	if unfit, err := retention.Unfit(t.Context(), p.store); err != nil || len(unfit) > 0 {
		t.Fatalf("%v, %v", unfit, err)
	}
	const token = "0123456789abcdef0123456789abcd"
	for _, c := range []struct{ code, token, team, name string }{
		{"vale-berry-57", "03", "t1", "Otters"}, {"vale-berry-57", "04", "t2", "Night Herons"}, {"steppe-peat-62", "06", "t1", "Voles"},
	} {
		p.code = c.code
		phone := p.dial(map[string]any{"type": "resume", "token": token + c.token})
		if f := phone.until("its seat", func(f bot.Frame) bool { return f.Type == "welcome" }); f.Team != c.team {
			t.Errorf("%s is %s in %s", c.name, f.Team, c.code)
		}
	}
	p.code = "vale-berry-57"
	p.dial(map[string]any{"type": "resume", "token": token + "05"}).closed(4101) // the host has removed it
	host := p.host()
	host.act("resume")
	if f := host.act("close"); f.Type != "done" {
		t.Errorf("the game does not go on: %s", f.Raw)
	}
	for path, want := range map[string]string{"/debrief.json?game=frond-aster-40": "Bog Lemmings", "/debrief.json?game=vale-berry-57": "Night Herons", "/tournaments": "steppe-fawn-98"} {
		if status, text := p.ask("GET", path, hostKey, ""); status != http.StatusOK || !strings.Contains(text, want) {
			t.Errorf("%s: %d %s", path, status, text)
		}
	}
}
