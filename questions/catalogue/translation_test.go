package catalogue_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fieldsign/questions/catalogue"
)

// bilingual is the sound catalogue with its Spanish sheets.
func bilingual() fstest.MapFS {
	dir := sound()
	for name, text := range map[string]string{
		"animal_es.csv": "species,article\nLynx rufus,el\nCastor canadensis,el\n",
		"lore_es.csv":   "entry,name,meaning\ndiastema,diastema,un espacio amplio\n",
		"traits_es.csv": `trait,label,part,says,denies,some,most,least,adjective,values
guild,la dieta,,tiene una dieta {},no tiene una dieta {},,,,,carnivore:carnívora|herbivore:herbívora
dental_formula,la fórmula dental,el cráneo,tiene la fórmula dental {},,,,,,
upper_incisors,los incisivos superiores,el cráneo,tiene {} {incisivo superior|incisivos superiores},no tiene incisivos superiores,,,,,
skull_length,el largo del cráneo,el cráneo,mide {} mm de largo,,,es el más largo,es el más corto,,
front_toes,los dedos delanteros,la huella delantera,muestra {} {dedo|dedos},no muestra dedos,,,,,
claws_show,las marcas de garras,la huella,muestra garras,no muestra garras,,,,,
scat_contents,el contenido,la excreta,suele contener {},no suele contener {},,,,,hair:pelo|seeds:semillas
`,
	} {
		dir[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return dir
}

func TestWordsInSpanish(t *testing.T) {
	english, err := catalogue.Load(bilingual())
	if err != nil {
		t.Fatal(err)
	}
	c, err := english.In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := c.Find("Lynx rufus")
	said := func(trait string) string {
		tr, _ := c.Trait(trait)
		return tr.Say(s.Values[trait])
	}
	for _, x := range []struct{ got, want string }{
		{s.Article + " " + s.Vernacular, "el lince rojo"}, {said("guild"), "tiene una dieta carnívora"}, {said("upper_incisors"), "tiene 3 incisivos superiores"},
		{said("skull_length"), "mide de 108 a 140 mm de largo"}, {said("scat_contents_seeds"), "suele contener semillas"}, {c.Lore[0].Told, "un espacio amplio"},
	} {
		if x.got != x.want {
			t.Errorf("%q, want %q", x.got, x.want)
		}
	}
	if !slices.Contains(s.OtherNames, "bobcat") {
		t.Error("the English name is lost")
	}
	if tr, _ := english.Trait("guild"); tr.Say(s.Values["guild"]) != "is a carnivore" {
		t.Error("the English words have changed")
	}
	if back, err := c.In(catalogue.Spanish); err != nil || back != c {
		t.Error("in its own language a catalogue is itself")
	}
}

// A catalogue without sound Spanish words works in English, and says what is
// missing to whoever asks for Spanish.
func TestFaultsOfSpanishSheets(t *testing.T) {
	for _, x := range []struct{ name, sheet, old, with, want string }{
		{"no sheet", "traits_es.csv", "", "", "traits_es.csv: allowed: a readable file of that name"},
		{"no trait", "traits_es.csv", "claws_show,", "wings,", `traits_es.csv, row 7, column trait: read "wings": allowed: the traits of traits.csv, each once`},
		{"a trait twice", "traits_es.csv", "claws_show,", "front_toes,", `row 7, column trait: read "front_toes"`},
		{"a trait missing", "traits_es.csv", "claws_show,las marcas de garras,la huella,muestra garras,no muestra garras,,,,,\n", "", "column trait: allowed: a row for claws_show too"},
		{"too many cells", "traits_es.csv", "muestra garras,", "muestra garras,,", "10 cells, as in the header; there are 11"},
		{"no denial", "traits_es.csv", "no muestra garras", "", "column denies: allowed: words for “shows no claw marks”"},
		{"words that English lacks", "traits_es.csv", "no muestra garras,", "no muestra garras,tiene garras", "column some"},
		{"a value without words", "traits_es.csv", "|herbivore:herbívora", "", "column says: read \"tiene una dieta {}\": allowed: words for the value herbivore in {}"},
		{"a member without words", "traits_es.csv", "|seeds:semillas", "", "column values"},
		{"a part without article", "traits_es.csv", "la huella,", "huella,", "column part: read \"huella\": allowed: a noun with its article"},
		{"no article", "animal_es.csv", "Lynx rufus,el", "Lynx rufus,los", `animal_es.csv, row 2, column article: read "los": allowed: el or la`},
		{"a species missing", "animal_es.csv", "Castor canadensis,el\n", "", "a row for Castor canadensis too"},
		{"an unknown species", "animal_es.csv", "Castor canadensis", "Felis nullus", `read "Felis nullus"`},
		{"no Spanish name", "animal.csv", "castor americano", "", "animal.csv, column spanish: allowed: a Spanish name for Castor canadensis"},
		{"lore missing", "lore_es.csv", "diastema,diastema,un espacio amplio\n", "", "a row for diastema too"},
		{"lore without a meaning", "lore_es.csv", "un espacio amplio", "", "allowed: a name and a meaning"},
		{"unknown lore", "lore_es.csv", "diastema,diastema", "gap,diastema", `column entry: read "gap"`},
	} {
		t.Run(x.name, func(t *testing.T) {
			dir := bilingual()
			if x.old == "" {
				delete(dir, x.sheet)
			} else if text := string(dir[x.sheet].Data); strings.Contains(text, x.old) {
				dir[x.sheet].Data = []byte(strings.Replace(text, x.old, x.with, 1))
			} else {
				t.Fatalf("%s has no %q", x.sheet, x.old)
			}
			c, err := catalogue.Load(dir)
			if err != nil {
				t.Fatalf("it is refused in English too: %v", err)
			}
			if _, err := c.In(catalogue.Spanish); err == nil || strings.Contains(err.Error(), "\n") {
				t.Errorf("in Spanish: %v", err)
			}
			all := ""
			for _, f := range c.Faults(catalogue.Spanish) {
				all += f.Error() + "\n"
			}
			if !strings.Contains(all, x.want) {
				t.Errorf("the faults are:\n%swant in them:\n%s", all, x.want)
			}
		})
	}
}

func TestParseLanguage(t *testing.T) {
	for tag, want := range map[string]catalogue.Language{"": catalogue.English, "en": catalogue.English, "es": catalogue.Spanish} {
		if got, err := catalogue.ParseLanguage(tag); err != nil || got != want {
			t.Errorf("%q is %q, %v", tag, got, err)
		}
	}
	if _, err := catalogue.ParseLanguage("fr"); err == nil || !strings.Contains(err.Error(), "en, es") {
		t.Errorf("French: %v", err)
	}
}
