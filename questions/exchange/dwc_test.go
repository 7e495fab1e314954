package exchange_test

import (
	"encoding/csv"
	"encoding/xml"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/exchange"
)

// A strict reader that knows of the archive only what meta.xml says.

type metaFile struct {
	RowType  string `xml:"rowType,attr"`
	Encoding string `xml:"encoding,attr"`
	Fields   string `xml:"fieldsTerminatedBy,attr"`
	Lines    string `xml:"linesTerminatedBy,attr"`
	Quote    string `xml:"fieldsEnclosedBy,attr"`
	Header   int    `xml:"ignoreHeaderLines,attr"`
	Location string `xml:"files>location"`
	ID       *struct {
		Index int `xml:"index,attr"`
	} `xml:"id"`
	CoreID *struct {
		Index int `xml:"index,attr"`
	} `xml:"coreid"`
	Columns []struct {
		Index int    `xml:"index,attr"`
		Term  string `xml:"term,attr"`
	} `xml:"field"`
}

type meta struct {
	XMLName    xml.Name   `xml:"http://rs.tdwg.org/dwc/text/ archive"`
	Metadata   string     `xml:"metadata,attr"`
	Core       metaFile   `xml:"core"`
	Extensions []metaFile `xml:"extension"`
}

// records are the file's rows by full term; the key "" is the taxon's id.
func (m metaFile) records(t *testing.T, files map[string]string) []map[string]string {
	t.Helper()
	text := files[m.Location]
	ending, err := strconv.Unquote(`"` + m.Lines + `"`)
	if err != nil || ending != "\r\n" || m.Encoding != "UTF-8" || m.Fields != "," || m.Quote != `"` || !strings.HasSuffix(text, ending) {
		t.Fatalf("%s: lines end with %q (%v), described as %+v", m.Location, ending, err, m)
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	link := m.ID
	if link == nil {
		link = m.CoreID
	}
	var out []map[string]string
	for _, row := range rows[m.Header:] {
		record := map[string]string{"": row[link.Index]}
		for _, column := range m.Columns {
			record[column.Term] = row[column.Index]
		}
		out = append(out, record)
	}
	return out
}

func readMeta(t *testing.T, files map[string]string) meta {
	t.Helper()
	var m meta
	if err := xml.Unmarshal([]byte(files["meta.xml"]), &m); err != nil {
		t.Fatal(err)
	}
	if files[m.Metadata] == "" || m.Core.ID == nil || len(m.Extensions) != 1 || m.Extensions[0].CoreID == nil {
		t.Fatalf("meta.xml is incomplete: %+v", m)
	}
	return m
}

const dwc = "http://rs.tdwg.org/dwc/terms/"

func TestDarwinCoreReadBack(t *testing.T) {
	c := catalogue.Builtin()
	files := unzipped(t, written(t, func(w io.Writer) error { return exchange.DarwinCore(w, c, c.Everything(), "animal") }))
	m := readMeta(t, files)
	taxa := m.Core.records(t, files)
	if m.Core.RowType != dwc+"Taxon" || len(taxa) != len(c.Species) {
		t.Fatalf("%d rows of %s, want %d taxa", len(taxa), m.Core.RowType, len(c.Species))
	}
	scientific := map[string]string{}
	for i, s := range c.Species { // both in the order of the scientific names
		want := map[string]string{"": taxa[i][dwc+"taxonID"], dwc + "taxonID": taxa[i][""], dwc + "scientificName": s.Name, dwc + "vernacularName": s.Vernacular,
			dwc + "class": map[string]string{"mammal": "Mammalia", "bird": "Aves"}[s.Values["class"].Text],
			dwc + "order": s.Values["order"].Text, dwc + "family": s.Values["family"].Text, dwc + "taxonRank": "species"}
		for term, value := range want {
			if got := taxa[i][term]; got != value || got == "" && term != dwc+"family" { // a family may be unknown
				t.Errorf("%s: %s is %q, want %q", s.Name, term, got, value)
			}
		}
		if scientific[taxa[i][""]] != "" {
			t.Errorf("the id %s is given twice", taxa[i][""])
		}
		scientific[taxa[i][""]] = s.Name
	}
	spanish := 0
	for _, record := range m.Extensions[0].records(t, files) {
		s, ok := c.Find(scientific[record[""]])
		want := map[string][]string{"en": {s.Vernacular}, "es": append([]string{s.Spanish}, s.OtherSpanish...)}[record["http://purl.org/dc/terms/language"]]
		if name := record[dwc+"vernacularName"]; !ok || name == "" || !slices.Contains(want, name) {
			t.Errorf("%v, want one of %q", record, want)
		}
		if record[dwc+"vernacularName"] == s.Spanish {
			spanish++
		}
	}
	if spanish < len(c.Species)/2 {
		t.Errorf("only %d Spanish names", spanish)
	}
}

// What a spreadsheet would take for a formula is written so that it doesn't.
func TestFormulas(t *testing.T) {
	for name, want := range map[string]string{"=1+1": "'=1+1", "+cat": "'+cat", "-cat": "'-cat", "@cat": "'@cat", "cat-bird": "cat-bird", "'cat": "'cat"} {
		c := catalogue.New(nil, []catalogue.Species{{Name: "Aa b", Vernacular: name, Subjects: []string{"animal"}, Values: map[string]catalogue.Value{}}}, nil)
		files := unzipped(t, written(t, func(w io.Writer) error { return exchange.DarwinCore(w, c, c.Everything(), "animal") }))
		if got := readMeta(t, files).Core.records(t, files)[0][dwc+"vernacularName"]; got != want {
			t.Errorf("%q is written %q, want %q", name, got, want)
		}
	}
}
