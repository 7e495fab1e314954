package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// pictures is a folder with a photo under each name.
func pictures(t *testing.T, names ...string) string {
	t.Helper()
	image, err := os.ReadFile(snapshot(t))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for _, name := range names {
		if err := os.WriteFile(filepath.Join(folder, name), image, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func TestAFolderOfPhotos(t *testing.T) {
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	t.Setenv("FIELDSIGN_HOST_KEY", testKey)
	folder := pictures(t, "red-fox_skull_2.jpg", "river otter front print.jpg", "IMG_0001.jpg", "notes.txt")
	add := func(more ...string) (string, error) {
		var out bytes.Buffer
		err := run(t.Context(), append([]string{"photos", "--hub", hub.url()}, more...), &out)
		return out.String(), err
	}
	said, err := add("--dry-run", folder)
	if err == nil || !strings.Contains(err.Error(), "1 of 3 photos") || strings.Count(said, "would be added") != 2 {
		t.Errorf("%v\n%s", err, said)
	}
	if said, err = add(folder); err == nil || strings.Count(said, "added\n") != 2 || !strings.Contains(said, "left out") {
		t.Errorf("%v\n%s", err, said)
	}
	if err := os.Remove(filepath.Join(folder, "IMG_0001.jpg")); err != nil {
		t.Fatal(err)
	}
	if said, err = add("--credit", "", folder); err == nil || !strings.Contains(said, "The credit says who took the photo") {
		t.Errorf("without a credit: %v\n%s", err, said)
	}
	if _, err = add(t.TempDir()); err == nil || !strings.Contains(err.Error(), "no photo") {
		t.Errorf("an empty folder: %v", err)
	}
	if err := run(t.Context(), []string{"photos", folder}, &bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "which hub") {
		t.Errorf("without a hub: %v", err)
	}
}

// Before the game: photos by the handful, the questions on paper, and a code by
// which the host's own phone takes the console.
func TestWhatAHostPrepares(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 800)
	host.showPhotos()
	folder := pictures(t, "red-fox_skull_2.jpg", "IMG_0001.jpg")
	files := []string{filepath.Join(folder, "red-fox_skull_2.jpg"), filepath.Join(folder, "IMG_0001.jpg")}
	if err := chromedp.Do(host.ctx, chromedp.SetUploadFiles("#photos-files", files)); err != nil {
		t.Fatal(err)
	}
	host.wait("what the names say", "document.querySelector('.drop li input')?.value === 'red fox' && document.querySelector('.drop li select').value === 'skull'")
	host.wait("a thumbnail", "(c => c && c.getContext('2d').getImageData(80, 60, 1, 1).data[3] > 0)(document.querySelector('.drop canvas'))")
	host.targets()
	host.shot("console-photos")
	host.set("photos-credit", "Own photo")
	host.press("Add 2 photos")
	host.wait("what is added, and what is not clear", says("1 added.")+" && "+says("Say which animal it is")+" && document.querySelectorAll('.drop li').length == 1")

	host.wait("that downloads are seen", "(() => { const make = URL.createObjectURL; URL.createObjectURL = (blob) => { blob.slice(0, 5).text().then((t) => { globalThis.made = t; }); return make(blob); }; return true; })()")
	for _, kind := range []string{"Quiz sheet", "Key with reasons", "Plates of all"} {
		host.js("globalThis.made = '', true")
		host.press(kind)
		host.wait("the PDF of "+kind, "globalThis.made === '%PDF-'")
	}
	host.shot("console-paper")

	held := "document.querySelector('.host-code svg')"
	host.wait("the button for a phone", `(b => { b?.dispatchEvent(new PointerEvent('pointerdown', {bubbles: true})); return !!b; })(document.querySelector('.from-phone button'))`)
	host.wait("its code", "!!"+held)
	host.shot("console-host-code")
	host.wait("that it is let go", "dispatchEvent(new PointerEvent('pointerup')), true")
	host.wait("that the code is gone", "!"+held)
	b.checkSaved(hub.port)
}
