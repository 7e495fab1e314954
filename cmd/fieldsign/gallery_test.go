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
	mux.Handle("/", httputil.NewSingleHostReverseProxy(&url.URL{Scheme: "http", Host: fmt.Sprintf("localhost:%d", port)}))
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server.Listener.Addr().(*net.TCPAddr).Port
}
