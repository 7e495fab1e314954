package catalogue_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"fieldsign/questions/catalogue"
)

const evidenceHead = "of,trait,value,unit,source,where,printed,measure,kind,not_taken,note\n"

// with is the sound catalogue with rows of evidence for a subject.
func with(subject, rows string) fstest.MapFS {
	dir := sound()
	dir["sources.csv"].Data = append(dir["sources.csv"].Data, "relay,secondary,A relay\n"...)
	dir["animal.csv"].Data = []byte("species,vernacular,other_names,spanish,source,guild\nLynx rufus,bobcat,,,recall,carnivore\nLynx lynx,lynx,,,recall,carnivore\nCastor canadensis,beaver,,,recall,herbivore\n")
	dir["evidence_"+subject+".csv"] = &fstest.MapFile{Data: []byte(evidenceHead + rows)}
	return dir
}

// What a value rests on follows from what was read of it.
func TestBasisOfValues(t *testing.T) {
	for _, c := range []struct {
		name, subject, rows string
		trait               string // of the bobcat
		want                catalogue.Basis
		source              string
	}{
		{"nothing read", "skull", "", "skull_length", catalogue.Memory, "recall"},
		{"said of the species", "animal", "Lynx rufus,guild,carnivore,,key,p. 1,,,,,", "guild", catalogue.Published, "key"},
		{"relayed", "animal", "Lynx rufus,guild,carnivore,,relay,p. 1,,,,,", "guild", catalogue.Secondary, "relay"},
		{"said of the genus", "animal", "Lynx,guild,carnivore,,key,p. 1,,,,,", "guild", catalogue.Group, "key"},
		{"silence on a species", "animal", "Lynx rufus,guild,carnivore,,key,p. 1,,,absence,,", "guild", catalogue.Absence, "key"},
		{"the best of several, all named", "animal", "Lynx,guild,carnivore,,key,p. 1,,,,,\nLynx rufus,guild,carnivore,,relay,p. 2,,,,,", "guild", catalogue.Secondary, "relay;key"},
		{"not taken", "animal", "Lynx rufus,guild,herbivore,,key,p. 1,,,,a slip,", "guild", catalogue.Memory, "recall"},
		{"a group yields to the species", "animal", "Lynx rufus,guild,carnivore,,relay,p. 2,,,,,\nLynx lynx,guild,carnivore,,relay,p. 2,,,,,\nLynx,guild,herbivore,,key,p. 1,usually,,,,", "guild", catalogue.Secondary, "relay"},
		{"a range reached, converted", "skull", "Lynx rufus,skull_length,4.3..5.4,in,key,p. 1,,greatest length,,,", "skull_length", catalogue.Published, "key"},
		{"a range reached by two", "skull", "Lynx rufus,skull_length,110,mm,key,p. 1,,,,,\nLynx rufus,skull_length,13.2,cm,relay,p. 1,,,,,", "skull_length", catalogue.Secondary, "key;relay"},
		{"a range of which one end is recalled", "skull", "Lynx rufus,skull_length,108..115,mm,key,p. 1,,,,,", "skull_length", catalogue.Memory, "recall"},
		{"a count of teeth by the formula's mark", "skull", "", "upper_incisors", catalogue.Published, "key"},
		{"every member of a set", "scat", "Lynx rufus,scat_contents,hair,,relay,p. 1,,,,,", "scat_contents", catalogue.Secondary, "relay"},
		{"a member that others lack", "scat", "Lynx rufus,scat_contents,hair,,relay,p. 1,,,,,", "scat_contents_hair", catalogue.Secondary, "relay"},
		{"a set of which each member was read", "scat", "Lynx rufus,scat_contents_hair,yes,,key,p. 1,,,,,\nLynx rufus,scat_contents_seeds,no,,key,p. 1,,,,,", "scat_contents", catalogue.Published, "key"},
		{"what is denied of a group", "scat", "Lynx,scat_contents_seeds,no,,key,p. 1,,,absence,,", "scat_contents_seeds", catalogue.Absence, "key"},
		{"silence on a group of which one has it", "scat", "Lynx,scat_contents_hair,no,,key,p. 1,,,absence,,", "scat_contents_hair", catalogue.Memory, "recall"},
		{"a member that the source is silent on", "scat", "Lynx rufus,scat_contents,hair,,key,p. 1,,,,,", "scat_contents_seeds", catalogue.Absence, "key"},
	} {
		loaded, err := catalogue.Load(with(c.subject, c.rows+"\n"))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		s, _ := loaded.Find("Lynx rufus")
		if v := s.Values[c.trait]; v.Basis != c.want || v.Source != c.source {
			t.Errorf("%s: %s rests on %s (%s), want %s (%s)", c.name, c.trait, v.Basis, v.Source, c.want, c.source)
		}
	}
}

// Kinds of tooth make a formula, if all eight were read.
func TestFormulaFromParts(t *testing.T) {
	dir := with("skull", "")
	traits := []string{"upper_incisors", "lower_incisors", "upper_canines", "lower_canines", "upper_premolars", "lower_premolars", "upper_molars", "lower_molars"}
	rows := ""
	for i, id := range traits {
		if i > 0 {
			dir["traits.csv"].Data = append(dir["traits.csv"].Data, id+",skull,"+id+",count,per side,,skull,has {},has none,,,,,1,4,computed from dental_formula\n"...)
		}
		rows += "Castor," + id + "," + []string{"1", "1", "0", "0", "1", "1", "3", "3"}[i] + ",,key,p. 1,,,,,\n"
	}
	for _, given := range []struct {
		rows string
		want catalogue.Basis
	}{{rows, catalogue.Group}, {rows[:strings.LastIndex(rows[:len(rows)-1], "\n")+1], catalogue.Memory}} {
		dir["evidence_skull.csv"].Data = []byte(evidenceHead + given.rows)
		c, err := catalogue.Load(dir)
		if err != nil {
			t.Fatal(err)
		}
		if s, _ := c.Find("Castor canadensis"); s.Values["dental_formula"].Basis != given.want {
			t.Errorf("the formula rests on %s, want %s", s.Values["dental_formula"].Basis, given.want)
		}
	}
}

// Evidence that does not hold is refused, so that relabelling can't pass.
func TestBrokenEvidence(t *testing.T) {
	for _, c := range []struct{ name, subject, row, want string }{
		{"contradicts a state", "animal", "Lynx rufus,guild,herbivore,,key,p. 1,,,,,", "column value: read \"herbivore\": allowed: what agrees with the catalogue, which has carnivore for the feeding guild of Lynx rufus"},
		{"contradicts by a group", "animal", "Lynx,guild,herbivore,,key,p. 1,,,,,", "which has carnivore"},
		{"outside the range", "skull", "Lynx rufus,skull_length,90..120,mm,key,p. 1,,,,,", "which has 108..140"},
		{"a member that the set lacks", "scat", "Lynx rufus,scat_contents,hair;seeds,,key,p. 1,,,,,", "which has hair"},
		{"not taken, and yet agrees", "animal", "Lynx rufus,guild,carnivore,,key,p. 1,,,,a misprint,", "column not_taken: read \"a misprint\": allowed: nothing, since the catalogue has carnivore"},
		{"of nobody", "animal", "Canis,guild,carnivore,,key,p. 1,,,,,", "a species of animal.csv, or the genus, family, order or class of one"},
		{"of a trait elsewhere", "animal", "Lynx rufus,claws_show,no,,key,p. 1,,,,,", "a trait of the sheet animal"},
		{"from memory", "animal", "Lynx rufus,guild,carnivore,,recall,p. 1,,,,,", "a source of sources.csv that was read"},
		{"nowhere", "animal", "Lynx rufus,guild,carnivore,,key,,,,,,", "where in the source it stands"},
		{"no unit", "skull", "Lynx rufus,skull_length,110,,key,p. 1,,,,,", "mm, cm, m, in or ft"},
		{"a better kind than its own", "animal", "Lynx,guild,carnivore,,key,p. 1,,,published,,", "absence or group, or nothing"},
		{"no such word", "animal", "Lynx rufus,guild,meat-eater,,key,p. 1,,,,,", "carnivore, herbivore"},
	} {
		_, err := catalogue.Load(with(c.subject, c.row+"\n"))
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "evidence_"+c.subject+".csv, row 2") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// The built-in sheets name sources in their evidence alone: a mark beside a
// value would be a source that nobody can look up.
func TestBuiltinMarks(t *testing.T) {
	c := catalogue.Builtin()
	for _, s := range c.Species {
		read := map[string]bool{}
		for _, trait := range c.Traits {
			read[trait.ID] = read[trait.ID] || len(c.Evidence(s.Name, trait.ID)) > 0
			read[trait.From] = read[trait.From] || read[trait.ID]
		}
		for _, trait := range c.Traits {
			if v := s.Values[trait.ID]; v.Basis.Read() && trait.From == "" && trait.Kind != catalogue.Formula && !read[trait.ID] {
				t.Errorf("%s of %s has the source %s, and no evidence", trait.ID, s.Name, v.Source)
			}
		}
	}
}

// A value that varies rests on who read what is usual of it; a reading may say
// no more than the value leaves room for.
func TestEvidenceOfWhatVaries(t *testing.T) {
	cell := "I 1/1 C 0/0 P 1(2)/1 M 3/3"
	varying := func(rows string) fstest.MapFS {
		dir := with("skull", rows)
		dir["skull.csv"].Data = []byte("species,source,dental_formula,skull_length\nCastor canadensis,recall," + cell + ",110..150\n")
		return dir
	}
	for _, c := range []struct {
		name, read string
		want       catalogue.Basis
	}{
		{"as it varies", cell, catalogue.Published},
		{"the usual alone", "I 1/1 C 0/0 P 1/1 M 3/3", catalogue.Published},
		{"only what it may be", "I 1/1 C 0/0 P 2/1 M 3/3", catalogue.Memory},
		{"neither usual", "I 1/1 C 0/0 P 1-2/1 M 3/3", catalogue.Memory},
	} {
		loaded, err := catalogue.Load(varying("Castor canadensis,dental_formula," + c.read + ",,key,p. 1,,,,,\n"))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		s, _ := loaded.Find("Castor canadensis")
		if v := s.Values["dental_formula"]; v.Basis != c.want || v.String() != cell {
			t.Errorf("%s: %s rests on %s, want %s", c.name, v, v.Basis, c.want)
		}
	}
	_, err := catalogue.Load(varying("Castor canadensis,dental_formula,I 1/1 C 0/0 P 0-2/1 M 3/3,,key,p. 1,,,,,\n"))
	if err == nil || !strings.Contains(err.Error(), "what agrees with the catalogue") {
		t.Errorf("a reading that goes beyond the bounds: %v", err)
	}
}
