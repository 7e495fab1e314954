// Package exchange writes what others can read, by open standards only: a
// question set as a QTI 3.0 package, a roster's names as a Darwin Core
// archive, its trait matrix as NEXUS. The same input always gives the same
// bytes. It knows nothing of games.
package exchange

import (
	"archive/zip"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"time"

	"fieldsign/questions/catalogue"
)

// file is a part of an archive.
type file struct {
	name string
	data []byte
}

// made is the date of all parts: the first that a ZIP archive can hold. With one
// that is true the same input would give other bytes, and none is an invalid one.
var made = time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)

// archive writes the files in their order.
func archive(w io.Writer, files []file) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		part, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: made})
		if err != nil {
			return err
		}
		if _, err := part.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

// document is a whole XML file.
func document(name string, root any) (file, error) {
	body, err := xml.MarshalIndent(root, "", "  ")
	if err != nil {
		return file{}, fmt.Errorf("%s: %w", name, err)
	}
	return file{name, []byte(xml.Header + string(body) + "\n")}, nil
}

// sheet is a CSV file (RFC 4180) with a header row.
func sheet(name string, rows [][]string) (file, error) {
	var b strings.Builder
	out := csv.NewWriter(&b)
	out.UseCRLF = true
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = inert(cell)
		}
		if err := out.Write(cells); err != nil {
			return file{}, fmt.Errorf("%s: %w", name, err)
		}
	}
	out.Flush()
	return file{name, []byte(b.String())}, out.Error()
}

// inert keeps a spreadsheet from taking a cell for a formula: an apostrophe
// goes before it.
func inert(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

// speciesOf finds the species of a roster, for a subject or for all ("animal").
func speciesOf(c *catalogue.Catalogue, roster catalogue.Roster, subject string) ([]catalogue.Species, error) {
	var out []catalogue.Species
	for _, name := range roster.Of(subject) {
		s, known := c.Find(name)
		if !known {
			return nil, fmt.Errorf("roster %s names %q, which the catalogue lacks", roster.Name, name)
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("roster %s has no species for %s: choose another subject or roster", roster.Name, subject)
	}
	return out, nil
}
