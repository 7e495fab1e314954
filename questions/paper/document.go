package paper

import (
	"fmt"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"fieldsign/questions"
)

// Page sizes in mm, upright.
var sizes = map[string]fpdf.SizeType{
	"a4":     {Wd: 210, Ht: 297},
	"letter": {Wd: 215.9, Ht: 279.4},
}

const (
	margin     = 10.
	footHeight = 12. // the check line and its label
	checkLine  = 100.
	pointMM    = 25.4 / 72
)

// document is a PDF being written; lengths are in mm from the upper left.
type document struct {
	pdf    *fpdf.Fpdf
	size   fpdf.SizeType
	glyphs *sfnt.Font // which letters there are
	voice

	pageOf map[string]int // by title
	links  map[string]int
	arts   map[questions.PlateRef]*drawing // of a guide, as they were read
}

func newDocument(size string) (*document, error) {
	s, ok := sizes[size]
	if !ok {
		return nil, fmt.Errorf("no page size %q: choose a4 or letter", size)
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: s})
	pdf.SetAutoPageBreak(false, 0)
	// The same plates give the same file, whenever it is made.
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(fixed)
	pdf.SetModificationDate(fixed)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("Fieldsign", false)
	pdf.AddUTF8FontFromBytes("Go", "", goregular.TTF)
	pdf.AddUTF8FontFromBytes("Go", "B", gobold.TTF)
	pdf.AddUTF8FontFromBytes("Go", "I", goitalic.TTF)
	glyphs, err := sfnt.Parse(goregular.TTF)
	return &document{pdf: pdf, size: s, glyphs: glyphs, pageOf: map[string]int{}, links: map[string]int{}, arts: map[questions.PlateRef]*drawing{}}, err
}

// page begins a page and returns its width and height.
func (d *document) page(landscape bool) (w, h float64) {
	orientation := "P"
	if landscape {
		orientation = "L"
	}
	d.pdf.AddPageFormat(orientation, d.size)
	return d.pdf.GetPageSize()
}

// room for plates on a page with a foot.
func (d *document) room(landscape bool) fpdf.SizeType {
	w, h := d.size.Wd, d.size.Ht
	if landscape {
		w, h = h, w
	}
	return fpdf.SizeType{Wd: w - 2*margin, Ht: h - 2*margin - footHeight}
}

// face is a style of the Go fonts, "", "B" or "I"; the letters used are
// embedded, so that paper looks the same from every printer.
type face struct {
	style string
	pt    float64
}

// lead is the height of a line.
func (f face) lead() float64 { return f.pt * pointMM * 1.3 }

var (
	plain   = face{"", 9}
	bold    = face{"B", 9}
	small   = face{"", 8}
	heading = face{"B", 22}
	asking  = face{"", 15}
)

func (d *document) width(f face, s string) float64 {
	d.pdf.SetFont("Go", f.style, f.pt)
	return d.pdf.GetStringWidth(s)
}

// text writes on a baseline; part of its width lies left of x.
func (d *document) text(f face, x, y, part float64, s string) {
	d.check(s)
	d.pdf.SetTextColor(0, 0, 0)
	d.pdf.SetAlpha(1, "Normal")
	w := d.width(f, s)
	d.pdf.Text(x-part*w, y, s)
}

// check fails the document for a letter that the fonts lack, rather than
// leave it out.
func (d *document) check(s string) {
	var b sfnt.Buffer
	for _, r := range s {
		if i, err := d.glyphs.GlyphIndex(&b, r); i == 0 || err != nil {
			d.pdf.SetError(fmt.Errorf("%q can't be printed: the fonts have no %q, only Latin, Greek and Cyrillic letters: spell it in these", s, r))
			return
		}
	}
}

// line draws a straight black line.
func (d *document) line(weight, x1, y1, x2, y2 float64, dash ...float64) {
	d.pdf.SetAlpha(1, "Normal")
	d.pdf.SetDrawColor(0, 0, 0)
	d.pdf.SetLineWidth(weight)
	d.pdf.SetLineCapStyle("butt")
	d.pdf.SetDashPattern(dash, 0)
	d.pdf.Line(x1, y1, x2, y2)
}

// foot puts the check line and what else is said at the foot of a page or card
// of width w that ends at y.
func (d *document) foot(x, y, w float64, number string) {
	at := y - 5
	d.ruler(x, at)
	d.text(small, x, y, 0, "check line 10 cm: measure it; print at 100 %")
	d.text(small, x+w, at, 1, "schematic")
	d.text(small, x+w, y, 1, number)
}

// ruler draws the check line, by which a printer's own scaling is found out.
func (d *document) ruler(x, y float64) {
	const weight = .3
	d.line(weight, x, y, x+checkLine, y)
	for i := range 11 {
		// the end ticks lie within the line's length
		tick := x + weight/2 + float64(i)*(checkLine-weight)/10
		long := 1.2
		if i%10 == 0 {
			long = 2.4
		}
		d.line(weight, tick, y-long, tick, y)
	}
}

// key lists what the numbers stand for, in two columns, on pages of its own.
func (d *document) key(title string, items []Item) {
	const row, head = 5.5, 14.
	w := (d.size.Wd - 2*margin) / 2
	perColumn := int((d.size.Ht - 2*margin - head) / row)
	for i, it := range items {
		column, line := i/perColumn%2, i%perColumn
		if column == 0 && line == 0 {
			d.page(false)
			d.text(face{"B", 14}, margin, margin+6, 0, title)
		}
		x, y := margin+float64(column)*w, margin+head+float64(line)*row
		d.text(bold, x+7, y, 1, strconv.Itoa(it.Number))
		d.text(plain, x+9, y, 0, it.Species.Vernacular+", "+it.Kind)
		d.text(face{"I", 8}, x+w-4, y, 1, it.Species.Name)
	}
}
