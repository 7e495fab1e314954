package hub

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"regexp"
	"slices"
	"text/template"

	"fieldsign/static"
)

// The practice page without its hub: where the browser has service workers (TLS
// or localhost) one keeps the page's files; elsewhere the page is saved as one
// file that holds everything.

const (
	practiceEntry  = "practice.mjs"
	practiceWorker = "practice-worker.mjs"
)

// address is where a file of the pages is served.
func address(name string) string { return assets().base + name }

// importFrom finds what a module imports, all of it static and beside or below it.
var importFrom = regexp.MustCompile(`((?:from|import) ')(\./[^']+)'`)

// modulesOf lists the modules that an entry needs, itself first.
func modulesOf(files fs.FS, entry string) ([]string, error) {
	names := []string{entry}
	for i := 0; i < len(names); i++ {
		source, err := fs.ReadFile(files, names[i])
		if err != nil {
			return nil, err
		}
		for _, m := range importFrom.FindAllSubmatch(source, -1) {
			if name := path.Join(path.Dir(names[i]), string(m[2])); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names, nil
}

// shell is what the service worker keeps: addresses, and a hash of all that is
// behind them, so that a new hub's page takes the old one's place.
type shell struct {
	Version string   `json:"version"`
	Files   []string `json:"files"`
}

func shellOf(files fs.FS) (shell, error) {
	names, err := modulesOf(files, practiceEntry)
	if err != nil {
		return shell{}, err
	}
	names = append(names, "style.css", "icon.svg")
	s := shell{Files: []string{"/practice", "/practice.webmanifest"}}
	for _, name := range names {
		s.Files = append(s.Files, address(name))
	}
	sum := sha256.New()
	for _, name := range append(names, "practice.html", practiceWorker) {
		content, err := fs.ReadFile(files, name)
		if err != nil {
			return shell{}, err
		}
		fmt.Fprintf(sum, "%s %d\n%s", name, len(content), content)
	}
	s.Version = hex.EncodeToString(sum.Sum(nil)[:12])
	return s, nil
}

// worker serves the service worker, led by the list of what it is to keep.
func (h *Hub) worker(w http.ResponseWriter, _ *http.Request) {
	s, err := shellOf(static.Files)
	if err != nil {
		h.log.Error("the practice page can't be kept by phones", "error", err)
		http.Error(w, "the list of files can't be made: look at the hub's log", http.StatusInternalServerError)
		return
	}
	list, _ := json.Marshal(s) // strings alone
	source, _ := fs.ReadFile(static.Files, practiceWorker)
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	fmt.Fprintf(w, "const shell = %s;\n%s", list, source)
}

// manifest lets a phone keep the practice page beside its programs.
func manifest(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/manifest+json")
	json.NewEncoder(w).Encode(map[string]any{
		"name": "Fieldsign practice", "short_name": "Practice", "lang": "en", "start_url": "/practice", "scope": "/practice", "display": "standalone",
		"background_color": "#f7f3e8", "theme_color": "#f7f3e8",
		"icons": []map[string]string{{"src": address("icon.svg"), "sizes": "any", "type": "image/svg+xml"}},
	})
}

// save sends the practice page and a roster's questions as one file.
func (h *Hub) save(w http.ResponseWriter, r *http.Request) {
	e, ok := h.practice.asked(w, r)
	if !ok {
		return
	}
	page, err := savedPage(static.Files, e, languageAsked(r))
	if err != nil {
		h.log.Error("the practice page can't be saved", "error", err)
		answer(w, http.StatusInternalServerError, refused{"refused", "", "not_saved", "The page could not be put together: look at the hub's log."})
		return
	}
	download(w, "text/html; charset=utf-8", "fieldsign-practice-"+unsafeInName.ReplaceAllString(e.roster, "-")+".html")
	w.Write(page)
}

// languageAsked is the language of the page that is saved, which its words are
// chosen by; anything else than a language's two letters is left out.
func languageAsked(r *http.Request) string {
	return twoLetters.FindString(r.FormValue("lang"))
}

var twoLetters = regexp.MustCompile(`^[a-z]{2}$`)

var unsafeInName = regexp.MustCompile(`[^A-Za-z0-9_-]+`)

// savedTemplate is the file. Its policy lets in the scripts that bear the
// nonce, which a module hands on to those it imports, and the one sheet;
// nothing can be fetched at all.
var savedTemplate = template.Must(template.New("saved").Parse(`<!doctype html>
<html lang="en" class="team practice"{{with .Language}} data-language="{{.}}"{{end}}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-{{.Nonce}}'; style-src 'sha256-{{.StyleHash}}'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>Practice · Fieldsign</title>
<style>{{.Style}}</style>
<script type="importmap" nonce="{{.Nonce}}">{{.Imports}}</script>
<script type="application/json" id="exercise">{{.Exercise}}</script>
<script type="module" nonce="{{.Nonce}}">import '{{.Entry}}';</script>
</head>
<body>
<div id="page"></div>
<noscript><p class="stopped">This page needs JavaScript. Open the file in a browser, not in a preview.</p></noscript>
</body>
</html>
`))

// savedPage puts each module into the import map as a data: address under a
// bare name, since an address relative to a data: address has no meaning.
func savedPage(files fs.FS, e *exercise, language string) ([]byte, error) {
	names, err := modulesOf(files, practiceEntry)
	if err != nil {
		return nil, err
	}
	imports := map[string]string{}
	sum := sha256.New()
	for _, name := range names {
		source, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		source = importFrom.ReplaceAllFunc(source, func(found []byte) []byte {
			m := importFrom.FindSubmatch(found)
			return []byte(string(m[1]) + bare(path.Join(path.Dir(name), string(m[2]))) + "'")
		})
		sum.Write(source)
		imports[bare(name)] = "data:text/javascript;base64," + base64.StdEncoding.EncodeToString(source)
	}
	sum.Write(e.plain)
	style, err := fs.ReadFile(files, "style.css")
	if err != nil {
		return nil, err
	}
	styleHash := sha256.Sum256(style)
	list, err := json.Marshal(map[string]any{"imports": imports})
	if err != nil {
		return nil, err
	}
	var page bytes.Buffer
	err = savedTemplate.Execute(&page, map[string]any{
		"Nonce": base64.StdEncoding.EncodeToString(sum.Sum(nil)[:18]), "StyleHash": base64.StdEncoding.EncodeToString(styleHash[:]),
		"Style": string(style), "Imports": string(list), "Entry": bare(practiceEntry), "Exercise": string(inScript(e.plain)), "Language": language,
	})
	return page.Bytes(), err
}

func bare(name string) string { return "fieldsign/" + name }

// inScript writes JSON so that nothing in it ends the script element, or opens
// a comment in it.
func inScript(data []byte) []byte {
	data = bytes.ReplaceAll(data, []byte("</"), []byte(`<\/`))
	return bytes.ReplaceAll(data, []byte("<!"), []byte(`\u003c!`))
}
