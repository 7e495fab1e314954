package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/google/licensecheck"
)

// licence is what a dependency may be used under, by its SPDX name.
type licence struct{ path, version, id, part, text string }

// inventory is every dependency of the source.
type inventory struct {
	own      string // Fieldsign's own licence
	modules  map[string]licence
	vendored []licence // what the pages bring along
	copied   []licence // what the tests alone do
}

// Whom a module serves; the first that applies is told.
const (
	inProgram = "the program"
	inTests   = "tests and checks alone"
	besides   = "benchmarks and releases"
)

// leastCovered is how much of a licence's file has to be text of licences, in
// percent; the rest is who holds the rights.
const leastCovered = 70

// dependencies asks Go which modules have a package that something is built of,
// and reads the licence of each.
func dependencies(ctx context.Context, source string) (inventory, error) {
	found := inventory{modules: map[string]licence{}}
	var faults []error
	own, _, err := identify(source)
	if err != nil {
		return found, err
	}
	found.own = own
	note := func(part string, mods []module) {
		for _, m := range mods {
			if _, known := found.modules[m.Path]; known {
				continue
			}
			id, text, err := identify(m.Dir)
			if err != nil {
				faults = append(faults, fmt.Errorf("%s %s: %w", m.Path, m.Version, err))
			}
			found.modules[m.Path] = licence{m.Path, m.Version, id, part, text}
		}
	}
	for _, ask := range questions() {
		mods, err := modulesOf(ctx, filepath.Join(source, ask.dir), ask.env, ask.args...)
		if err != nil {
			return found, err
		}
		note(ask.part, mods)
	}
	found.vendored, err = vendored(filepath.Join(source, "static", "vendor", "LICENSES.md"))
	faults = append(faults, err)
	found.copied, err = copiedIn(filepath.Join(source, "cmd", "fieldsign", "testdata"))
	return found, errors.Join(append(faults, err)...)
}

// question is a list to ask Go for.
type question struct {
	part, dir string
	env       []string
	args      []string
}

func questions() []question {
	var list []question
	for _, s := range systems {
		list = append(list, question{inProgram, ".", []string{"GOOS=" + s.os, "GOARCH=" + s.arch, "CGO_ENABLED=0"}, []string{"./cmd/fieldsign"}})
	}
	list = append(list, question{inTests, ".", nil, []string{"-test", "./..."}}, question{inTests, ".", nil, []string{"tool"}})
	for _, dir := range []string{"cmd/fieldbench", "cmd/fieldrelease"} {
		list = append(list, question{besides, dir, nil, []string{"-test", "./..."}})
	}
	return list
}

type module struct {
	Path, Version, Dir string
	Main               bool
}

// modulesOf are the modules of all packages that these are built of.
func modulesOf(ctx context.Context, dir string, env []string, args ...string) ([]module, error) {
	c := command(ctx, dir, "go", append([]string{"list", "-deps", "-json=ImportPath,Module"}, args...)...)
	c.Env = append(c.Env, env...)
	var said bytes.Buffer
	c.Stderr = &said
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("go list in %s: %w\n%s", dir, err, said.Bytes())
	}
	mods := map[string]module{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct{ Module *module }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("go list in %s: %w", dir, err)
		}
		if m := p.Module; m != nil && !m.Main && m.Path != "fieldsign" {
			mods[m.Path] = *m
		}
	}
	return slices.SortedFunc(maps.Values(mods), func(a, b module) int { return strings.Compare(a.Path, b.Path) }), nil
}

var licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying)([-.](md|txt|mit|apache|3rd-party\.txt))?$`)

// identify reads the licence of a folder: its name, and its text.
func identify(dir string) (id, text string, err error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return "", "", err
	}
	var ids []string
	for _, f := range files {
		if !licenceFile.MatchString(f.Name()) {
			continue
		}
		read, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			return "", "", err
		}
		of, err := identifyText(read)
		if err != nil {
			return "", "", fmt.Errorf("%s: %w", f.Name(), err)
		}
		ids, text = append(ids, of...), text+string(read)
	}
	slices.Sort(ids)
	if ids = slices.Compact(ids); len(ids) == 0 {
		return "", "", errors.New("no licence was found: look for it, and don't use what has none")
	}
	return strings.Join(ids, " AND "), text, nil
}

func identifyText(text []byte) (ids []string, err error) {
	cover := licensecheck.Scan(text)
	if cover.Percent < leastCovered {
		return nil, fmt.Errorf("only %.0f %% of it is of a known licence: read it", cover.Percent)
	}
	for _, m := range cover.Match {
		if !m.IsURL {
			ids = append(ids, m.ID)
		}
	}
	return ids, nil
}

var (
	vendoredPart    = regexp.MustCompile(`(?m)^## (\S+) \(([^)]+)\)$`)
	vendoredVersion = `(?i)(?:^|\W)%s (\d+\.\d+\.\d+)`
)

// vendored reads what the pages bring along: the first line names it, and each
// part has the licence that its heading says.
func vendored(file string) ([]licence, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var list []licence
	heads := vendoredPart.FindAllSubmatchIndex(text, -1)
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		name, says := string(text[h[2]:h[3]]), string(text[h[4]:h[5]])
		ids, err := identifyText(text[h[1]:end])
		if err != nil || len(ids) == 0 || ids[0] != says {
			return nil, fmt.Errorf("%s: %s is said to be under %s, its text is %v (%w)", file, name, says, ids, err)
		}
		version := regexp.MustCompile(fmt.Sprintf(vendoredVersion, regexp.QuoteMeta(name))).FindSubmatch(text)
		if version == nil {
			return nil, fmt.Errorf("%s: the first line does not say which version of %s it is", file, name)
		}
		list = append(list, licence{strings.ToLower(name), string(version[1]), says, inProgram, strings.TrimSpace(string(text[h[1]:end]))})
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%s names no part", file)
	}
	return list, nil
}

// banner is how a script says which version it is.
var banner = regexp.MustCompile(`(?m)^/\*! \S+ v(\d+\.\d+\.\d+)$`)

// copiedIn reads what tests bring along: each has a folder of its own name with
// its licence and its script.
func copiedIn(dir string) ([]licence, error) {
	scripts, err := filepath.Glob(filepath.Join(dir, "*", "*.js"))
	if err != nil {
		return nil, err
	}
	var list []licence
	for _, script := range scripts {
		text, err := os.ReadFile(script)
		if err != nil {
			return nil, err
		}
		version := banner.FindSubmatch(text)
		if version == nil {
			return nil, fmt.Errorf("%s does not say in its first line which version it is", script)
		}
		id, whole, err := identify(filepath.Dir(script))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", script, err)
		}
		list = append(list, licence{filepath.Base(filepath.Dir(script)), string(version[1]), id, inTests, whole})
	}
	return list, nil
}

// page is docs/licences.md.
func (i inventory) page() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# Licences of what Fieldsign is built of\n\nFieldsign itself is under %s. Made by `make licences` from the licence files of the modules and of what was copied in, each compared with the known texts; a test fails when a dependency has no known licence, or when this list is not up to date.\n", i.own)
	for _, part := range []string{inProgram, inTests, besides} {
		fmt.Fprintf(&b, "\n## In %s\n\n| dependency | version | licence (SPDX) |\n| --- | --- | --- |\n", part)
		if part == inProgram {
			fmt.Fprint(&b, "| Go's standard library | of the Go that builds it | BSD-3-Clause |\n")
			for _, v := range i.vendored {
				fmt.Fprintf(&b, "| %s (in the pages) | %s | %s |\n", v.path, v.version, v.id)
			}
		}
		if part == inTests {
			for _, c := range i.copied {
				fmt.Fprintf(&b, "| %s (a copy beside the tests) | %s | %s |\n", c.path, c.version, c.id)
			}
		}
		for _, path := range slices.Sorted(maps.Keys(i.modules)) {
			if l := i.modules[path]; l.part == part {
				fmt.Fprintf(&b, "| %s | %s | %s |\n", l.path, l.version, l.id)
			}
		}
	}
	return b.String()
}

// texts are the licences that go along with the program, as most of them ask.
func (i inventory) texts() string {
	list := i.vendored
	for _, path := range slices.Sorted(maps.Keys(i.modules)) {
		if l := i.modules[path]; l.part == inProgram {
			list = append(list[:len(list):len(list)], l)
		}
	}
	var b strings.Builder
	for _, l := range list {
		fmt.Fprintf(&b, "%s %s (%s)\n\n%s\n\n%s\n\n", l.path, l.version, l.id, strings.TrimSpace(l.text), strings.Repeat("-", 72))
	}
	return b.String()
}
