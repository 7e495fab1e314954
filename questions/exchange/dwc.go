package exchange

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Vocabularies of the Darwin Core text guide.
const (
	dwcText  = "http://rs.tdwg.org/dwc/text/"
	dwcTerms = "http://rs.tdwg.org/dwc/terms/"
	gbif     = "http://rs.gbif.org/terms/1.0/"
	dcTerms  = "http://purl.org/dc/terms/"
	emlSpace = "eml://ecoinformatics.org/eml-2.1.1"
)

// DarwinCore writes the names of a roster's species in play for a subject
// ("animal": all of them) as a Darwin Core archive: taxa as the core, and their
// English and Spanish names as an extension. Other names are left out, since
// the catalogue does not say which of them are vernacular and which synonyms; of
// the Spanish names all are vernacular.
func DarwinCore(w io.Writer, c *catalogue.Catalogue, roster catalogue.Roster, subject string) error {
	species, err := speciesOf(c, roster, subject)
	if err != nil {
		return err
	}
	taxa := table{name: "taxon.csv", row: dwcTerms + "Taxon",
		terms: under(dwcTerms, "taxonID", "scientificName", "vernacularName", "class", "order", "family", "taxonRank")}
	names := table{name: "vernacularname.csv", row: gbif + "VernacularName",
		terms: append(under(dwcTerms, "taxonID", "vernacularName"), dcTerms+"language")}
	for _, s := range species {
		id := taxonID(s.Name)
		taxa.add(id, s.Name, s.Vernacular, className(s), known(s, "order"), known(s, "family"), rank(s.Name))
		names.add(id, s.Vernacular, "en")
		if s.Spanish != "" {
			names.add(id, s.Spanish, "es")
		}
		for _, name := range s.OtherSpanish {
			names.add(id, name, "es")
		}
	}
	return writeArchive(w, roster.Name, taxa, names)
}

// table is a file of a Darwin Core archive; its first column is the taxon's id.
type table struct {
	name, row string
	terms     []string // full, one a column
	rows      [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

func under(space string, terms ...string) []string {
	for i := range terms {
		terms[i] = space + terms[i]
	}
	return terms
}

func taxonID(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "-") }

func known(s catalogue.Species, trait string) string {
	if v := s.Values[trait]; v.Known() {
		return v.Text
	}
	return ""
}

// className is the scientific name of a class that the catalogue calls by a
// plain word; another is left empty rather than guessed.
func className(s catalogue.Species) string {
	return map[string]string{"mammal": "Mammalia", "bird": "Aves"}[known(s, "class")]
}

func rank(name string) string {
	if strings.Count(name, " ") > 1 {
		return "subspecies"
	}
	return "species"
}

type metaXML struct {
	XMLName   xml.Name   `xml:"archive"`
	Space     string     `xml:"xmlns,attr"`
	Metadata  string     `xml:"metadata,attr"`
	Core      tableXML   `xml:"core"`
	Extension []tableXML `xml:"extension"`
}

type tableXML struct {
	Encoding string      `xml:"encoding,attr"`
	Fields   string      `xml:"fieldsTerminatedBy,attr"`
	Lines    string      `xml:"linesTerminatedBy,attr"`
	Quote    string      `xml:"fieldsEnclosedBy,attr"`
	Header   int         `xml:"ignoreHeaderLines,attr"`
	Row      string      `xml:"rowType,attr"`
	Location string      `xml:"files>location"`
	ID       *columnXML  `xml:"id"`     // of the core
	CoreID   *columnXML  `xml:"coreid"` // of an extension
	Columns  []columnXML `xml:"field"`
}

type columnXML struct {
	Index int    `xml:"index,attr"`
	Term  string `xml:"term,attr,omitempty"`
}

// describe says in meta.xml what the columns are. The line end is written as
// an escape, which is how the text guide has it.
func (t table) describe() tableXML {
	x := tableXML{Encoding: "UTF-8", Fields: ",", Lines: `\r\n`, Quote: `"`, Header: 1, Row: t.row, Location: t.name}
	for i, term := range t.terms {
		x.Columns = append(x.Columns, columnXML{i, term})
	}
	return x
}

// file has the terms' short names as its header.
func (t table) file() (file, error) {
	var header []string
	for _, term := range t.terms {
		header = append(header, term[strings.LastIndex(term, "/")+1:])
	}
	return sheet(t.name, slices.Insert(t.rows, 0, header))
}

type emlXML struct {
	XMLName xml.Name `xml:"eml:eml"`
	Space   string   `xml:"xmlns:eml,attr"`
	ID      string   `xml:"packageId,attr"`
	System  string   `xml:"system,attr"`
	Title   string   `xml:"dataset>title"`
	// EML asks for someone to name; the catalogue itself is no person.
	Creator string `xml:"dataset>creator>organizationName"`
	Contact string `xml:"dataset>contact>organizationName"`
}

func writeArchive(w io.Writer, roster string, core, extension table) error {
	first, second := core.describe(), extension.describe()
	first.ID = &columnXML{}
	second.CoreID = &columnXML{}
	// The text guide has the column that links to the core as coreid alone.
	second.Columns = second.Columns[1:]
	meta, err := document("meta.xml", metaXML{Space: dwcText, Metadata: "eml.xml", Core: first, Extension: []tableXML{second}})
	if err != nil {
		return err
	}
	eml, err := document("eml.xml", emlXML{Space: emlSpace, ID: "fieldsign-" + taxonID(roster), System: "fieldsign",
		Title: "Fieldsign catalogue, roster " + roster, Creator: "Fieldsign catalogue", Contact: "Fieldsign catalogue"})
	if err != nil {
		return err
	}
	taxa, err := core.file()
	if err != nil {
		return err
	}
	names, err := extension.file()
	if err != nil {
		return err
	}
	return archive(w, []file{meta, eml, taxa, names})
}
