package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/questions/catalogue"
)

// exported runs the command and returns the file that it wrote.
func exported(t *testing.T, args ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "export")
	printed(t, append([]string{"export", "--out", file}, args...)...)
	return file
}

// Every XML file is read by libxml2 as well, which is not the writer's library.
func TestExportIsXML(t *testing.T) {
	t.Parallel()
	xmllint := need(t, "xmllint")
	for _, args := range [][]string{
		{"--format", "qti", "--roster", "furbearers", "--count", "30", "--seed", "5"},
		{"--format", "qti", "--roster", "waterside", "--template", "type-the-name", "--subject", "skull"},
		{"--format", "dwc", "--roster", "everything"},
	} {
		dir := t.TempDir()
		z, err := zip.OpenReader(exported(t, args...))
		if err != nil {
			t.Fatal(err)
		}
		defer z.Close()
		if err := os.CopyFS(dir, z); err != nil {
			t.Fatal(err)
		}
		var files []string
		for _, f := range z.File {
			if strings.HasSuffix(f.Name, "ml") || strings.HasSuffix(f.Name, ".svg") {
				files = append(files, filepath.Join(dir, f.Name))
			}
		}
		if out, err := exec.Command(xmllint, append([]string{"--noout", "--nonet"}, files...)...).CombinedOutput(); err != nil || len(files) < 2 {
			t.Errorf("%v: %d files, %v\n%s", args, len(files), err, out)
		}
	}
}

// nexml is what the NEXUS Class Library makes of a matrix.
type nexml struct {
	Taxa   []labelled `xml:"otus>otu"`
	States []struct {
		ID          string     `xml:"id,attr"`
		States      []labelled `xml:"state"`
		Polymorphic []struct {
			ID      string `xml:"id,attr"`
			Members []struct {
				State string `xml:"state,attr"`
			} `xml:"member"`
		} `xml:"polymorphic_state_set"`
	} `xml:"characters>format>states"`
	Characters []labelled `xml:"characters>format>char"`
	Rows       []struct {
		Taxon string `xml:"otu,attr"`
		Cells []struct {
			Character string `xml:"char,attr"`
			State     string `xml:"state,attr"`
		} `xml:"cell"`
	} `xml:"characters>matrix>row"`
}

type labelled struct {
	ID    string `xml:"id,attr"`
	Label string `xml:"label,attr"`
}

// cells are the matrix's entries in words, by taxon and character.
func (n nexml) cells() map[[2]string]string {
	words := map[string]string{}
	for _, list := range [][]labelled{n.Taxa, n.Characters} {
		for _, l := range list {
			words[l.ID] = l.Label
		}
	}
	for _, set := range n.States {
		for _, s := range set.States {
			words[s.ID] = s.Label
		}
		for _, p := range set.Polymorphic {
			var members []string
			for _, m := range p.Members {
				members = append(members, words[m.State])
			}
			words[p.ID] = strings.Join(members, " or ")
		}
	}
	out := map[[2]string]string{}
	for _, row := range n.Rows {
		for _, c := range row.Cells {
			out[[2]string{words[row.Taxon], words[c.Character]}] = words[c.State]
		}
	}
	return out
}

// The NEXUS Class Library finds in each matrix what the catalogue holds.
func TestExportNEXUSReadByNCL(t *testing.T) {
	t.Parallel()
	converter := need(t, "NCLconverter")
	cat := catalogue.Builtin()
	for _, subject := range catalogue.Subjects {
		file := exported(t, "--format", "nexus", "--roster", "everything", "--subject", subject)
		if out, err := exec.Command(converter, "-enexml", "-o"+file, file).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", subject, err, out)
		}
		data, err := os.ReadFile(file + ".xml")
		if err != nil {
			t.Fatal(err)
		}
		var read nexml
		if err := xml.Unmarshal(data, &read); err != nil {
			t.Fatal(err)
		}
		cells, compared := read.cells(), 0
		for _, name := range cat.Everything().Of(subject) {
			s, _ := cat.Find(name)
			for _, trait := range cat.Traits {
				if trait.Subject != subject || slices.Contains([]catalogue.Kind{catalogue.Range, catalogue.Set, catalogue.Formula}, trait.Kind) {
					continue
				}
				compared++
				if got, want := cells[[2]string{name, trait.Label}], asRead(s, trait); got != want {
					t.Errorf("%s, %s: read as %q, want %q", name, trait.ID, got, want)
				}
			}
		}
		if compared != len(cells) || compared == 0 {
			t.Errorf("%s: %d cells compared, %d read", subject, compared, len(cells))
		}
	}
}

// asRead is a value as the library has it in words.
func asRead(s catalogue.Species, trait catalogue.Trait) string {
	v := s.Values[trait.ID]
	switch {
	case v.Known():
		return v.String()
	case v.Status == catalogue.NotApplicable:
		return "Gap"
	case v.Status == catalogue.Variable && trait.Kind == catalogue.YesNo && (trait.From == "" || s.Values[trait.From].Known()):
		return "no or yes"
	}
	return "Missing"
}

// storedGame writes a game to a new data file and returns its events.
func storedGame(t *testing.T, data string) []game.Event {
	t.Helper()
	events := []game.Event{
		{Seq: 1, Type: game.Created, By: "hub", Code: "otter-burrow-42", Began: "2026-01-02T03:04:05Z", Plan: &game.Plan{Title: "Skulls & <tracks>", Seed: 7,
			Match: &game.Match{Tournament: "fox-den-07", Number: 3, Sides: []string{"Marsh Wrens", "Wood Ducks"}}}},
		{Seq: 2, At: 5, Type: game.Joined, By: "hub", Team: "t1", Name: "Marsh Wrens", Secret: "5ec2e7"},
		{Seq: 3, At: 6, Type: game.Joined, By: "hub", Team: "t2", Name: "Wood Ducks", Secret: "5ec2e8"},
		{Seq: 4, At: 7, Type: game.Renamed, By: "host", Cmd: "c1", Team: "t2", Name: "Red Efts"},
		{Seq: 5, At: 8, Type: game.RemovedT, By: "host", Cmd: "c2", Team: "t1"},
		{Seq: 6, At: 9, Type: game.Finished, By: "host", Cmd: "c3"},
	}
	games, err := bolt.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	defer games.Close()
	batch := store.Batch{Game: "otter-burrow-42"}
	for _, e := range events {
		line, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		batch.Records = append(batch.Records, store.Record{Seq: e.Seq, Data: line})
	}
	if err := games.Append(t.Context(), batch); err != nil {
		t.Fatal(err)
	}
	return events
}

func readEvents(t *testing.T, file string) (events []game.Event) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(data, []byte("5ec2e")) || bytes.Contains(data, []byte("secret")) {
		t.Errorf("a secret is in the export:\n%s", data)
	}
	for line := range bytes.Lines(data) {
		var e game.Event
		if err := json.Unmarshal(line, &e); err != nil {
			t.Fatal(err)
		}
		events = append(events, e)
	}
	return events
}

// With the names the events are the stored ones but for the secrets; without
// them no nickname is left.
func TestExportEvents(t *testing.T) {
	t.Parallel()
	data := filepath.Join(t.TempDir(), "games.db")
	want := storedGame(t, data)
	for i := range want {
		want[i].Secret = ""
	}
	args := []string{"--format", "jsonl", "--game", "otter-burrow-42", "--data", data}
	if got := readEvents(t, exported(t, append(args, "--names")...)); fmt.Sprint(lines(got)) != fmt.Sprint(lines(want)) {
		t.Errorf("with names:\n%s\nwant\n%s", lines(got), lines(want))
	}
	want[1].Name, want[2].Name, want[3].Name = "t1", "t2", "t2"
	want[0].Plan.Match.Sides = []string{"side 1", "side 2"}
	if got := readEvents(t, exported(t, args...)); fmt.Sprint(lines(got)) != fmt.Sprint(lines(want)) {
		t.Errorf("without names:\n%s\nwant\n%s", lines(got), lines(want))
	}
}

func lines(events []game.Event) string {
	var b strings.Builder
	for _, e := range events {
		line, _ := json.Marshal(e)
		b.Write(append(line, '\n'))
	}
	return b.String()
}

// A game that was really played exports to events that give its state again;
// while the hub runs, the file is refused.
func TestExportOfAPlayedGame(t *testing.T) {
	t.Parallel()
	data := filepath.Join(t.TempDir(), "games.db")
	p := start(t, data, freePort(t))
	args := []string{"export", "--format", "jsonl", "--game", p.code, "--data", data, "--out", filepath.Join(t.TempDir(), "x")}
	if err := run(t.Context(), args, io.Discard); err == nil || !strings.Contains(err.Error(), "another Fieldsign is running") {
		t.Errorf("while the hub runs: %v", err)
	}
	for _, name := range []string{"Wrens", "Otters"} {
		team := dialed(t, p, map[string]any{"type": "join", "name": name})
		awaited(t, team, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	}
	p.kill()
	var s game.State
	for _, e := range readEvents(t, exported(t, args[1:7]...)) {
		s = game.Apply(s, e)
	}
	if s.Code != p.code || len(s.Teams) != 2 || s.Teams[1].Name != "t2" || len(s.Plan.Rounds) == 0 {
		t.Errorf("replayed: game %s with %d teams and %d rounds", s.Code, len(s.Teams), len(s.Plan.Rounds))
	}
}

func TestBadExports(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data, other := filepath.Join(dir, "games.db"), filepath.Join(dir, "other.db")
	storedGame(t, data)
	os.WriteFile(other, []byte("not a store"), 0o600)
	out := filepath.Join(dir, "out")
	for want, args := range map[string][]string{
		"--format is":        {"--format", "csv", "--out", out},
		"where to":           {"--format", "nexus"},
		"is no flag":         {"--format", "nexus", "--out", out, "skull"},
		"--subject is":       {"--format", "nexus", "--out", out, "--subject", "bark"},
		"no roster":          {"--format", "dwc", "--out", out, "--roster", "zoo"},
		"has no part":        {"--format", "dwc", "--out", out, "--seed", "4"},
		"difficulty is":      {"--format", "qti", "--out", out, "--difficulty", "9"},
		"no template":        {"--format", "qti", "--out", out, "--template", "riddle"},
		"1 to 100000":        {"--format", "qti", "--out", out, "--count", "0"},
		"can't be written":   {"--format", "dwc", "--out", filepath.Join(dir, "no", "such", "folder")},
		"which game":         {"--format", "jsonl", "--out", out, "--data", data},
		"otter-burrow-42":    {"--format", "jsonl", "--out", out, "--data", data, "--game", "elk-bog-11"},
		"no games to export": {"--format", "jsonl", "--out", out, "--data", filepath.Join(dir, "none.db"), "--game", "elk-bog-11"},
		"not a Fieldsign":    {"--format", "jsonl", "--out", out, "--data", other, "--game", "elk-bog-11"},
	} {
		if err := run(context.Background(), append([]string{"export"}, args...), io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want it to say %q", args, err, want)
		}
	}
	for _, file := range []string{out, filepath.Join(dir, "none.db")} {
		if _, err := os.Stat(file); err == nil {
			t.Errorf("a failed run left %s", file)
		}
	}
}
