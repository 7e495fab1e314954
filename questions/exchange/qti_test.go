package exchange_test

import (
	"encoding/xml"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/exchange"
)

// node is an element as a reader finds it that knows nothing of the writer.
type node struct {
	XMLName  xml.Name
	Attrs    []xml.Attr `xml:",any,attr"`
	Text     string     `xml:",chardata"`
	Children []node     `xml:",any"`
}

func (n node) attr(name string) string {
	i := slices.IndexFunc(n.Attrs, func(a xml.Attr) bool { return a.Name.Local == name })
	if i < 0 {
		return ""
	}
	return n.Attrs[i].Value
}

// all are the elements of a name below n, in their order.
func (n node) all(name string) []node {
	var out []node
	for _, child := range n.Children {
		if child.XMLName.Local == name {
			out = append(out, child)
		}
		out = append(out, child.all(name)...)
	}
	return out
}

func (n node) first(t *testing.T, name string) node {
	t.Helper()
	found := n.all(name)
	if len(found) == 0 {
		t.Fatalf("%s holds no %s", n.XMLName.Local, name)
	}
	return found[0]
}

func parsed(t *testing.T, text string) node {
	t.Helper()
	var n node
	if err := xml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatal(err)
	}
	return n
}

// models are the content models of QTI 3.0 for the elements in use: attributes
// that must be there, and the children's order. They are taken from the
// information model, since the schema itself could not be had.
var models = map[string]struct{ attrs, children string }{
	"qti-assessment-item":        {"identifier title time-dependent", "(qti-response-declaration )+(qti-outcome-declaration )*qti-item-body qti-response-processing (qti-modal-feedback )*"},
	"qti-response-declaration":   {"identifier cardinality base-type", "(qti-correct-response )?(qti-mapping )?"},
	"qti-outcome-declaration":    {"identifier cardinality base-type", "(qti-default-value )?"},
	"qti-correct-response":       {"", "(qti-value )+"},
	"qti-default-value":          {"", "(qti-value )+"},
	"qti-value":                  {"", ""},
	"qti-mapping":                {"default-value", "(qti-map-entry )+"},
	"qti-map-entry":              {"map-key mapped-value", ""},
	"qti-item-body":              {"", "((p |qti-choice-interaction ))+"},
	"p":                          {"", "((img |qti-text-entry-interaction ))*"},
	"img":                        {"src alt", ""},
	"qti-text-entry-interaction": {"response-identifier", ""},
	"qti-choice-interaction":     {"response-identifier max-choices", "(qti-prompt )?(qti-simple-choice )+"},
	"qti-prompt":                 {"", ""},
	"qti-simple-choice":          {"identifier", "(img )?"},
	"qti-response-processing":    {"", "((qti-response-condition |qti-set-outcome-value ))*"},
	"qti-response-condition":     {"", "qti-response-if (qti-response-else-if )*(qti-response-else )?"},
	"qti-response-if":            {"", "qti-match (qti-set-outcome-value )*"},
	"qti-match":                  {"", "qti-variable qti-correct "},
	"qti-variable":               {"identifier", ""},
	"qti-correct":                {"identifier", ""},
	"qti-set-outcome-value":      {"identifier", "(qti-base-value |qti-map-response |qti-sum )"},
	"qti-base-value":             {"base-type", ""},
	"qti-map-response":           {"identifier", ""},
	"qti-modal-feedback":         {"outcome-identifier show-hide identifier", "qti-content-body "},
	"qti-content-body":           {"", "(p )*"},
	"qti-assessment-test":        {"identifier title", "(qti-outcome-declaration )*(qti-test-part )+(qti-outcome-processing )?"},
	"qti-test-part":              {"identifier navigation-mode submission-mode", "(qti-item-session-control )?(qti-assessment-section )+"},
	"qti-item-session-control":   {"show-feedback", ""},
	"qti-assessment-section":     {"identifier title visible", "(qti-assessment-item-ref )+"},
	"qti-assessment-item-ref":    {"identifier href", ""},
	"qti-outcome-processing":     {"", "(qti-set-outcome-value )+"},
	"qti-sum":                    {"", "qti-test-variables "},
	"qti-test-variables":         {"variable-identifier", ""},
	"manifest":                   {"identifier", "metadata organizations resources "},
	"metadata":                   {"", "schema schemaversion "},
	"schema":                     {"", ""},
	"schemaversion":              {"", ""},
	"organizations":              {"", ""},
	"resources":                  {"", "(resource )*"},
	"resource":                   {"identifier type", "(file )+(dependency )*"},
	"file":                       {"href", ""},
	"dependency":                 {"identifierref", ""},
}

func (n node) check(t *testing.T, file, space string) {
	t.Helper()
	model, known := models[n.XMLName.Local]
	if !known || n.XMLName.Space != space {
		t.Errorf("%s: element %v is not of the standard", file, n.XMLName)
		return
	}
	for name := range strings.FieldsSeq(model.attrs) {
		if n.attr(name) == "" {
			t.Errorf("%s: %s lacks %s", file, n.XMLName.Local, name)
		}
	}
	var children strings.Builder
	for _, child := range n.Children {
		children.WriteString(child.XMLName.Local + " ")
		child.check(t, file, space)
	}
	if !regexp.MustCompile("^" + model.children + "$").MatchString(children.String()) {
		t.Errorf("%s: %s holds %s", file, n.XMLName.Local, children.String())
	}
}

// packaged writes a set of the built-in catalogue, with typed names in it.
func packaged(t *testing.T, rosterName string, templates ...string) (*catalogue.Catalogue, catalogue.Roster, []questions.Question, map[string]string) {
	t.Helper()
	c := catalogue.Builtin()
	r, err := c.Roster(rosterName)
	if err != nil {
		t.Fatal(err)
	}
	set, err := questions.NewBank(c, r).Set(questions.Wish{Count: 20, Seed: 3, Templates: templates})
	if err != nil {
		t.Fatal(err)
	}
	return c, r, set, unzipped(t, written(t, func(w io.Writer) error { return exchange.QTI(w, c, r, set) }))
}

func TestQTIStructure(t *testing.T) {
	for _, templates := range [][]string{nil, {"type-the-name"}, {"whose-plate", "read-the-plate"}} {
		_, _, set, files := packaged(t, "furbearers", templates...)
		for name, text := range files {
			switch {
			case name == "imsmanifest.xml":
				parsed(t, text).check(t, name, "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1")
			case path.Ext(name) == ".xml":
				parsed(t, text).check(t, name, "http://www.imsglobal.org/xsd/imsqtiasi_v3p0")
			}
		}
		checkManifest(t, files)
		if refs := parsed(t, files["test.xml"]).all("qti-assessment-item-ref"); len(refs) != len(set) {
			t.Errorf("the test holds %d items, want %d", len(refs), len(set))
		}
	}
}

// checkManifest: every file is listed once, every resource's file is there,
// every dependency names a resource.
func checkManifest(t *testing.T, files map[string]string) {
	t.Helper()
	listed, ids := map[string]int{"imsmanifest.xml": 1}, map[string]bool{}
	manifest := parsed(t, files["imsmanifest.xml"])
	for _, r := range manifest.all("resource") {
		if ids[r.attr("identifier")] {
			t.Errorf("resource %s is there twice", r.attr("identifier"))
		}
		ids[r.attr("identifier")] = true
		listed[r.first(t, "file").attr("href")]++
	}
	for _, d := range manifest.all("dependency") {
		if !ids[d.attr("identifierref")] {
			t.Errorf("no resource %s", d.attr("identifierref"))
		}
	}
	for name := range files {
		if listed[name] != 1 {
			t.Errorf("%s is listed %d times", name, listed[name])
		}
		delete(listed, name)
	}
	for name := range listed {
		t.Errorf("%s is listed but not there", name)
	}
}

// A set comes back from its package as it went in.
func TestQTIReadBack(t *testing.T) {
	_, _, set, files := packaged(t, "furbearers")
	plates := 0
	for i, ref := range parsed(t, files["test.xml"]).all("qti-assessment-item-ref") {
		q, item := set[i], parsed(t, files[ref.attr("href")])
		if got := item.first(t, "qti-modal-feedback").first(t, "p").Text; got != q.Reason {
			t.Errorf("%s: reason %q", q.ID, got)
		}
		var options []string
		for j, choice := range item.all("qti-simple-choice") {
			options = append(options, strings.TrimSpace(choice.Text))
			if right := item.first(t, "qti-correct-response").first(t, "qti-value").Text == choice.attr("identifier"); right != (j == q.Key) {
				t.Errorf("%s: option %d right: %v", q.ID, j, right)
			}
		}
		for j, o := range q.Options {
			if !q.Typed && (j >= len(options) || options[j] != o.Text) {
				t.Errorf("%s: options %q", q.ID, options)
			}
		}
		if !q.Typed && item.first(t, "qti-prompt").Text != q.Prompt {
			t.Errorf("%s: another prompt", q.ID)
		}
		want := 0
		for _, ref := range append([]*questions.PlateRef{q.Plate}, platesOf(q.Options)...) {
			if ref != nil {
				want++
			}
		}
		images := item.all("img")
		if len(images) != want {
			t.Errorf("%s: %d images, want %d", q.ID, len(images), want)
		}
		for _, image := range images {
			plates++
			if !strings.HasPrefix(files[path.Join(path.Dir(ref.attr("href")), image.attr("src"))], "<svg") || len(image.attr("alt")) < 20 {
				t.Errorf("%s: a plate is missing or not described", q.ID)
			}
		}
	}
	if plates == 0 {
		t.Error("no question with a plate was tried")
	}
}

func platesOf(options []questions.Option) (refs []*questions.PlateRef) {
	for _, o := range options {
		refs = append(refs, o.Plate)
	}
	return refs
}

// A typed name counts if the program itself would count it, and all that an
// animal is called does.
func TestQTITypedNames(t *testing.T) {
	c, r, set, files := packaged(t, "waterside", "type-the-name")
	names := questions.NewNames(c, r)
	for i, ref := range parsed(t, files["test.xml"]).all("qti-assessment-item-ref") {
		key := set[i].Options[set[i].Key]
		s, _ := c.Find(key.Species)
		var accepted []string
		for _, entry := range parsed(t, files[ref.attr("href")]).all("qti-map-entry") {
			accepted = append(accepted, entry.attr("map-key"))
			if species, ok := names.Match(entry.attr("map-key")); !ok || species != key.Species {
				t.Errorf("%q counts as %s", entry.attr("map-key"), key.Species)
			}
			if entry.attr("case-sensitive") != "false" {
				t.Errorf("%q: capitals matter", entry.attr("map-key"))
			}
		}
		for _, name := range []string{s.Name, s.Vernacular, s.Spanish} {
			if !slices.Contains(accepted, name) {
				t.Errorf("%q is not among %q", name, accepted)
			}
		}
	}
}

// Nothing that a student's screen may show beside the item tells its key.
func TestQTINamesTellNothing(t *testing.T) {
	_, _, set, files := packaged(t, "furbearers", "whose-plate")
	for i, ref := range parsed(t, files["test.xml"]).all("qti-assessment-item-ref") {
		item, key := parsed(t, files[ref.attr("href")]), set[i].Options[set[i].Key]
		shown := ref.attr("href") + item.attr("title") + item.attr("label") + item.first(t, "img").attr("src") + item.first(t, "img").attr("alt")
		for word := range strings.FieldsSeq(strings.ToLower(key.Species + " " + key.Text)) {
			if regexp.MustCompile(`\b` + regexp.QuoteMeta(word) + `\b`).MatchString(strings.ToLower(shown)) { // "red" is in "blurred"
				t.Errorf("%s: %q tells %q", set[i].ID, shown, word)
			}
		}
	}
}

// A Spanish set is marked as Spanish, its drawings are described so, and names
// count in both languages.
func TestQTIInSpanish(t *testing.T) {
	c, err := catalogue.Builtin().In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err)
	}
	r := c.Everything()
	bank := questions.NewBank(c, r)
	for _, templates := range [][]string{{"whose-plate"}, {"type-the-name"}} {
		set, err := bank.Set(questions.Wish{Count: 5, Seed: 3, Templates: templates})
		if err != nil {
			t.Fatal(err)
		}
		files := unzipped(t, written(t, func(w io.Writer) error { return exchange.QTI(w, c, r, set) }))
		for i, ref := range parsed(t, files["test.xml"]).all("qti-assessment-item-ref") {
			item := parsed(t, files[ref.attr("href")])
			if item.attr("lang") != "es" {
				t.Errorf("%s is in the language %q", ref.attr("href"), item.attr("lang"))
			}
			for _, image := range item.all("img") {
				if !strings.HasPrefix(image.attr("alt"), "Dibujo") {
					t.Errorf("%s shows %q", ref.attr("href"), image.attr("alt"))
				}
			}
			if !set[i].Typed {
				continue
			}
			s, _ := catalogue.Builtin().Find(set[i].Options[set[i].Key].Species)
			for _, name := range []string{s.Spanish, s.Vernacular, s.Name} {
				if !slices.ContainsFunc(item.all("qti-map-entry"), func(e node) bool { return e.attr("map-key") == name }) && name != "nutria" { // in Spanish an otter
					t.Errorf("%q does not count", name)
				}
			}
		}
	}
}
