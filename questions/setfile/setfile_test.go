package setfile_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/setfile"
)

var (
	built = catalogue.Builtin()
	bank  = questions.NewBank(built, built.Everything())
)

func sample(t testing.TB) setfile.Set {
	t.Helper()
	set, err := bank.Set(questions.Wish{Count: 30, Seed: 6})
	if err != nil {
		t.Fatal(err)
	}
	return setfile.Set{Name: "Spring evening", Roster: "everything", Seed: 6, Questions: set,
		Rounds: []setfile.Round{{Count: 20, Play: json.RawMessage(`{"kind":"open","seconds":30}`)}, {Count: 10}}}
}

// withStations is the sample with a station round behind it, of which the first
// station has lost a question and the second has a replica.
func withStations(t testing.TB) setfile.Set {
	t.Helper()
	s := sample(t)
	all, err := bank.Stations(questions.StationWish{Stations: 3, Each: 2, Seed: 6, Replicas: []questions.Replica{{Station: 2, Species: "Castor canadensis", Subject: "skull"}}})
	if err != nil {
		t.Fatal(err)
	}
	all[0].Questions = all[0].Questions[:1]
	round := setfile.Round{Play: json.RawMessage(`{"kind":"station"}`)}
	for _, st := range all {
		round.Count += len(st.Questions)
		round.Stations = append(round.Stations, setfile.Station{Count: len(st.Questions), Species: st.Species, Subject: st.Subject, Plate: st.Plate})
		s.Questions = append(s.Questions, st.Questions...)
	}
	s.Rounds = append(s.Rounds, round)
	return s
}

func written(t testing.TB, s setfile.Set) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestReadsWhatItWrote(t *testing.T) {
	want := sample(t)
	got, err := setfile.Read(strings.NewReader(written(t, want)), "waterside", setfile.Bank(built))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v\ngot  %+v\nwant %+v", err, got, want)
	}
	if second := got.Of(1); len(second) != 10 || second[0].ID != want.Questions[20].ID {
		t.Errorf("the second round has %d questions", len(second))
	}
}

func TestStationsAreReadBack(t *testing.T) {
	want := withStations(t)
	got, err := setfile.Read(strings.NewReader(written(t, want)), "waterside", setfile.Bank(built))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("%v\ngot  %+v\nwant %+v", err, got, want)
	}
	all := got.Stations(2)
	if len(all) != 3 || len(all[0].Questions) != 1 || len(all[2].Questions) != 2 || all[1].Plate != nil || all[0].Plate == nil || all[1].Species != "Castor canadensis" || got.Stations(0) != nil {
		t.Errorf("%+v", all)
	}
	spoilt := func(change func(*setfile.Round)) string {
		s := want
		s.Rounds = append([]setfile.Round{}, want.Rounds...)
		r := &s.Rounds[2]
		r.Stations = append([]setfile.Station{}, r.Stations...)
		change(r)
		return written(t, s)
	}
	anotherKey := want
	anotherKey.Questions = slices.Clone(want.Questions)
	about := slices.IndexFunc(want.Questions, func(q questions.Question) bool { return q.Template == "has-trait" || q.Template == "whose-plate" })
	anotherKey.Questions[about].Key = (want.Questions[about].Key + 1) % len(want.Questions[about].Options)
	for says, text := range map[string]string{
		"2 to 20 stations, not 1":                     spoilt(func(r *setfile.Round) { r.Stations = r.Stations[:1] }),
		"its stations have 6 questions, and it has 5": spoilt(func(r *setfile.Round) { r.Stations[0].Count = 2 }),
		"1 to 5 questions, not 0":                     spoilt(func(r *setfile.Round) { r.Stations[0].Count = 0 }),
		"1 to 5 questions, not -3":                    spoilt(func(r *setfile.Round) { r.Stations[0].Count = -3 }),
		"station 2: its question 1 is not":            spoilt(func(r *setfile.Round) { r.Stations[1].Species = "Lynx rufus" }),
		"station 1: its plate is not": spoilt(func(r *setfile.Round) {
			r.Stations[0].Plate = &questions.PlateRef{Species: "Lynx rufus", View: "skull"}
		}),
		"station 1: its question 2":                         spoilt(func(r *setfile.Round) { r.Stations[0].Count, r.Stations[2].Count = 2, 1 }),
		"by the catalogue":                                  written(t, anotherKey),
		"head can't be read: \"rounds.stations.count\" can": strings.Replace(written(t, want), `"stations":[{"count":1`, `"stations":[{"count":"1"`, 1),
	} {
		if _, err := setfile.Read(strings.NewReader(text), "everything", setfile.Bank(built)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want something on %q", err, says)
		}
	}
}

// A Spanish set says so in each of its lines, and no set is in two languages.
func TestASpanishSet(t *testing.T) {
	words, err := built.In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err)
	}
	want := sample(t)
	if want.Questions, err = questions.NewBank(words, words.Everything()).Set(questions.Wish{Count: 30, Seed: 6}); err != nil {
		t.Fatal(err)
	}
	want.Language = catalogue.Spanish
	text := written(t, want)
	got, err := setfile.Read(strings.NewReader(text), "everything", setfile.Bank(built))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v\ngot  %+v\nwant %+v", err, got, want)
	}
	for in, says := range map[string]string{
		strings.Replace(text, `,"language":"es"`, "", 1):               "question 2 is in the language \"es\", the first in \"en\"",
		strings.ReplaceAll(text, `"language":"es"`, `"language":"fr"`): "a set is in one of en, es",
	} {
		if _, err := setfile.Read(strings.NewReader(in), "everything", setfile.Bank(built)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want something on %s", err, says)
		}
	}
}

// What "fieldsign questions --format jsonl" prints is one round.
func TestWithoutAHead(t *testing.T) {
	text := written(t, sample(t))
	_, bare, _ := strings.Cut(text, "\n")
	got, err := setfile.Read(strings.NewReader("\ufeff"+strings.ReplaceAll(bare, "\n", "\r\n\r\n")), "everything", setfile.Bank(built))
	if err != nil || len(got.Rounds) != 1 || got.Rounds[0].Count != 30 || got.Roster != "everything" {
		t.Errorf("%v, %+v", err, got.Rounds)
	}
}

func TestRefusals(t *testing.T) {
	s := sample(t)
	text := written(t, s)
	first, rest, _ := strings.Cut(text, "\n")
	twice := s
	twice.Questions = append(s.Questions[:1:1], s.Questions[:29]...)
	moved := s
	moved.Questions = append([]questions.Question{}, s.Questions...)
	moved.Questions[4].Key = (moved.Questions[4].Key + 1) % len(moved.Questions[4].Options)
	few := s
	few.Rounds = s.Rounds[:1]
	for _, tc := range []struct{ name, text, says string }{
		{"empty", "", "1 to 200 questions, not 0"},
		{"prose", "Dear coach,", "line 1 is no question"},
		{"another type", `{"prompt":3}`, `"prompt" can't be a number`},
		{"later version", strings.Replace(first, "set.v1", "set.v2", 1), "this program reads"},
		{"long name", strings.Replace(first, "Spring", strings.Repeat("Spring", 20), 1), "at most 60 characters"},
		{"hidden name", strings.Replace(first, "Spring", "Spr\u202eing", 1), "visible"},
		{"count", first + "\n" + strings.Join(strings.SplitAfter(rest, "\n")[:5], ""), "tells of 30 questions, and there are 5"},
		{"too few rounds", written(t, few), "tells of 20 questions, and there are 30"},
		{"unknown roster", strings.Replace(text, `"roster":"everything"`, `"roster":"moonlight"`, 1), "moonlight"},
		{"another roster", strings.Replace(text, `"roster":"everything"`, `"roster":"waterside"`, 1), "its roster is waterside"},
		{"moved key", written(t, moved), "question 5: "},
		{"twice", written(t, twice), "round 1 asks the same twice, the second time as its question 2"},
		{"long line", `{"prompt":"` + strings.Repeat("a", 70_000), "longer than 65536 bytes"},
		{"large", strings.Repeat("\n", 5<<20), "larger than 4 MiB"},
	} {
		_, err := setfile.Read(strings.NewReader(tc.text), "everything", setfile.Bank(built))
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: got %v, want something on %q", tc.name, err, tc.says)
		}
	}
}

// Whatever a file holds, reading it ends, and what it accepts is proved.
func FuzzRead(f *testing.F) {
	text := written(f, sample(f))
	lines := strings.SplitAfter(text, "\n")
	f.Add(text)
	f.Add(lines[1])
	f.Add(strings.Join(lines[1:4], ""))
	f.Add(`{"format":"fieldsign.set.v1","rounds":[{"count":-1},{"count":2}]}`)
	f.Add(written(f, withStations(f)))
	f.Add(`{"format":"fieldsign.set.v1","rounds":[{"count":2,"stations":[{"count":9},{"count":-7,"plate":{}}]}]}`)
	f.Add(`{"options":[{"text":"a","plate":{"species":"Lynx rufus","view":"skull side"}},{"text":"b"}]}`)
	for _, template := range []string{"label-it", "same-animal", "which-plate", questions.TypeTheName, "term-for"} {
		set, err := bank.Set(questions.Wish{Count: 1, Seed: 2, Templates: []string{template}})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(written(f, setfile.Set{Roster: "everything", Rounds: []setfile.Round{{Count: 1}}, Questions: set}))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := setfile.Read(strings.NewReader(text), "everything", func(string) (*questions.Bank, error) { return bank, nil })
		if err != nil {
			return
		}
		again, err := setfile.Read(strings.NewReader(written(t, s)), "everything", func(string) (*questions.Bank, error) { return bank, nil })
		if err != nil || len(again.Questions) != len(s.Questions) {
			t.Fatalf("what was read and written can't be read again: %v", err)
		}
		for i := range s.Rounds {
			for _, st := range s.Stations(i) {
				if err := bank.ProveStation(st); err != nil {
					t.Errorf("round %d has a station that is not proved: %v", i+1, err)
				}
			}
		}
	})
}
