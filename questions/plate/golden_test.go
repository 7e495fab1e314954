package plate

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// golden are drawings kept in testdata, to see at a glance what a change of
// this package does. Each is kept with the values it was drawn from, so that
// it does not change with the catalogue.
var golden = map[string][]string{
	"front": {"Canis latrans", "Felis catus", "Procyon lotor", "Odocoileus virginianus", "Branta canadensis", "Equus caballus", "Ursus arctos", "Bubo virginianus"},
	"hind":  {"Castor canadensis", "Didelphis virginiana", "Lepus americanus", "Ondatra zibethicus", "Lontra canadensis"},
	"trail": {"Canis latrans", "Procyon lotor"},
	"scat":  {"Lynx rufus", "Canis latrans", "Odocoileus virginianus", "Branta canadensis", "Meleagris gallopavo", "Castor canadensis", "Bubo virginianus"},
	"skull": {"Canis lupus", "Castor canadensis", "Odocoileus virginianus", "Lepus americanus"},
	"side":  {"Lynx rufus"},
	"label": {"Canis lupus", "Castor canadensis", "Odocoileus virginianus"},
	"pair":  {"Procyon lotor"},
}

// more are the golden drawings that are not of a species alone.
var more = []view{
	{"label", func(s catalogue.Species) (Plate, bool) {
		all := Structures(s)
		return Labelled(s, all[len(all)/2].Term)
	}},
	{"pair", func(s catalogue.Species) (Plate, bool) { return Pair(s, "left front", s, "hind") }},
}

var traitsOf = map[string][]string{"label": append(skullTraits[:len(skullTraits):len(skullTraits)], "class"), "pair": trackTraits, "side": skullTraits, "front": append(trackTraits[:len(trackTraits):len(trackTraits)], "toes_forward", "hind_toe"), "hind": trackTraits, "trail": trailTraits, "scat": scatTraits, "skull": skullTraits}

func TestGolden(t *testing.T) {
	for _, v := range append(views, more...) {
		for i, name := range golden[v.name] {
			base := filepath.Join("testdata", fmt.Sprintf("%s-%d", v.name, i+1))
			if *update {
				keepValues(t, base+".json", name, traitsOf[v.name])
			}
			s := keptValues(t, base+".json")
			s.Name = name
			p, ok := v.draw(s)
			if !ok {
				t.Errorf("%s: not drawn", base)
				continue
			}
			if *update {
				keep(t, base+".svg", p.SVG+"\n")
			}
			if want := kept(t, base+".svg"); want != p.SVG+"\n" {
				t.Errorf("%s.svg is drawn otherwise now; look at both, then run the tests with -update", base)
			}
		}
	}
}

func keepValues(t *testing.T, file, name string, traits []string) {
	s, ok := catalogue.Builtin().Find(name)
	if !ok {
		t.Fatalf("%s is not in the catalogue", name)
	}
	values := map[string]catalogue.Value{}
	for _, id := range traits {
		values[id] = s.Values[id]
	}
	data, err := json.MarshalIndent(values, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	keep(t, file, string(data)+"\n")
}

func keptValues(t *testing.T, file string) catalogue.Species {
	s := catalogue.Species{Values: map[string]catalogue.Value{}, Subjects: catalogue.Subjects}
	if err := json.NewDecoder(strings.NewReader(kept(t, file))).Decode(&s.Values); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return s
}

func keep(t *testing.T, file, text string) {
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func kept(t *testing.T, file string) string {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
