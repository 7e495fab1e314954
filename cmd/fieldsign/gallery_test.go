package main

import (
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"testing"

	qr "github.com/piglig/go-qr"

	"fieldsign/static"
)

// withGallery puts the pages that are no part of the program, the gallery of
// screens and the checks that run in a browser, before a hub. It returns the
// port of them all.
func withGallery(t *testing.T, port int) int {
	t.Helper()
	site, err := static.NewSite(os.DirFS("../../static"))
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	for path, page := range map[string]string{"/gallery": "gallery/gallery", "/memory-test": "testdata/memory-test", "/words-test": "testdata/words-test"} {
		mux.HandleFunc("GET "+path, site.ServePage(page+".html"))
	}
	mux.HandleFunc("GET "+site.Base(), site.ServeAsset)
	mux.HandleFunc("GET /qr.svg", sampleCode)
	mux.HandleFunc("GET /fsrs.csv", func(w http.ResponseWriter, r *http.Request) {
		http.ServeFile(w, r, "../../game/memory/testdata/fsrs.csv")
	})
	mux.Handle("/", httputil.NewSingleHostReverseProxy(&url.URL{Scheme: "http", Host: fmt.Sprintf("localhost:%d", port)}))
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server.Listener.Addr().(*net.TCPAddr).Port
}

// sampleCode is the code to scan of a sample's game, which no hub has.
func sampleCode(w http.ResponseWriter, r *http.Request) {
	symbol, err := qr.EncodeText("http://fieldsign.test/team?game="+url.QueryEscape(r.URL.Query().Get("game")), qr.Medium)
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", static.SVG)
	if err := symbol.WriteAsSVG(qr.NewQrCodeImgConfig(8, 4), w); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
}

// screen shows one of the gallery's screens, on a page that has the gallery open.
func (p *page) screen(name string) {
	p.Helper()
	p.wait("the gallery", "document.body.dataset.shown !== undefined")
	read[bool](p, fmt.Sprintf(`(() => {
		const at = new URL(location);
		at.searchParams.set('screen', %q);
		history.pushState(null, '', at);
		dispatchEvent(new PopStateEvent('popstate'));
		scrollTo(0, 0);
		return document.body.dataset.shown === %q && new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(() => drawn(true))));
	})()`, name, name))
	p.wait("its pictures", "[...document.images].every((i) => i.complete)")
}
