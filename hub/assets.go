package hub

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"

	"fieldsign/static"
)

// Assets are kept by browsers for good: their address has a hash of them all in
// it. Modules import each other by relative addresses, so they need no rewriting;
// the pages, which are always asked for anew, do.

// assetKinds are the files that are served, by the ends of their names.
var assetKinds = map[string]string{
	".css": "text/css; charset=utf-8", ".mjs": "text/javascript; charset=utf-8", ".svg": svgKind, ".md": "text/markdown; charset=utf-8",
}

const svgKind = "image/svg+xml; charset=utf-8"

// asset is a file as it is sent.
type asset struct {
	kind           string
	plain, gzipped []byte
}

type bundle struct {
	base   string // of the assets' addresses, with a slash at its end
	assets map[string]asset
	pages  map[string][]byte
}

// assets are read and compressed once.
var assets = sync.OnceValue(func() bundle {
	b := bundle{assets: map[string]asset{}, pages: map[string][]byte{}}
	hash := sha256.New()
	err := fs.WalkDir(static.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(static.Files, name)
		if kind := assetKinds[path.Ext(name)]; kind != "" {
			b.assets[name] = asset{kind, data, zipped(data)}
			fmt.Fprintf(hash, "%s %d\n%s", name, len(data), data)
		} else {
			b.pages[name] = data
		}
		return err
	})
	if err != nil {
		panic(err) // the files are part of the program
	}
	b.base = "/static/" + hex.EncodeToString(hash.Sum(nil)[:8]) + "/"
	for name, page := range b.pages {
		b.pages[name] = bytes.ReplaceAll(page, []byte(`"/static/`), []byte(`"`+b.base))
	}
	return b
})

func zipped(data []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // fails only for an unknown level
	w.Write(data)
	w.Close()
	return b.Bytes()
}

func servePage(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(assets().pages[name])
	}
}

func serveAsset(w http.ResponseWriter, r *http.Request) {
	a, ok := assets().assets[r.PathValue("name")]
	if !ok {
		http.NotFound(w, r)
		return
	}
	head, data := w.Header(), a.plain
	head.Set("Content-Type", a.kind)
	head.Set("Cache-Control", "public, max-age=31536000, immutable")
	head.Set("Vary", "Accept-Encoding")
	if takesGzip(r.Header.Get("Accept-Encoding")) {
		head.Set("Content-Encoding", "gzip")
		data = a.gzipped
	}
	head.Set("Content-Length", strconv.Itoa(len(data)))
	w.Write(data)
}

// takesGzip reads an Accept-Encoding header.
func takesGzip(accepted string) bool {
	for coding := range strings.SplitSeq(accepted, ",") {
		name, quality, _ := strings.Cut(strings.ReplaceAll(coding, " ", ""), ";")
		if strings.EqualFold(name, "gzip") {
			q, err := strconv.ParseFloat(strings.TrimPrefix(strings.ToLower(quality), "q="), 64)
			return quality == "" || err == nil && q > 0
		}
	}
	return false
}
