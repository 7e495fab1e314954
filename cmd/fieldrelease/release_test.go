package main

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	cdx "github.com/CycloneDX/cyclonedx-go"
)

const source = "../.."

// The list is checked whenever the tests run: a dependency that is new, gone or
// without a known licence fails here.
func TestTheListOfLicences(t *testing.T) {
	found := inventoryOf(t)
	listed, err := os.ReadFile(filepath.Join(source, "docs", "licences.md"))
	if err != nil {
		t.Fatal(err)
	}
	if string(listed) != found.page() {
		t.Error("docs/licences.md is not up to date: run make licences, and look at what has changed")
	}
	for _, l := range found.modules {
		if l.part == inProgram && !strings.Contains(found.texts(), strings.TrimSpace(l.text)) {
			t.Errorf("the text of %s's licence does not go along", l.path)
		}
	}
}

func inventoryOf(t *testing.T) inventory {
	t.Helper()
	root, err := filepath.Abs(source)
	if err != nil {
		t.Fatal(err)
	}
	found, err := dependencies(t.Context(), root)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestUnknownLicences(t *testing.T) {
	mit, err := os.ReadFile(filepath.Join(source, "LICENSE"))
	if err != nil {
		t.Fatal(err)
	}
	for name, files := range map[string]map[string]string{
		"none":       {"README.md": string(mit)},
		"own words":  {"LICENSE": "You may look at this on Tuesdays, if you bring cake. " + strings.Repeat("Cake is a must. ", 40)},
		"one of two": {"LICENSE": string(mit), "COPYING": "Only on Tuesdays. " + strings.Repeat("Cake is a must. ", 40)},
	} {
		dir := t.TempDir()
		for file, text := range files {
			if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if id, _, err := identify(dir); err == nil {
			t.Errorf("%s: taken for %q", name, id)
		}
	}
	dir := t.TempDir()
	says := filepath.Join(dir, "LICENSES.md")
	if err := os.WriteFile(says, append([]byte("# x.mjs: Thing 1.2.3\n\n## Thing (Apache-2.0)\n"), mit...), 0o644); err != nil {
		t.Fatal(err)
	}
	if list, err := vendored(says); err == nil {
		t.Errorf("a text that is not what its heading says: %v", list)
	}
}

func TestWhatTheTestsCopied(t *testing.T) {
	if found := inventoryOf(t); len(found.copied) != 1 || found.copied[0].path != "axe-core" || !strings.Contains(found.copied[0].id, "MPL-2.0") || strings.Contains(found.texts(), "axe-core") {
		t.Errorf("copied beside the tests: %+v", found.copied)
	}
	mit, err := os.ReadFile(filepath.Join(source, "LICENSE"))
	if err != nil {
		t.Fatal(err)
	}
	for name, files := range map[string]map[string]string{
		"no licence": {"thing.js": "/*! thing v1.2.3\n*/"},
		"no version": {"thing.js": "let thing;", "LICENSE": string(mit)},
	} {
		dir := t.TempDir()
		if err := os.Mkdir(filepath.Join(dir, "thing"), 0o755); err != nil {
			t.Fatal(err)
		}
		for file, text := range files {
			if err := os.WriteFile(filepath.Join(dir, "thing", file), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if list, err := copiedIn(dir); err == nil {
			t.Errorf("%s: taken for %v", name, list)
		}
	}
}

// The same source in two folders, built under other settings, gives the same
// bytes: programs, checksums and bills of materials.
func TestReproducible(t *testing.T) {
	found := inventoryOf(t)
	list := []system{{"linux", "arm64"}}
	var made, folders []string
	for _, folder := range []string{"one", "another/and/deeper"} {
		dir := filepath.Join(t.TempDir(), folder)
		copied(t, dir)
		t.Setenv("TZ", map[string]string{"one": "UTC"}[folder])
		t.Setenv("GOFLAGS", map[string]string{"one": "-tags=other"}[folder])
		out := filepath.Join(t.TempDir(), "dist")
		if err := release(t.Context(), dir, out, list, found); err != nil {
			t.Fatal(err)
		}
		made, folders = append(made, out), append(folders, dir)
	}
	files, err := os.ReadDir(made[0])
	if err != nil || len(files) != 2*len(list)+2 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		one, err := os.ReadFile(filepath.Join(made[0], f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		other, err := os.ReadFile(filepath.Join(made[1], f.Name()))
		if err != nil || !bytes.Equal(one, other) {
			t.Errorf("%s differs, or %v", f.Name(), err)
		}
		if bytes.Contains(one, []byte(folders[0])) {
			t.Errorf("%s names the folder that it was built in", f.Name())
		}
	}
	checked(t, made[0])
	billed(t, filepath.Join(made[0], list[0].file()+".cdx.json"), found)
}

// copied is the source without its history.
func copied(t *testing.T, to string) {
	t.Helper()
	from := os.DirFS(source)
	err := fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name != "." && strings.HasPrefix(d.Name(), "."), d.Name() == "artifacts", d.Name() == "dist", d.Name() == "testdata":
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			return os.MkdirAll(filepath.Join(to, name), 0o755)
		}
		text, err := fs.ReadFile(from, name)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, name), text, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// checked has the system's own tool read the checksums.
func checked(t *testing.T, dir string) {
	t.Helper()
	tool, err := exec.LookPath("sha256sum")
	if err != nil {
		t.Skip("there is no sha256sum here")
	}
	c := exec.Command(tool, "--check", "--strict", "SHA256SUMS")
	c.Dir = dir
	if said, err := c.CombinedOutput(); err != nil {
		t.Errorf("sha256sum: %v\n%s", err, said)
	}
}

// billed reads a bill of materials back.
func billed(t *testing.T, file string, found inventory) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var made cdx.BOM
	if err := cdx.NewBOMDecoder(bytes.NewReader(text), cdx.BOMFileFormatJSON).Decode(&made); err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, c := range *made.Components {
		names[c.Name] = true
		if c.PackageURL == "" || c.Version == "" || c.Licenses == nil {
			t.Errorf("%s lacks its address, version or licence", c.Name)
		}
	}
	for _, want := range []string{"std", "preact", "htm", "ts-fsrs", "go.etcd.io/bbolt", "github.com/gorilla/websocket"} {
		if !names[want] {
			t.Errorf("%s is not in the bill", want)
		}
	}
	if names["pgregory.net/rapid"] || len(names) > len(found.modules)+len(found.vendored)+1 {
		t.Error("the bill has what is not in the program")
	}
}
