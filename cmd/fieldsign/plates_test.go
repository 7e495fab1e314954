package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func filesOf(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestPlatesToAFolder(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "plates")
	said := printed(t, "plates", "--species", "bobcat", "--out", dir).String()
	if !strings.Contains(said, "plates in "+dir) {
		t.Errorf("it says %q", said)
	}
	files := filesOf(t, dir)
	if want := "001-lynx-rufus-skull.svg 002-lynx-rufus-front-print.svg"; !strings.HasPrefix(strings.Join(files, " "), want) {
		t.Errorf("files %v, want first %s", files, want)
	}
	if err := run(context.Background(), []string{"plates", "--out", dir}, io.Discard); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("a folder with plates in it: %v", err)
	}
}

func TestPlatesForAQuiz(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "quiz")
	printed(t, "plates", "--roster", "furbearers", "--subjects", "skull", "--quiz", "--out", dir)
	data, err := os.ReadFile(filepath.Join(dir, "key.csv"))
	if err != nil {
		t.Fatal(err)
	}
	key, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	files := filesOf(t, dir)
	if len(key) != 17 || len(files) != 17 {
		t.Fatalf("%d lines of key and %d files, want 16 skulls and one more of each", len(key), len(files))
	}
	inOrder := true
	for i, row := range key[1:] {
		inOrder = inOrder && (i == 0 || key[i][1] <= row[1])
		if svg, _ := os.ReadFile(filepath.Join(dir, files[i])); strings.Contains(string(svg), row[1]) || len(files[i]) != len("001.svg") {
			t.Errorf("%s tells that it is %s", files[i], row[1])
		}
	}
	if inOrder {
		t.Error("the plates of a quiz are in the order of their names")
	}
}

func TestPlatesToPDF(t *testing.T) {
	t.Parallel()
	for _, flags := range []string{"", " --quiz", " --cards", " --page letter", " --per-page 4"} {
		pdf := filepath.Join(t.TempDir(), "plates.pdf")
		said := printed(t, strings.Fields("plates --roster furbearers --subjects skull --pdf "+pdf+flags)...).String()
		data, err := os.ReadFile(pdf)
		if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("fieldsign plates%s: %v, %.8q", flags, err, data)
		}
		for _, w := range []string{"16 plates", "print at 100 %"} {
			if !strings.Contains(said, w) {
				t.Errorf("fieldsign plates%s says no %q: %s", flags, w, said)
			}
		}
	}
}

func TestPlatesSayWhatIsWrong(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for args, want := range map[string]string{
		"":                                           "where to?",
		"--cards --out " + dir:                       "--pdf FILE",
		"--page a3 --pdf x":                          `not "a3"`,
		"--per-page 3 --pdf x":                       "1, 2, 4 or 6 plates share a page",
		"--per-page 4 --cards --pdf x":               "two to a page",
		"--pdf x --species Lynx rufus":               "quotes",
		"--pdf x --species gryphon":                  `"gryphon"`,
		"--pdf x --roster nowhere":                   "nowhere",
		"--pdf x --subjects feather":                 `"feather": choose from skull, track, scat`,
		"--pdf " + dir + " --species bobcat":         "can't be written",
		"--pdf x --species mallard --subjects skull": "no plate to draw",
	} {
		if err := run(context.Background(), strings.Fields("plates "+args), io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("fieldsign plates %s: %v, want %q in it", args, err, want)
		}
	}
	if _, err := os.Stat("x"); err == nil {
		t.Error("a failed run left a file")
		os.Remove("x")
	}
}
