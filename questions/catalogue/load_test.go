package catalogue_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fieldsign/questions/catalogue"
)

// sound is a small catalogue without a fault, with every kind of trait.
func sound() fstest.MapFS {
	sheets := map[string]string{
		"traits.csv": `trait,subject,label,kind,unit,allowed,part,says,denies,some,most,least,adjective,weight,ease,note
guild,animal,feeding guild,state,,carnivore|herbivore,,is {a},is not {a},,,,,2,3,
dental_formula,skull,dental formula,formula,,,skull,has the dental formula {},,,,,,2,2,
upper_incisors,skull,upper incisors,count,per side,,skull,has {} upper incisor{s},has no upper incisors,,,,,1,4,computed from dental_formula
skull_length,skull,skull length,range,mm,,skull,is {} mm long,,,is the longest,is the shortest,,2,4,
front_toes,track,toes in front,count,,,front print,shows {} toe{s},shows no toes,,,,,2,5,
claws_show,track,claw marks,yes/no,,,track,shows claw marks,shows no claw marks,,,,,2,4,
scat_contents,scat,contents,set,,hair|seeds,scat,usually holds {},does not usually hold {},,,,,2,4,
`,
		"lore.csv":    "kind,subject,group,name,meaning,source\nterm,skull,gap,diastema,a wide gap,key\n",
		"sources.csv": "source,kind,citation\nkey,published,A key to skulls\nrecall,memory,Recalled\n",
		"animal.csv":  "species,vernacular,other_names,spanish,source,guild\nLynx rufus,bobcat,bay lynx;wildcat,lince rojo,recall,carnivore\nCastor canadensis,American beaver,,castor americano,recall,herbivore\n",
		"skull.csv":   "species,source,dental_formula,skull_length\nLynx rufus,recall,I 3/3 C 1/1 P 2/2 M 1/1 @key,108..140\nCastor canadensis,recall,I 1/1 C 0/0 P 1/1 M 3/3,110..150\n",
		"track.csv":   "species,source,front_toes,claws_show\nLynx rufus,recall,4,no\n",
		"scat.csv":    "species,source,scat_contents\nLynx rufus,recall,hair\n",
	}
	dir := fstest.MapFS{}
	for name, text := range sheets {
		dir[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return dir
}

// swapped is the sound catalogue with one text of one sheet exchanged.
func swapped(t *testing.T, sheet, old, with string) fstest.MapFS {
	t.Helper()
	dir := sound()
	text := string(dir[sheet].Data)
	if !strings.Contains(text, old) {
		t.Fatalf("%s has no %q", sheet, old)
	}
	dir[sheet].Data = []byte(strings.Replace(text, old, with, 1))
	return dir
}

func TestSoundSheets(t *testing.T) {
	bom, crlf := sound(), sound()
	bom["skull.csv"].Data = append([]byte("\ufeff"), bom["skull.csv"].Data...)
	for _, f := range crlf {
		f.Data = bytes.ReplaceAll(f.Data, []byte("\n"), []byte("\r\n"))
	}
	for name, dir := range map[string]fs.FS{"as it is": sound(), "with a byte order mark": bom, "with CRLF": crlf,
		"a single number as a range": swapped(t, "skull.csv", "108..140", "108"),
		"columns in another order":   swapped(t, "track.csv", "species,source,front_toes,claws_show\nLynx rufus,recall,4,no", "claws_show,front_toes,source,species\nno,4,recall,Lynx rufus"),
		"more Spanish names":         swapped(t, "animal.csv", "lince rojo", "lince rojo; gato montés"),
		"a quoted cell":              swapped(t, "animal.csv", "bobcat", `"bobcat"`),
	} {
		c, err := catalogue.Load(dir)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		s, _ := c.Find("Lynx rufus")
		if s.Spanish != "lince rojo" {
			t.Errorf("%s: the bobcat is shown as %q, want lince rojo", name, s.Spanish)
		}
		if v := s.Values["upper_incisors"]; v.String() != "3" || v.Source != "key" {
			t.Errorf("%s: the bobcat's upper incisors are %s by source %q, want 3 by key", name, v, v.Source)
		}
		if v := s.Values["scat_contents_seeds"]; v.String() != "no" {
			t.Errorf("%s: seeds in the bobcat's scat: %s, want no", name, v)
		}
	}
}

// Each fault says in which file, row and column it is, what was read and what
// is allowed.
func TestBrokenSheets(t *testing.T) {
	for _, c := range []struct{ name, sheet, old, with, want string }{
		{"missing column", "track.csv", "front_toes,claws_show\nLynx rufus,recall,4,no", "claws_show\nLynx rufus,recall,no", "track.csv, row 1, column front_toes: allowed: this column must be there"},
		{"column of no trait", "track.csv", "claws_show\nLynx rufus,recall,4,no", "claws_show,wings\nLynx rufus,recall,4,no,2", `track.csv, row 1, column wings: read "wings": allowed: one of species, source, front_toes, claws_show`},
		{"column twice", "track.csv", "claws_show\n", "front_toes\n", `track.csv, row 1, column front_toes: read "front_toes": allowed: each column once`},
		{"duplicate species", "animal.csv", "Castor canadensis", "Lynx rufus", `animal.csv, row 3, column species: read "Lynx rufus": allowed: each species once in a sheet`},
		{"species of no animal", "scat.csv", "Lynx rufus", "Lynx lynx", `scat.csv, row 2, column species: read "Lynx lynx": allowed: a species that animal.csv names`},
		{"not a scientific name", "animal.csv", "Lynx rufus", "bobcat", `animal.csv, row 2, column species: read "bobcat": allowed: a scientific name, such as Lynx rufus`},
		{"no vernacular", "animal.csv", "bobcat", "", "animal.csv, row 2, column vernacular: allowed: the name that a question uses"},
		{"one Spanish name for two species", "animal.csv", "castor americano", "lince rojo;castor", `animal.csv, row 3, column spanish: read "lince rojo;castor": allowed: a first name that no other species has, or two options would read alike`},
		{"bad state", "animal.csv", "carnivore", "carnivorous", `animal.csv, row 2, column guild: read "carnivorous": allowed: carnivore, herbivore; of several the usual first, the others led by ? and separated by a semicolon; or unknown, variable, n/a`},
		{"bad yes/no", "track.csv", "4,no", "4,none", `track.csv, row 2, column claws_show: read "none": allowed: yes or no;`},
		{"bad count", "track.csv", "4,no", "4.5,no", `track.csv, row 2, column front_toes: read "4.5": allowed: a whole number from 0 to 9999,`},
		{"negative count", "track.csv", "4,no", "-4,no", `track.csv, row 2, column front_toes: read "-4": allowed: a whole number`},
		{"bad member", "scat.csv", "hair", "hair;teeth", `scat.csv, row 2, column scat_contents: read "hair;teeth": allowed: members of: hair, seeds; separated by ;`},
		{"range backwards", "skull.csv", "108..140", "8..5", `skull.csv, row 2, column skull_length: read "8..5": allowed: a range in mm, smaller number first, as in 5.7..8.3;`},
		{"range with a dash", "skull.csv", "108..140", "108-140", `skull.csv, row 2, column skull_length: read "108-140": allowed: a range in mm`},
		{"range of no number", "skull.csv", "108..140", "NaN..Inf", `skull.csv, row 2, column skull_length: read "NaN..Inf": allowed: a range in mm`},
		{"bad formula", "skull.csv", "I 1/1 C 0/0 P 1/1 M 3/3", "1013/1013", `skull.csv, row 3, column dental_formula: read "1013/1013": allowed: eight numbers as in I 3/3 C 1/1 P 4/4 M 2/3;`},
		{"unknown source of a cell", "skull.csv", "@key", "@hearsay", `skull.csv, row 2, column dental_formula: read "hearsay": allowed: a source id of sources.csv`},
		{"unknown source of a row", "track.csv", "rufus,recall", "rufus,hearsay", `track.csv, row 2, column front_toes: read "hearsay": allowed: a source id of sources.csv`},
		{"too few cells", "scat.csv", "recall,hair", "recall", "scat.csv, row 2"},
		{"too many cells", "scat.csv", "recall,hair", "recall,hair,seeds", "scat.csv, row 2"},
		{"not UTF-8", "animal.csv", "bobcat", "bob\xe9cat", "animal.csv: allowed: UTF-8 text: save the sheet as CSV UTF-8"},
		{"stray quote", "animal.csv", "bobcat", `bob"cat`, "animal.csv, row 2"},
		{"quote never closed", "scat.csv", "hair", `"hair`, "scat.csv, row 2"},
		{"huge cell", "animal.csv", "bobcat", strings.Repeat("bobcat ", 100), "animal.csv, row 2, column vernacular"},
		{"bad kind", "traits.csv", "yes/no", "perhaps", `traits.csv, row 7, column kind: read "perhaps": allowed: state, set, yes/no, count, range or formula`},
		{"bad weight", "traits.csv", "2,3,", "NaN,3,", `traits.csv, row 2, column weight: read "NaN": allowed: a number from 0 to 100`},
		{"bad ease", "traits.csv", "2,3,", "2,6,", `traits.csv, row 2, column ease: read "6": allowed: a whole number from 1`},
		{"bad trait id", "traits.csv", "guild", "Guild", `traits.csv, row 2, column trait: read "Guild": allowed: lower-case letters, digits and _`},
		{"unknown subject", "traits.csv", "claws_show,track", "claws_show,feather", `traits.csv, row 7, column subject: read "feather": allowed: animal, skull, track, scat`},
		{"lore without a meaning", "lore.csv", "a wide gap", "", `lore.csv, row 2, column meaning: allowed: some text`},
		{"lore of no subject", "lore.csv", "term,skull", "term,bark", `lore.csv, row 2, column subject: read "bark": allowed: animal, skull, track, scat`},
		{"bad kind of source", "sources.csv", "published", "gossip", `sources.csv, row 2, column kind: read "gossip": allowed: published, secondary, memory, common practice`},
		{"source twice", "sources.csv", "recall,memory", "key,memory", `sources.csv, row 3, column source: read "key": allowed: an id, each once`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := catalogue.Load(swapped(t, c.sheet, c.old, c.with))
			if err == nil {
				t.Fatal("the sheet is taken")
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("the fault reads:\n%v\nwant in it:\n%s", err, c.want)
			}
			if longest := slices.MaxFunc(strings.Split(err.Error(), "\n"), func(a, b string) int { return len(a) - len(b) }); len(longest) > 400 {
				t.Errorf("a line of the message has %d bytes: %.100s…", len(longest), longest)
			}
		})
	}
}

func TestMissingAndEmptyFiles(t *testing.T) {
	for file := range sound() {
		missing, empty := sound(), sound()
		delete(missing, file)
		empty[file].Data = nil
		for what, dir := range map[string]fs.FS{"missing": missing, "empty": empty} {
			if _, err := catalogue.Load(dir); err == nil || !strings.Contains(err.Error(), file) {
				t.Errorf("%s %s: %v", what, file, err)
			}
		}
	}
	if _, err := catalogue.Load(os.DirFS(t.TempDir())); err == nil || !strings.Contains(err.Error(), "7 faults") {
		t.Errorf("an empty folder: %v", err)
	}
}

// All faults of all sheets are told at once, each as a Fault.
func TestAllFaultsAtOnce(t *testing.T) {
	dir := sound()
	for sheet, swap := range map[string][2]string{"animal.csv": {"carnivore", "eats meat"}, "skull.csv": {"108..140", "8..5"}, "track.csv": {"4,no", "four,never"}} {
		dir[sheet].Data = []byte(strings.Replace(string(dir[sheet].Data), swap[0], swap[1], 1))
	}
	_, err := catalogue.Load(dir)
	if err == nil {
		t.Fatal("the sheets are taken")
	}
	for _, want := range []string{"4 faults", "animal.csv, row 2, column guild", "skull.csv, row 2, column skull_length", "track.csv, row 2, column front_toes", "track.csv, row 2, column claws_show"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in:\n%v", want, err)
		}
	}
	var f catalogue.Fault
	if !errors.As(err, &f) || f.File != "animal.csv" || f.Row != 2 || f.Column != "guild" || f.Read != "eats meat" || f.Allowed == "" {
		t.Errorf("the first fault is %+v", f)
	}
}

// A sheet with thousands of faults gets a message of bounded length.
func TestManyFaults(t *testing.T) {
	dir := sound()
	dir["scat.csv"].Data = append(dir["scat.csv"].Data, bytes.Repeat([]byte("Felis nullus,recall,hair\n"), 5000)...)
	_, err := catalogue.Load(dir)
	if err == nil || strings.Count(err.Error(), "\n") > 300 || !strings.Contains(err.Error(), "faults more") {
		t.Errorf("the message is %.200v", err)
	}
}

// FuzzLoad puts any bytes in the place of any one sheet: a catalogue is either
// refused in words or fit to be used and printed.
func FuzzLoad(f *testing.F) {
	sheets := []string{"traits.csv", "sources.csv", "animal.csv", "skull.csv", "track.csv", "scat.csv", "lore.csv"}
	for i, name := range sheets {
		f.Add(uint8(i), sound()[name].Data)
	}
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		dir := sound()
		dir[sheets[int(which)%len(sheets)]].Data = data
		c, err := catalogue.Load(dir)
		if err != nil {
			if len(err.Error()) > 1<<20 {
				t.Fatalf("a message of %d bytes", len(err.Error()))
			}
			return
		}
		checkUsable(t, c)
	})
}

func checkUsable(t *testing.T, c *catalogue.Catalogue) {
	var out bytes.Buffer
	if err := c.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	if _, err := csv.NewReader(&out).ReadAll(); err != nil {
		t.Fatalf("the export can't be read back: %v", err)
	}
	for _, s := range c.Species {
		if found, ok := c.Find(s.Name); !ok || found.Name != s.Name || s.Vernacular == "" {
			t.Fatalf("species %q can't be found or has no name", s.Name)
		}
		for id, v := range s.Values {
			tr, ok := c.Trait(id)
			if ok && v.Known() && (tr.Kind == catalogue.Range || tr.Kind == catalogue.Count) && !(v.Lo <= v.Hi) {
				t.Fatalf("%s of %s is %v to %v", id, s.Name, v.Lo, v.Hi)
			}
		}
	}
}
