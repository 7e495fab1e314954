package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/paper"
)

const platesHelp = `fieldsign plates writes the drawings of a roster to files: an SVG each, or a PDF
that prints them at life size. The names and captions tell what is shown, unless
--quiz or --cards is given: then the order is shuffled, plates bear numbers only,
and a key comes with them.

  fieldsign plates --roster furbearers --out plates
  fieldsign plates --species "Lynx rufus" --pdf bobcat.pdf
  fieldsign plates --roster furbearers --subjects track --per-page 4 --pdf tracks.pdf
  fieldsign plates --roster furbearers --subjects skull --cards --pdf stations.pdf
`

// printing is what to put on paper, and how.
type printing struct {
	out, page   string
	pdf         output
	quiz, cards bool
	perPage     int
}

func runPlates(_ context.Context, args []string, out io.Writer) error {
	f := flags("plates", platesHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	subjects := f.String("subjects", strings.Join(catalogue.Usual, ","), "which of "+strings.Join(paper.Subjects(), ", "))
	species := f.String("species", "", "only this one, by any of its names")
	seed := f.Uint64("seed", 1, "of the order under --quiz and --cards")
	p := printing{pdf: output{kind: pdfOutput}}
	f.StringVar(&p.out, "out", "", "a new folder for the SVG files")
	p.pdf.flags(f, "pdf", "a file for the PDF")
	f.StringVar(&p.page, "page", "a4", "a4 or letter")
	f.IntVar(&p.perPage, "per-page", 0, "how many plates share a page of the PDF: 1, 2, 4 or 6; prints and scat stay life size, and what is too large goes beside others of its size (default: as many as fit at life size)")
	f.BoolVar(&p.quiz, "quiz", false, "numbers instead of names, and a key: key.csv in the folder, the last page of the PDF")
	f.BoolVar(&p.cards, "cards", false, "the PDF holds station cards, two to a page, and a key")
	if err := f.Parse(args); err != nil {
		return err
	}
	if err := p.check(f.Args()); err != nil {
		return err
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	only, err := inRoster(cat, roster, *species)
	if err != nil {
		return err
	}
	items, undrawn, err := paper.Collect(cat, roster, split(*subjects), only)
	if err != nil {
		return err
	}
	if p.quiz || p.cards {
		items = paper.Shuffled(items, *seed)
	}
	if len(undrawn) > 0 {
		fmt.Fprintln(out, "Too little is known to draw:", strings.Join(undrawn, ", "))
	}
	return p.write(items, out)
}

func (p printing) check(rest []string) error {
	switch {
	case len(rest) > 0:
		return fmt.Errorf("%q is no flag of fieldsign plates; a name of two words needs quotes", rest[0])
	case p.out == "" && p.pdf.path == "":
		return errors.New("where to? Give --out FOLDER for SVG files, --pdf FILE for a PDF, or both")
	case p.cards && p.pdf.path == "":
		return errors.New("--cards are printed from a PDF: give --pdf FILE")
	case p.cards && p.perPage != 0:
		return errors.New("--cards are two to a page: leave --per-page out")
	case paper.WrongPerPage(p.perPage) != nil:
		return fmt.Errorf("--per-page: %w", paper.WrongPerPage(p.perPage))
	case p.page != "a4" && p.page != "letter":
		return fmt.Errorf("--page is a4 or letter, not %q", p.page)
	}
	return nil
}

// inRoster is the scientific name of the animal meant; none means all.
func inRoster(cat *catalogue.Catalogue, roster catalogue.Roster, typed string) (string, error) {
	if typed == "" {
		return "", nil
	}
	name, ok := questions.NewNames(cat, roster).Match(typed)
	if !ok {
		return "", fmt.Errorf("no one animal of roster %s is called %q; fieldsign catalogue lists the names", roster.Name, typed)
	}
	return name, nil
}

func (p printing) write(items []paper.Item, out io.Writer) error {
	if p.out != "" {
		// Numbers of files and of cards are the same, so names must not tell.
		if err := paper.WriteFolder(p.out, items, p.quiz || p.cards); err != nil {
			return err
		}
		fmt.Fprintf(out, "%d plates in %s\n", len(items), p.out)
	}
	if p.pdf.path == "" {
		return nil
	}
	var b bytes.Buffer
	var err error
	if p.cards {
		err = paper.Cards(&b, p.page, items)
	} else {
		err = paper.Sheets(&b, p.page, items, p.quiz, p.perPage)
	}
	if err == nil {
		err = p.pdf.write(b.Bytes())
	}
	if err != nil {
		return fmt.Errorf("the PDF can't be written: %w", err)
	}
	fmt.Fprintf(out, "%d plates in %s: print at 100 %% and measure the check line\n", len(items), p.pdf.path)
	return nil
}
