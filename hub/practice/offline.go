package practice

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"regexp"
	"text/template"

	"fieldsign/hub/wire"
	"fieldsign/refusal"
	"fieldsign/static"
)

// The practice page without its hub: where the browser has service workers (TLS
// or localhost) one keeps the page's files; elsewhere the page is saved as one
// file that holds everything. Both have the page in all its languages.

const (
	practiceEntry  = "practice/practice.mjs"
	practiceWorker = "practice/worker.mjs"
	practiceStyle  = "style/style.css"
	pageIcon       = "style/icon.svg"
)

// shell is what the service worker keeps: addresses, and a hash of all that is
// behind them, so that a new hub's page takes the old one's place. The page is
// kept once for each language; Language is that of readers who name none.
type shell struct {
	Version  string   `json:"version"`
	Language string   `json:"language"`
	Files    []string `json:"files"`
}

func shellOf(site *static.Site, language string) (shell, error) {
	s := shell{Language: language, Files: []string{"/practice.webmanifest"}}
	worker, err := site.Asset(language, practiceWorker)
	if err != nil {
		return shell{}, err
	}
	for _, language := range site.Languages() {
		names, err := site.Modules(language, practiceEntry)
		if err != nil {
			return shell{}, err
		}
		s.Files = append(s.Files, "/practice?lang="+language)
		for _, name := range append(names, practiceStyle, pageIcon, "style/faces/literata.woff2", "style/faces/source-sans-3.woff2") {
			s.Files = append(s.Files, site.Address(language, name)) // which has a hash of all that is served
		}
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%q %s %s", s.Files, language, worker)
	s.Version = hex.EncodeToString(sum.Sum(nil)[:12])
	return s, nil
}

// worker serves the service worker, led by the list of what it is to keep.
func (a *Practice) worker(w http.ResponseWriter, r *http.Request) {
	site := static.Pages()
	language := site.Language(r)
	s, err := shellOf(site, language)
	if err != nil {
		a.log.Error("the practice page can't be kept by phones", "error", err)
		http.Error(w, "the list of files can't be made: look at the hub's log", http.StatusInternalServerError)
		return
	}
	list, _ := json.Marshal(s) // strings alone
	source, _ := site.Asset(language, practiceWorker)
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	fmt.Fprintf(w, "const shell = %s;\n%s", list, source)
}

// titles are short enough to stand under an icon.
var titles = map[string]string{"en": "Practice", "es": "Práctica"}

// manifest lets a phone keep the practice page beside its programs.
func manifest(w http.ResponseWriter, r *http.Request) {
	site := static.Pages()
	language := site.Language(r)
	w.Header().Set("Content-Type", "application/manifest+json")
	json.NewEncoder(w).Encode(map[string]any{
		"name": "Fieldsign: " + titles[language], "short_name": titles[language], "lang": language, "start_url": "/practice", "scope": "/practice", "display": "standalone",
		"background_color": "#f7f3e8", "theme_color": "#f7f3e8",
		"icons": []map[string]string{{"src": site.Address(language, pageIcon), "sizes": "any", "type": "image/svg+xml"}},
	})
}

// save sends the practice page and a roster's questions as one file.
func (a *Practice) save(w http.ResponseWriter, r *http.Request) {
	e, ok := a.asked(w, r)
	if !ok {
		return
	}
	site := static.Pages()
	page, err := savedPage(site, e, site.Language(r))
	if err != nil {
		a.log.Error("the practice page can't be saved", "error", err)
		wire.Refuse(w, refusal.New(refusal.NotSaved, "The page could not be put together: look at the hub's log."))
		return
	}
	wire.Download(w, "text/html; charset=utf-8", "fieldsign-practice-"+unsafeInName.ReplaceAllString(e.roster, "-")+".html")
	w.Write(page)
}

// faces are the rules by which a sheet fetches faces, which a saved page can't.
var faces = regexp.MustCompile(`@font-face \{[^}]*\}\n`)

var unsafeInName = regexp.MustCompile(`[^A-Za-z0-9_-]+`)

// savedTemplate is the file. Its policy lets in the scripts that bear the
// nonce, which a module hands on to those it imports, and the one sheet;
// nothing can be fetched at all. The file is opened in the language that its
// address asks for, else in the one that it was saved in.
var savedTemplate = template.Must(template.New("saved").Parse(`<!doctype html>
<html lang="{{.Language}}" class="team practice">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-{{.Nonce}}'; style-src 'sha256-{{.StyleHash}}'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>{{.Title}} · Fieldsign</title>
<style>{{.Style}}</style>
<script type="importmap" nonce="{{.Nonce}}">{{.Imports}}</script>
<script type="application/json" id="exercise">{{.Exercise}}</script>
<script type="module" nonce="{{.Nonce}}">
const asked = new URLSearchParams(location.search).get('lang');
if ({{.Languages}}.includes(asked)) document.documentElement.lang = asked;
import(` + "`fieldsign/${document.documentElement.lang}/{{.Entry}}`" + `);
</script>
</head>
<body>
<div id="page"></div>
<noscript><p class="stopped">This page needs JavaScript. Open the file in a browser, not in a preview. <span lang="es">Esta página necesita JavaScript. Abre el archivo en un navegador, no en una vista previa.</span></p></noscript>
</body>
</html>
`))

// savedPage puts each module into the import map as a data: address under a
// bare name, since an address relative to a data: address has no meaning.
func savedPage(site *static.Site, e *exercise, language string) ([]byte, error) {
	imports := map[string]string{}
	sum := sha256.New()
	for _, language := range site.Languages() {
		bare := func(name string) string { return "fieldsign/" + language + "/" + name }
		names, err := site.Modules(language, practiceEntry)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			source, err := site.Linked(language, name, bare)
			if err != nil {
				return nil, err
			}
			sum.Write(source)
			imports[bare(name)] = "data:text/javascript;base64," + base64.StdEncoding.EncodeToString(source)
		}
	}
	sum.Write(e.plain)
	style, err := site.Asset(language, practiceStyle)
	if err != nil {
		return nil, err
	}
	style = faces.ReplaceAll(style, nil)
	styleHash := sha256.Sum256(style)
	list, err := json.Marshal(map[string]any{"imports": imports})
	if err != nil {
		return nil, err
	}
	languages, err := json.Marshal(site.Languages())
	if err != nil {
		return nil, err
	}
	var page bytes.Buffer
	err = savedTemplate.Execute(&page, map[string]any{
		"Nonce": base64.StdEncoding.EncodeToString(sum.Sum(nil)[:18]), "StyleHash": base64.StdEncoding.EncodeToString(styleHash[:]),
		"Style": string(style), "Imports": string(list), "Entry": practiceEntry, "Exercise": string(inScript(e.plain)), "Title": titles[language], "Language": language, "Languages": string(languages),
	})
	return page.Bytes(), err
}

// inScript writes JSON so that nothing in it ends the script element, or opens
// a comment in it.
func inScript(data []byte) []byte {
	data = bytes.ReplaceAll(data, []byte("</"), []byte(`<\/`))
	return bytes.ReplaceAll(data, []byte("<!"), []byte(`\u003c!`))
}
