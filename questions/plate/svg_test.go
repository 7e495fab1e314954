package plate

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// element is a path of a drawing as a reader finds it, with no help from the
// code that drew it.
type element struct {
	name  string // data-n
	group string // data-n of the group it is in
	pts   [][]pt // its lines, flattened
	fills string
}

func (e element) box() box {
	b := box{}
	for _, sub := range e.pts {
		b = b.with(sub...)
	}
	return b
}

// reading is what read found in a drawing.
type reading struct {
	elements []element
	root     map[string]string
}

// readings are those so far, since many tests look at the same drawings.
var readings sync.Map

// read parses a drawing. What it gives is shared, and for looking at alone.
func read(t testing.TB, svg string) ([]element, map[string]string) {
	t.Helper()
	kept, ok := readings.Load(svg)
	if !ok {
		elements, root := parse(t, svg)
		kept, _ = readings.LoadOrStore(svg, reading{elements, root})
	}
	return kept.(reading).elements, kept.(reading).root
}

func parse(t testing.TB, svg string) (elements []element, root map[string]string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var groups []string
	root = map[string]string{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements, root
		}
		if err != nil {
			t.Fatalf("the drawing is no XML: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			a := map[string]string{}
			for _, attr := range e.Attr {
				a[attr.Name.Local] = attr.Value
			}
			switch e.Name.Local {
			case "svg":
				root = a
			case "g":
				groups = append(groups, a["data-n"])
			case "path":
				elements = append(elements, element{a["data-n"], groups[len(groups)-1], readPath(t, a["d"]), a["fill"]})
			}
		case xml.EndElement:
			if e.Name.Local == "g" {
				groups = groups[:len(groups)-1]
			}
		}
	}
}

// pathWords are the letters and numbers of path data.
func pathWords(d string) (words []string) {
	for d = strings.TrimLeft(d, " ,"); d != ""; d = strings.TrimLeft(d, " ,") {
		n := 1
		if d[0] < 'A' {
			n = max(1, lengthOfNumber(d))
		}
		words, d = append(words, d[:n]), d[n:]
	}
	return words
}

// lengthOfNumber is how far the number goes with which path data begins: its point
// may stand first, and a second point begins the next.
func lengthOfNumber(d string) (n int) {
	digits := func() {
		for n < len(d) && '0' <= d[n] && d[n] <= '9' {
			n++
		}
	}
	if d[0] == '-' {
		n++
	}
	if digits(); n < len(d) && d[n] == '.' {
		n++
		digits()
	}
	return n
}

// readPath flattens path data that uses M, L, m, l, c, s, h, v and z.
func readPath(t testing.TB, d string) (lines [][]pt) {
	t.Helper()
	words := pathWords(d)
	var at, mirrored pt
	var op byte
	number := func() float64 {
		x, err := strconv.ParseFloat(words[0], 64)
		if err != nil {
			t.Fatalf("path data: %q in %q", words[0], d)
		}
		words = words[1:]
		return x
	}
	point := func() pt { x := number(); return pt{x, number()} }
	to := func(p pt) { at = p; lines[len(lines)-1] = append(lines[len(lines)-1], p) }
	for len(words) > 0 {
		if c := words[0][0]; c >= 'A' {
			op, words = c, words[1:]
		}
		if op != 'c' && op != 's' {
			mirrored = pt{} // the first handle is then where the segment starts
		}
		switch op {
		case 'M':
			lines = append(lines, nil)
			to(point())
		case 'm':
			lines = append(lines, nil)
			to(at.add(point()))
		case 'L':
			to(point())
		case 'l':
			to(at.add(point()))
		case 'h':
			to(at.add(pt{number(), 0}))
		case 'v':
			to(at.add(pt{0, number()}))
		case 'c', 's':
			s := [4]pt{at, at.add(mirrored)}
			if op == 'c' {
				s[1] = at.add(point())
			}
			s[2] = at.add(point())
			s[3] = at.add(point())
			mirrored = s[3].sub(s[2])
			for i := 1; i <= 24; i++ {
				to(bezierByHand(s, float64(i)/24))
			}
		case 'z':
			op = 0
		default:
			t.Fatalf("path data: unexpected %q in %q", op, d)
		}
	}
	return lines
}

// bezierByHand is de Casteljau's construction.
func bezierByHand(s [4]pt, u float64) pt {
	for n := 3; n > 0; n-- {
		for i := range n {
			s[i] = pt{s[i].x + u*(s[i+1].x-s[i].x), s[i].y + u*(s[i+1].y-s[i].y)}
		}
	}
	return s[0]
}

// named are the elements of a class: a name's first word is its class.
func named(elements []element, names ...string) []element {
	var out []element
	for _, e := range elements {
		class, _, _ := strings.Cut(e.name, " ")
		for _, n := range names {
			if class == n {
				out = append(out, e)
			}
		}
	}
	return out
}

func boxOf(elements []element) box {
	b := box{}
	for _, e := range elements {
		e := e.box()
		b = b.with(e.lo, e.hi)
	}
	return b
}

func within(got, want, part float64) bool { return math.Abs(got-want) <= part*want }
