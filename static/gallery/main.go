// Gallery shows every screen of the pages in every state, to those who work on
// them. It is no part of the program.
//
// Run it in the top folder of the source with
//
//	go run ./static/gallery
//
// It reads the files anew for each page, so a change shows at a reload.
package main

import (
	"fmt"
	"net/http"
	"os"

	"fieldsign/static"
)

const address = "localhost:7721"

func main() {
	files := os.DirFS("static")
	if _, err := static.NewSite(files); err != nil {
		fmt.Fprintf(os.Stderr, "gallery: %v: run this in the top folder of the source\n", err)
		os.Exit(1)
	}
	fmt.Printf("The gallery of screens is at http://%s/gallery\n", address)
	if err := http.ListenAndServe(address, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site, err := static.NewSite(files)
		switch {
		case err != nil:
			http.Error(w, err.Error(), http.StatusInternalServerError)
		case r.URL.Path == "/gallery":
			site.ServePage("gallery/gallery.html")(w, r)
		default:
			site.ServeAsset(w, r)
		}
	})); err != nil {
		fmt.Fprintf(os.Stderr, "gallery: %v\n", err)
		os.Exit(1)
	}
}
