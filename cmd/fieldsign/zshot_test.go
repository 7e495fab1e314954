package main

import (
	"fmt"
	"strings"
	"testing"
)

func TestZAxe(t *testing.T) {
	need(t, headless)
	port := freePort(t)
	start(t, t.TempDir()+"/games.db", port)
	p := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", withGallery(t, port))).open("en", "/gallery", 1280, 900)
	p.speak("en")
	for _, name := range strings.Fields("host-buzz-held host-paused host-revealed") {
		p.visit("/gallery?screen=" + name)
		p.judge(t, name)
	}
	p.resize(390, 664)
	for _, name := range strings.Fields("host-buzz-held debrief host-paused") {
		p.visit("/gallery?screen=" + name)
		p.wait("it", "!!document.querySelector('#page > main')")
		p.shot("m-" + name)
	}
}
