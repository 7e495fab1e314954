package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
	"fieldsign/questions/guide/onepage"
	"fieldsign/questions/paper"
)

const guideHelp = `fieldsign guide writes a study guide to a roster: a page for each animal with its
drawings (prints at life size), its measures with their sources, the fewest traits
that tell it from all others, three look-alikes and cautions; then all skulls and all
prints on one scale, a key for each subject, a glossary and the sources. A name that
ends in .html makes one web page, which needs no network.

  fieldsign guide --roster furbearers --out guide.pdf
  fieldsign guide --roster furbearers --out guide.html
  fieldsign guide --roster furbearers --kind worksheet --out worksheet.pdf
  fieldsign guide --roster furbearers --kind answers --out answers.pdf
  fieldsign guide --roster furbearers --language es --size letter --out guia.pdf
`

func runGuide(_ context.Context, args []string, out io.Writer) error {
	f := flags("guide", guideHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	kind := f.String("kind", "guide", "of a PDF: "+strings.Join(paper.GuideKinds(), ", "))
	size := f.String("size", "a4", "of a PDF: a4 or letter")
	seed := f.Uint64("seed", 1, "of the order of the worksheet")
	language := f.String("language", "en", languageHelp+", and of the guide")
	file := output{kind: pdfOutput}
	file.flags(f, "out", "the .pdf or .html to write")
	if err := parse(f, args); err != nil {
		return err
	}
	switch {
	case file.path == "":
		return errors.New("where to? Give --out FILE.pdf or --out FILE.html")
	case !slices.Contains(paper.GuideKinds(), *kind):
		return fmt.Errorf("--kind is one of %s, not %q", strings.Join(paper.GuideKinds(), ", "), *kind)
	case *size != "a4" && *size != "letter":
		return fmt.Errorf("--size is a4 or letter, not %q", *size)
	}
	began := time.Now()
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	if cat, err = spoken(cat, *language); err != nil {
		return err
	}
	g, err := guide.New(cat, roster, *seed)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	what := ""
	if strings.EqualFold(filepath.Ext(file.path), ".html") {
		file.kind, what = pageOutput, "a page that needs no network"
		err = onepage.Write(&b, g)
	} else {
		var pages int
		pages, err = paper.WriteGuide(&b, *size, *kind, g)
		what = fmt.Sprintf("%d pages: print at 100 %% and measure the check line", pages)
	}
	if err == nil {
		err = file.write(b.Bytes())
	}
	if err != nil {
		return fmt.Errorf("the guide can't be written: %w", err)
	}
	fmt.Fprintf(out, "%d animals of roster %s in %s, made in %.1f s; %s\n", len(g.Animals), roster.Name, file.path, time.Since(began).Seconds(), what)
	return nil
}
