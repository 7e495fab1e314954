package catalogue_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fieldsign/questions/catalogue"
)

// cautioned is the bilingual catalogue with a sheet of cautions.
func cautioned(rows, spanish string) fstest.MapFS {
	dir := bilingual()
	dir["caution.csv"] = &fstest.MapFile{Data: []byte("caution,of,part,says,source,where\n" + rows)}
	dir["caution_es.csv"] = &fstest.MapFile{Data: []byte("caution,says\n" + spanish)}
	return dir
}

func TestCautionsOfSpeciesAndGroups(t *testing.T) {
	english, err := catalogue.Load(cautioned("ask,Lynx;Castor,any,Ask first.,key,p. 1\nbite,Lynx rufus,live animal,It bites.,key,p. 2\n", "bite,Muerde.\nask,Pregunta antes.\n"))
	if err != nil {
		t.Fatal(err)
	}
	spanish, err := english.In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err)
	}
	says := func(c *catalogue.Catalogue, name string) (out []string) {
		s, _ := c.Find(name)
		for _, e := range c.CautionsOf(s) {
			out = append(out, e.Says)
		}
		return out
	}
	for _, x := range []struct{ got, want []string }{
		{says(english, "Lynx rufus"), []string{"It bites.", "Ask first."}}, {says(english, "Castor canadensis"), []string{"Ask first."}},
		{says(spanish, "Lynx rufus"), []string{"Muerde.", "Pregunta antes."}},
	} {
		if !slices.Equal(x.got, x.want) {
			t.Errorf("cautions %q, want %q", x.got, x.want)
		}
	}
}

func TestFaultsOfCautions(t *testing.T) {
	for _, tc := range []struct{ rows, want string }{
		{",Lynx,any,Ask.,key,p. 1", "column caution"},
		{"a,Lynx,any,Ask.,key,p. 1\na,Lynx,any,Ask.,key,p. 1", "row 3, column caution"},
		{"a,Gryphon,any,Ask.,key,p. 1", `read "Gryphon"`},
		{"a,Lynx,teeth,Ask.,key,p. 1", "dead animal"},
		{"a,Lynx,any,,key,p. 1", "column says"},
		{"a,Lynx,any,Ask.,recall,p. 1", "not recalled"},
		{"a,Lynx,any,Ask.,key,", "column where"},
	} {
		if _, err := catalogue.Load(cautioned(tc.rows+"\n", "a,Pregunta.\n")); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%q: %v, want %q in it", tc.rows, err, tc.want)
		}
	}
	c, err := catalogue.Load(cautioned("a,Lynx,any,Ask.,key,p. 1\n", "b,Nada.\n"))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.Faults(catalogue.Spanish)); n != 2 {
		t.Errorf("%d faults of the Spanish cautions, want the unknown and the missing: %v", n, c.Faults(catalogue.Spanish))
	}
}

// What the trade calls dangerous to pick up has its caution.
func TestBuiltinCautions(t *testing.T) {
	c := catalogue.Builtin()
	for name, want := range map[string][]string{
		"Procyon lotor": {"raccoon-eggs", "rabies", "agency"}, "Odocoileus virginianus": {"wasting"}, "Peromyscus maniculatus": {"hantavirus", "tularemia"},
		"Vulpes vulpes": {"tapeworm", "rabies"}, "Sylvilagus floridanus": {"tularemia-handling"}, "Myotis lucifugus": {"bats", "rabies"}, "Branta canadensis": {"bird-flu", "bird-parts", "hands"},
	} {
		s, _ := c.Find(name)
		var got []string
		for _, e := range c.CautionsOf(s) {
			got = append(got, e.ID)
		}
		for _, id := range want {
			if !slices.Contains(got, id) {
				t.Errorf("%s has the cautions %v, and not %s", name, got, id)
			}
		}
	}
	for _, s := range c.Species {
		if len(c.CautionsOf(s)) < 2 {
			t.Errorf("%s lacks the cautions that go for any animal", s.Name)
		}
	}
}
