package static

import (
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	linked    = regexp.MustCompile(`(?:src|href)="/static/([^"]+)"`)
	elsewhere = regexp.MustCompile(`(?:https?:)?//[a-z0-9-]+\.[a-z]`)
	active    = regexp.MustCompile(`\b(?:innerHTML|outerHTML|dangerouslySetInnerHTML|insertAdjacentHTML|srcdoc|document\.write|eval\(|new Function|javascript:)`)
	addresses = regexp.MustCompile("`/[^`]*`")
	inline    = regexp.MustCompile(`<script(?:[^>]*)>[^<]|<style|\sstyle=|\son[a-z]+="`)
)

// whole are the files of the program and those of the gallery.
var whole = os.DirFS(".")

// each calls f with the files whose names end so, vendored ones left out.
func each(t *testing.T, end string, f func(name, text string)) {
	t.Helper()
	found := 0
	err := fs.WalkDir(whole, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, end) || strings.HasPrefix(name, "vendor/") || strings.HasPrefix(name, "testdata/") {
			return err
		}
		b, err := fs.ReadFile(whole, name)
		if err == nil {
			found++
			f(name, string(b))
		}
		return err
	})
	if err != nil || found == 0 {
		t.Fatalf("%d files end in %s (%v)", found, end, err)
	}
}

// A browser reports a missing module only as a blank page.
func TestWhatIsAskedForIsThere(t *testing.T) {
	site, err := NewSite(whole)
	if err != nil {
		t.Fatal(err)
	}
	each(t, ".html", func(name, text string) {
		for _, m := range linked.FindAllStringSubmatch(text, -1) {
			if _, err := site.Asset(english, m[1]); err != nil {
				t.Errorf("%s asks for it: %v", name, err)
			}
		}
	})
}

func TestTheGalleryIsNotInTheProgram(t *testing.T) {
	for name := range Pages().assets {
		if strings.Contains(name, "/gallery/") {
			t.Errorf("%s is shipped", name)
		}
	}
}

// Each folder imports of itself and of what lies below it.
func TestModulesImportDownwards(t *testing.T) {
	shared := []string{"parts", "lib", "words", "vendor"}
	rooms := map[string][]string{
		"lib": shared[1:], "parts": shared, "words": {"words"},
		"landing": shared, "team": shared, "board": shared, "debrief": shared, "practice": shared, "season": shared, "seasonplan": shared, "plan": shared,
		"host":       append([]string{"plan", "season"}, shared...), // a game is planned, and counts in a season
		"tournament": append([]string{"team", "board"}, shared...),  // its matches are games
		"gallery":    append([]string{"landing", "team", "board", "host", "plan", "debrief", "practice", "season", "seasonplan", "tournament"}, shared...),
	}
	each(t, ".mjs", func(name, text string) {
		room, _, _ := strings.Cut(name, "/")
		may, known := rooms[room]
		if !known {
			t.Errorf("%s is in a folder without a rule", name)
		}
		for _, m := range imported.FindAllStringSubmatch(text, -1) {
			of, _, _ := strings.Cut(path.Join(path.Dir(name), m[2]), "/")
			if of != room && !slices.Contains(may, of) {
				t.Errorf("%s imports %s", name, m[2])
			}
		}
	})
}

// What is read of a module at a hub's start is what the pattern finds.
func TestImportsAreFound(t *testing.T) {
	each(t, ".mjs", func(name, text string) {
		var want []string
		for _, m := range imported.FindAllStringSubmatch(text, -1) {
			want = append(want, m[2])
		}
		if got := importsOf([]byte(text)); !slices.Equal(got, want) {
			t.Errorf("%s imports %q, and %q were found", name, want, got)
		}
	})
}

// No module needs itself.
func TestNoModuleIsInACircle(t *testing.T) {
	below := map[string][]string{}
	each(t, ".mjs", func(name, text string) {
		for _, m := range imported.FindAllStringSubmatch(text, -1) {
			below[name] = append(below[name], path.Join(path.Dir(name), m[2]))
		}
	})
	var walk func(from []string)
	clear := map[string]bool{}
	walk = func(from []string) {
		name := from[len(from)-1]
		if slices.Contains(from[:len(from)-1], name) {
			t.Fatalf("a circle: %v", from)
		}
		for _, next := range below[name] {
			if !clear[next] {
				walk(append(from, next))
			}
		}
		clear[name] = true
	}
	for name := range below {
		walk([]string{name})
	}
}

// The pages are sent under a policy that forbids what is inline or elsewhere.
func TestPagesKeepToThePolicy(t *testing.T) {
	each(t, ".html", func(name, text string) {
		if m := inline.FindString(text); m != "" {
			t.Errorf("%s has something inline: %q", name, m)
		}
	})
	for _, end := range []string{".html", ".css", ".mjs"} {
		each(t, end, func(name, text string) {
			// A namespace is a name: nothing is asked of it.
			if m := elsewhere.FindString(strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, "")); m != "" {
				t.Errorf("%s names another host: %q", name, m)
			}
			if m := active.FindString(text); m != "" {
				t.Errorf("%s makes markup or code of text: %s", name, m)
			}
			for _, address := range addresses.FindAllString(text, -1) {
				if strings.Count(address, "=${") != strings.Count(address, "=${encodeURIComponent(") {
					t.Errorf("%s puts something into an address as it is: %s", name, address)
				}
			}
		})
	}
}

// Every language has the same files of words.
func TestLanguagesHaveTheSameGroups(t *testing.T) {
	names := func(language string) (names []string) {
		found, err := filepath.Glob("words/" + language + "/*.mjs")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range found {
			names = append(names, path.Base(name))
		}
		return names
	}
	languages := Pages().Languages()
	if !slices.Equal(languages, []string{"en", "es"}) {
		t.Errorf("the languages are %v", languages)
	}
	for _, language := range languages[1:] {
		if got, want := names(language), names(english); !slices.Equal(got, want) {
			t.Errorf("%s has %v, English has %v", language, got, want)
		}
	}
}

func TestLanguageOfWhoeverAsks(t *testing.T) {
	for _, tc := range []struct{ address, chosen, accepted, want string }{
		{"/", "", "", "en"},
		{"/", "", "es-MX,es;q=0.9,en;q=0.8", "es"},
		{"/", "", "en-US,es;q=0.9", "en"},
		{"/", "", "fr, en;q=0.2, ES;q=0.7", "es"},
		{"/", "", "es;q=0, de", "en"},
		{"/", "", "es;q=x", "en"},
		{"/", "es", "en", "es"},
		{"/", "fr", "es", "es"},
		{"/?lang=en", "es", "es", "en"},
		{"/?lang=fr", "", "es", "es"},
		{"/?lang=%22%3E", "", "", "en"},
	} {
		r := httptest.NewRequest("GET", tc.address, nil)
		r.Header.Set("Accept-Language", tc.accepted)
		if tc.chosen != "" {
			r.AddCookie(&http.Cookie{Name: languageCookie, Value: tc.chosen})
		}
		if got := Pages().Language(r); got != tc.want {
			t.Errorf("%+v: got %s", tc, got)
		}
	}
}

// A page says which language it is in, and asks for words in no other.
func TestPagesAreInTheirLanguage(t *testing.T) {
	site := Pages()
	for _, language := range site.Languages() {
		w := httptest.NewRecorder()
		site.ServePage("team/team.html")(w, httptest.NewRequest("GET", "/team?lang="+language, nil))
		text := w.Body.String()
		if !strings.Contains(text, `<html lang="`+language+`"`) || w.Header().Get("Content-Language") != language {
			t.Errorf("%s: %v, %.80s", language, w.Header(), text)
		}
		if own, all := strings.Count(text, `"`+site.Address(language, "")), strings.Count(text, `"/static/`); own != all || own < 15 {
			t.Errorf("%s: %d of %d addresses are in it", language, own, all)
		}
	}
}
