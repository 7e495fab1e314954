package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Assets are kept by browsers for good: their address has a hash of them all in
// it, then the reader's language. Modules import each other by relative
// addresses, so they need no rewriting; the pages, which are always asked for
// anew, do. A page names all modules that it will need, so that a phone asks for
// them in one step.

// SVG is the media type of drawings.
const SVG = "image/svg+xml; charset=utf-8"

// kinds are the media types of the files that are served, by the ends of their names.
var kinds = map[string]string{
	".css": "text/css; charset=utf-8", ".mjs": "text/javascript; charset=utf-8", ".svg": SVG, ".md": "text/markdown; charset=utf-8", ".html": "text/html; charset=utf-8", ".woff2": "font/woff2",
}

// content is a file as it is sent.
type content struct {
	kind           string
	plain, gzipped []byte
	imports        []string // of a module, as it names them
}

// Site is a tree of pages and assets as browsers are served it. It is safe for
// use by several goroutines.
type Site struct {
	files     fs.FS
	base      string // of the assets' addresses, with a slash at its end
	languages []string
	assets    map[string]content // by language and name: es/lib/live.mjs
	pages     map[string]content // likewise: es/team/team.html
}

// notes are for who reads a sheet in the tree; no device needs them.
var notes = regexp.MustCompile(`(?s)/\*.*?\*/\n?`)

// NewSite reads and compresses all files. Its error names a module that imports
// what isn't there.
func NewSite(files fs.FS) (*Site, error) {
	s := &Site{files: files, assets: map[string]content{}, pages: map[string]content{}}
	if err := s.findLanguages(); err != nil {
		return nil, err
	}
	hash := sha256.New()
	var pages []string
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		kind := kinds[path.Ext(name)]
		if err != nil || d.IsDir() || kind == "" {
			return err
		}
		data, err := fs.ReadFile(files, name)
		fmt.Fprintf(hash, "%s %d\n%s", name, len(data), data)
		if path.Ext(name) == ".css" {
			data = notes.ReplaceAll(data, nil)
		}
		switch path.Ext(name) {
		case ".html":
			pages = append(pages, name)
		case ".woff2": // compressed in itself
			s.add(name, content{kind: kind, plain: data})
		default:
			s.add(name, content{kind, data, zipped(data), importsOf(data)})
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	s.base = "/static/" + hex.EncodeToString(hash.Sum(nil)[:8]) + "/"
	for _, name := range pages {
		if err := s.addPage(name); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// findLanguages takes those that the pages have words in; English is the first,
// for whoever asks for none of them.
func (s *Site) findLanguages() error {
	folders, err := fs.ReadDir(s.files, "words")
	if err != nil {
		return fmt.Errorf("the pages' languages: %w", err)
	}
	for _, d := range folders {
		s.languages = append(s.languages, d.Name())
	}
	slices.SortFunc(s.languages, func(a, b string) int {
		return strings.Compare(strings.TrimPrefix(a, english), strings.TrimPrefix(b, english))
	})
	return nil
}

const english = "en"

// add takes up an asset. Words are served without their language in the name, in
// their language alone: words/es/team.mjs is es/words/team.mjs.
func (s *Site) add(name string, c content) {
	for _, language := range s.languages {
		if group, own := strings.CutPrefix(name, "words/"+language+"/"); own {
			s.assets[language+"/words/"+group] = c
			return
		}
	}
	for _, language := range s.languages {
		s.assets[language+"/"+name] = c
	}
}

// addPage writes the page for each language.
func (s *Site) addPage(name string) error {
	page, err := fs.ReadFile(s.files, name)
	if err != nil {
		return err
	}
	m := entry.FindSubmatch(page)
	if m == nil {
		return fmt.Errorf("%s has no module: the page would stay blank", name)
	}
	for _, language := range s.languages {
		modules, err := s.Modules(language, string(m[2]))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		var links bytes.Buffer
		for _, module := range modules[1:] {
			fmt.Fprintf(&links, "<link rel=\"modulepreload\" href=\"/static/%s\">\n", module)
		}
		written := entry.ReplaceAll(page, append(links.Bytes(), "$0"...))
		written = bytes.ReplaceAll(written, []byte(`"/static/`), []byte(`"`+s.Address(language, "")))
		written = bytes.Replace(written, []byte(`<html lang="`+english+`"`), []byte(`<html lang="`+language+`"`), 1)
		s.pages[language+"/"+name] = content{kind: kinds[".html"], plain: written, gzipped: zipped(written)}
	}
	return nil
}

// zippers are kept: each has tables of 800 kB, and the site has some 150 files.
var zippers = sync.Pool{New: func() any {
	w, _ := gzip.NewWriterLevel(nil, gzip.BestCompression) // fails only for an unknown level
	return w
}}

func zipped(data []byte) []byte {
	var b bytes.Buffer
	w := zippers.Get().(*gzip.Writer)
	defer zippers.Put(w)
	w.Reset(&b)
	w.Write(data)
	w.Close()
	return b.Bytes()
}

// Languages are those that the pages are in, English first.
func (s *Site) Languages() []string { return s.languages }

// Address is where an asset is served to readers of a language.
func (s *Site) Address(language, name string) string { return s.base + language + "/" + name }

// Base is what the addresses of all assets begin with.
func (s *Site) Base() string { return s.base }

// Asset is the text of an asset in a language.
func (s *Site) Asset(language, name string) ([]byte, error) {
	a, err := s.asset(language, name)
	return a.plain, err
}

func (s *Site) asset(language, name string) (content, error) {
	a, ok := s.assets[language+"/"+name]
	if !ok {
		return a, fmt.Errorf("there is no %s in the language %s: %w", name, language, fs.ErrNotExist)
	}
	return a, nil
}

// ServePage serves a page by its file's name in the language of whoever asks.
func (s *Site) ServePage(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		language := s.Language(r)
		w.Header().Set("Content-Language", language)
		w.Header().Set("Vary", "Accept-Language, Cookie")
		s.pages[language+"/"+name].serve(w, r)
	}
}

// ServeAsset serves what is at Base.
func (s *Site) ServeAsset(w http.ResponseWriter, r *http.Request) {
	a, ok := s.assets[strings.TrimPrefix(r.URL.Path, s.base)]
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	a.serve(w, r)
}

// Serve sends a text that is made for whoever asks, compressed if they take it so.
func Serve(w http.ResponseWriter, r *http.Request, kind string, data []byte) {
	content{kind: kind, plain: data, gzipped: zipped(data)}.serve(w, r)
}

func (c content) serve(w http.ResponseWriter, r *http.Request) {
	head, data := w.Header(), c.plain
	head.Set("Content-Type", c.kind)
	head.Add("Vary", "Accept-Encoding")
	if c.gzipped != nil && len(c.gzipped) < len(data) && takesGzip(r.Header.Get("Accept-Encoding")) {
		head.Set("Content-Encoding", "gzip")
		data = c.gzipped
	}
	head.Set("Content-Length", strconv.Itoa(len(data)))
	w.Write(data)
}

// takesGzip reads an Accept-Encoding header.
func takesGzip(accepted string) bool {
	for coding := range strings.SplitSeq(accepted, ",") {
		name, quality := rated(coding)
		if strings.EqualFold(name, "gzip") {
			return quality > 0
		}
	}
	return false
}

// rated is one of the choices that an Accept header lists, and its quality; 0
// where that can't be read.
func rated(choice string) (name string, quality float64) {
	name, weight, weighed := strings.Cut(strings.ReplaceAll(choice, " ", ""), ";")
	if !weighed {
		return name, 1
	}
	quality, err := strconv.ParseFloat(strings.TrimPrefix(strings.ToLower(weight), "q="), 64)
	if err != nil {
		return name, 0
	}
	return name, quality
}
