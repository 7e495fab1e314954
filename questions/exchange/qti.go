package exchange

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// QTI writes a question set as a QTI 3.0 package: an item for each question,
// a test that holds them in their order, the plates as SVG. No file's name,
// title or identifier tells a key. The reason is shown once the answer is in.
func QTI(w io.Writer, c *catalogue.Catalogue, roster catalogue.Roster, set []questions.Question) error {
	if len(set) == 0 {
		return fmt.Errorf("there are no questions to write")
	}
	e := &qtiExport{c: c, names: questions.NewNames(c, roster), test: newTest("Fieldsign: " + roster.Name)}
	for i, q := range set {
		if err := e.add(i+1, q); err != nil {
			return fmt.Errorf("question %d (%s): %w", i+1, q.ID, err)
		}
	}
	test, err := document("test.xml", e.test)
	if err != nil {
		return err
	}
	manifest, err := document("imsmanifest.xml", e.manifest())
	if err != nil {
		return err
	}
	return archive(w, append([]file{manifest, test}, e.files...))
}

// qtiExport gathers the parts of a package.
type qtiExport struct {
	c         *catalogue.Catalogue
	names     *questions.Names
	test      testXML
	files     []file
	resources []resourceXML
}

func (e *qtiExport) add(n int, q questions.Question) error {
	if q.Key < 0 || q.Key >= len(q.Options) || len(q.Options) > 26 && !q.Typed {
		return fmt.Errorf("the key is %d of %d options", q.Key, len(q.Options))
	}
	id := fmt.Sprintf("q%03d", n)
	resource := resourceXML{ID: id, Type: "imsqti_item_xmlv3p0", Href: "items/" + id + ".xml", Files: []hrefXML{{"items/" + id + ".xml"}}}
	item := newItem(id, n, q)
	if q.Plate != nil {
		p, drawn := questions.Draw(e.c, *q.Plate)
		if !drawn {
			return fmt.Errorf("the catalogue can't draw the %s of %s", q.Plate.View, q.Plate.Species)
		}
		image := e.plate(id, p.In(q.Language), &resource)
		item.show(image)
	}
	if q.Typed {
		item.typed(q, e.accepted(q))
	} else {
		item.choice(q)
	}
	shown, drawn := questions.DrawOptions(e.c, q.Options)
	if !drawn {
		return errors.New("the catalogue can't draw an option")
	}
	for i, p := range shown {
		item.Body.Choice.Options[i].Image = e.plate(id+"-"+letter(i), p.In(q.Language), &resource)
	}
	f, err := document(resource.Href, item)
	if err != nil {
		return err
	}
	e.files = append(e.files, f)
	e.resources = append(e.resources, resource)
	section := &e.test.Part.Section
	section.Items = append(section.Items, itemRefXML{id, resource.Href})
	return nil
}

// plate adds a drawing to the package, and to what the item depends on.
func (e *qtiExport) plate(name string, p plate.Plate, item *resourceXML) *imageXML {
	r := resourceXML{ID: "plate-" + name, Type: "webcontent", Href: "plates/" + name + ".svg", Files: []hrefXML{{"plates/" + name + ".svg"}}}
	e.files = append(e.files, file{r.Href, []byte(p.SVG)})
	e.resources = append(e.resources, r)
	item.Dependencies = append(item.Dependencies, idrefXML{r.ID})
	return &imageXML{"../" + r.Href, p.Alt}
}

// accepted are the ways to write the key's name that mean no other animal of
// the roster, the one that the question uses first. A reader of QTI compares
// letter by letter, so the spellings without accents and hyphens stand too.
func (e *qtiExport) accepted(q questions.Question) []string {
	key := q.Options[q.Key]
	names := []string{key.Text}
	if s, known := e.c.Find(key.Species); known {
		names = append(names, slices.Concat([]string{s.Vernacular, s.Name, s.Spanish}, s.OtherNames, s.OtherSpanish)...)
	}
	var out []string
	seen := map[string]bool{}
	for _, name := range names {
		for _, spelling := range []string{name, bare(name), strings.ReplaceAll(bare(name), "-", " "), strings.ReplaceAll(bare(name), "'", "")} {
			species, ok := e.names.Match(spelling)
			if folded := strings.ToLower(spelling); ok && species == key.Species && !seen[folded] {
				seen[folded] = true
				out = append(out, spelling)
			}
		}
	}
	if len(out) == 0 {
		return []string{key.Text} // a species outside the roster that the names come from
	}
	return out
}

// bare is the name without accents.
func bare(name string) string {
	return norm.NFC.String(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(name)))
}
