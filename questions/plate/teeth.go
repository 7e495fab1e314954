package plate

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// jaw is upper or lower.
type jaw int

const (
	upper jaw = iota
	lower
)

func (j jaw) String() string { return [...]string{"upper", "lower"}[j] }

// formula is a dental formula, per side: incisors, canines, premolars and
// molars by jaw; -1 where the number varies.
type formula [4][2]int

var toothKinds = [4]string{"I", "C", "P", "M"}

func readFormula(text string) (n formula, ok bool) {
	fields := strings.Fields(text)
	if len(fields) != 8 {
		return n, false
	}
	for i, kind := range toothKinds {
		up, down, cut := strings.Cut(fields[2*i+1], "/")
		if fields[2*i] != kind || !cut {
			return n, false
		}
		n[i] = [2]int{digit(up), digit(down)}
	}
	return n, true
}

// formulaOf is an animal's formula. Where the catalogue gives none but what is
// usual, its own form has that.
func formulaOf(name string, f facts, form *form) (formula, bool) {
	teeth, told := readFormula(f["dental_formula"].Text)
	if !told && form.is(name) {
		teeth, told = readFormula(form.texts["formula"])
	}
	return teeth.filled(form), told
}

// is reports whether a form is that animal's own.
func (f *form) is(name string) bool { return slices.Contains(strings.Split(f.texts["of"], ";"), name) }

// filled puts the usual number of the form where the formula leaves it open.
func (n formula) filled(form *form) formula {
	usual, ok := readFormula(form.texts["formula"])
	for kind := range n {
		for j := range n[kind] {
			if n[kind][j] < 0 && ok {
				n[kind][j] = usual[kind][j]
			}
		}
	}
	return n
}

// digit is how many teeth a place usually has: 2 of 2(1). It is open in 3-4.
func digit(s string) int {
	if s != "" && s[0] >= '0' && s[0] <= '9' && !strings.Contains(s, "-") {
		return int(s[0] - '0')
	}
	return -1
}

// of is how many teeth of a kind are drawn.
func (n formula) of(kind int, j jaw) int { return max(0, n[kind][j]) }

func (n formula) describe(j jaw) string {
	names := [4]string{"incisor", "canine", "premolar", "molar"}
	var parts []string
	for kind, name := range names {
		switch c := n[kind][j]; {
		case c < 0:
			parts = append(parts, "a varying number of "+name+"s, not drawn")
		case c == 1:
			parts = append(parts, "1 "+name)
		case c > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", c, name))
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("no teeth in the %v jaw", j)
	}
	return fmt.Sprintf("on each side of the %v jaw %s", j, strings.Join(parts, ", "))
}

// tooth is a cheek tooth of a form: its shape, and its length in hundredths of
// the row until it is placed, then in hundredths of the skull.
type tooth struct {
	shape byte // a key of toothShapes
	long  float64
	gap   float64 // before it
	at    float64 // of its middle, along the skull
	kind  int     // 2 premolar, 3 molar
}

// cheekTeeth are those of one side, shared out along their row. Where a
// formula has fewer or more than the form, the foremost are left out or
// repeated: they are the ones that vary.
func (k *skull) cheekTeeth(j jaw) []tooth {
	premolars := k.teeth.of(2, j)
	list := fitted(k.form.teeth(j, k.f), premolars+k.teeth.of(3, j))
	sum := 0.
	for i := range list {
		list[i].kind = 2
		if i >= premolars {
			list[i].kind = 3
		}
		sum += list[i].long + list[i].gap
	}
	b := box{}.with(k.rowOf(j)...)
	at := b.lo.x
	for i := range list {
		at += list[i].gap * b.w() / sum
		list[i].long *= b.w() / sum
		list[i].at = at + list[i].long/2
		at += list[i].long
	}
	return list
}

func fitted(list []tooth, n int) []tooth {
	for len(list) < n {
		list = append([]tooth{list[0]}, list...)
	}
	return list[len(list)-n:]
}

// teeth reads a list such as "p8 c25 _2 m17", in which _ is a gap,
// or below 0 an overlap, or makes one of the state of the cheek teeth.
func (f *form) teeth(j jaw, values facts) []tooth {
	var list []tooth
	gap := 0.
	for _, word := range strings.Fields(f.texts[j.String()]) {
		t := tooth{gap: gap}
		if _, err := fmt.Sscanf(word, "%c%g", &t.shape, &t.long); err != nil {
			continue
		}
		if gap = 0; t.shape == '_' {
			gap = t.long
			continue
		}
		list = append(list, t)
	}
	if len(list) == 0 {
		shape := map[string]byte{"shearing": 'c', "flat grinding": 'f', "crescent-ridged": 'k', "insect-piercing": 'w', "peg-like": 'e'}[values.text("cheek_teeth")]
		if shape == 0 {
			shape = 'm'
		}
		list = []tooth{{shape: shape, long: 1}}
	}
	return list
}

// rowOf is the line along which cheek teeth stand, from front to rear.
func (k *skull) rowOf(j jaw) []pt {
	key := "side row"
	if j == lower {
		key = "side lower row"
	}
	if c, ok := k.form.part(key); ok {
		return c.pts
	}
	return []pt{{30, 0}, {60, 0}}
}

// along is the height of a row at x, and its slope in degrees.
func along(row []pt, x float64) (y, deg float64) {
	i := 0
	for i < len(row)-2 && row[i+1].x < x {
		i++
	}
	a, b := row[i], row[i+1]
	return a.y + (x-a.x)*(b.y-a.y)/(b.x-a.x), math.Atan2(b.y-a.y, b.x-a.x) * 180 / math.Pi
}

// toothShape is a crown from the side and from the chewing surface.
type toothShape struct {
	side    curve   // y 0 at the bone, 1 at the tip; of one unit length
	tall    float64 // in parts of its length; 0: as tall as the form's crowns
	across  crown
	lower   float64 // breadth of a lower tooth in parts of an upper one
	inset   float64 // how far it stands inwards of its row, in parts of its length
	shears  bool    // a carnassial
	grooves []curve // on the side of the crown
}

// toothShapes are named in the sheets of forms by their letters.
var toothShapes = map[byte]toothShape{
	'p': {side: loop(-.5, -.2, -.48, .15, -.06, .96, -.06, .96, .08, .9, .46, .22, .5, -.2), tall: .72, across: crown{loop(0, -.5, .42, -.2, .38, .3, 0, .5, -.38, .3, -.4, -.2), []curve{line(0, -.38, .05, 0, 0, .38)}, .52}, lower: .9},
	't': {side: loop(-.4, -.2, -.4, .3, 0, .9, .38, .35, .4, -.2), tall: .9, across: crown{ovalUnit, nil, .85}, lower: .9},
	'c': {side: loop(-.5, -.2, -.5, .25, -.34, .45, -.12, 1, -.12, 1, .10, .45, .22, .42, .36, .62, .36, .62, .5, .2, .5, -.2), tall: .58,
		across: crown{loop(-.55, -.44, -.2, -.52, .28, -.46, .44, -.1, .38, .3, .12, .5, -.06, .42, -.02, .02, -.14, -.2, -.48, -.24), []curve{line(.05, -.42, .18, -.06, .08, .4)}, .62}, lower: .62, shears: true},
	'C': {side: loop(-.5, -.2, -.5, .25, -.34, .45, -.12, 1, -.12, 1, .10, .45, .22, .42, .36, .62, .36, .62, .5, .2, .5, -.2), tall: .58,
		across: crown{loop(-.52, -.3, -.2, -.5, .3, -.46, .46, -.1, .4, .3, .18, .5, -.06, .44, -.34, .3, -.54, 0), []curve{line(.12, -.42, .22, -.06, .14, .4), line(-.34, -.26, -.42, 0, -.24, .2)}, .7}, lower: .62, shears: true},
	'm': {side: loop(-.5, -.2, -.5, .4, -.34, .8, -.34, .8, -.08, .5, .14, .78, .14, .78, .36, .45, .5, .3, .5, -.2), tall: .5,
		across: crown{loop(-.42, -.36, .44, -.5, .5, 0, .44, .46, -.42, .38, -.5, 0), []curve{line(.2, -.4, .26, -.05, .2, .38), line(-.28, -.24, -.2, 0, -.28, .26)}, 1.15}, lower: .62},
	'l': {side: loop(-.5, -.2, -.5, .5, -.3, .85, -.1, .6, .1, .7, .3, .5, .5, .28, .5, -.2), tall: .3,
		across: crown{loop(-.42, -.5, .3, -.5, .5, -.3, .42, .05, .2, .4, -.05, .5, -.36, .36, -.5, -.1), []curve{line(-.2, -.4, -.26, 0, -.1, .38), line(.2, -.4, .2, -.1, .05, .3)}, .56}, lower: .8},
	'a': {side: loop(-.5, -.2, -.5, .5, -.3, .85, -.04, .55, .22, .78, .42, .5, .5, .28, .5, -.2), tall: .34,
		across: crown{loop(-.42, -.46, .36, -.48, .5, -.2, .46, .1, .48, .36, .36, .5, -.4, .46, -.5, 0), []curve{line(-.22, -.36, -.28, 0, -.2, .36), line(.24, -.36, .2, -.04, .24, .34)}, .74}, lower: .82},
	'd': {side: loop(-.5, -.2, -.46, .5, -.1, .8, .3, .6, .5, .2, .5, -.2), tall: .55,
		across: crown{loop(-.5, -.58, -.3, -.6, -.08, -.26, .15, -.28, .42, -.38, .5, -.08, .44, .26, .15, .24, -.1, .22, -.3, .62, -.5, .58, -.56, 0), []curve{line(-.34, -.36, -.42, 0, -.34, .38), line(.3, -.24, .36, .18)}, 1.75}, lower: .4},
	'b': {side: loop(-.5, -.2, -.5, .5, -.2, .85, .1, .55, .5, .3, .5, -.2), tall: .45,
		across: crown{loop(-.5, -.4, -.1, -.5, .5, -.5, .5, -.5, .52, -.2, .2, .2, -.3, .5, -.52, .36, -.52, 0), []curve{line(-.34, -.28, .3, -.4), line(-.34, .2, .1, -.1)}, 1.15}, lower: .45},
	'j': {side: loop(-.5, -.2, -.5, .2, -.36, .7, -.36, .7, -.2, .46, -.2, .46, .02, 1, .02, 1, .14, .46, .3, .4, .46, .34, .5, .1, .5, -.2), tall: .56,
		across: crown{loop(0, -.54, .34, -.36, .44, -.08, .36, .1, .5, .24, .44, .48, 0, .52, -.46, .46, -.52, .22, -.4, .08, -.46, -.08, -.3, -.36), []curve{line(.04, -.44, .12, -.24, .12, -.24, -.06, -.22, -.06, -.22, .12, -.24, .12, -.24, .2, 0, -.24, .02), line(-.3, .18, -.34, .32, 0, .4, .32, .34, .32, .2)}, .46}, lower: 1},
	'z': {side: loop(-.5, -.2, -.5, .3, -.38, .78, -.38, .78, -.02, .34, -.02, .34, .3, 1, .3, 1, .48, .4, .5, -.2), tall: .62,
		across: crown{loop(.04, -.54, .42, -.34, .46, -.12, .26, .02, .48, .18, .36, .44, 0, .54, -.34, .4, -.44, .16, -.24, .02, -.42, -.14, -.34, -.4), []curve{line(.06, -.44, .1, -.2, -.06, 0, -.06, 0, .1, .2, .04, .44)}, .42}, lower: 1},
	'o': {side: loop(-.5, -.2, -.5, .5, -.3, .8, -.04, .68, .2, .84, .42, .7, .5, .4, .5, -.2), tall: .52,
		across: crown{loop(.42, -.46, .5, -.2, .46, .2, .42, .48, -.1, .5, -.46, .3, -.5, 0, -.44, -.32, -.1, -.5), []curve{line(.4, -.28, 0, -.22, -.36, -.02), line(.4, .14, 0, .12, -.36, -.02), line(.4, .36, 0, .34)}, 1.18}, lower: .84},
	'T': {side: loop(-.5, -.2, -.5, .5, -.3, .8, -.04, .68, .2, .84, .42, .7, .5, .4, .5, -.2), tall: .52,
		across: crown{loop(.42, -.52, .52, -.2, .52, .25, .42, .52, 0, .46, -.46, .24, -.5, -.02, -.42, -.26, 0, -.46), []curve{line(.44, -.26, -.1, -.14, -.4, 0), line(.44, .18, -.1, .1, -.4, 0)}, 1.42}, lower: .75},
	'N': {side: loop(-.49, -.2, -.5, .9, -.5, .9, 0, 1, .5, .9, .5, .9, .49, -.2), grooves: []curve{line(-.17, .05, -.17, .85), line(.17, .05, .17, .85)},
		across: crown{loop(-.3, -.5, .3, -.48, .5, -.34, .4, -.2, 0, -.12, 0, -.12, .42, -.04, .5, .1, .4, .2, .02, .26, .02, .26, .42, .32, .44, .44, .1, .5, -.3, .46, -.48, .34, -.4, .22, 0, .12, 0, .12, -.42, .06, -.5, -.06, -.4, -.18, -.02, -.26, -.02, -.26, -.42, -.3, -.48, -.42), nil, .68}, lower: .9},
	'P': {side: loop(-.5, -.2, -.48, .2, -.16, 1, -.16, 1, .14, .55, .46, .4, .5, .1, .5, -.2), tall: .75,
		across: crown{loop(-.5, -.02, -.3, -.42, .2, -.5, .5, -.3, .46, .44, .1, .48, -.36, .36), []curve{line(.24, -.34, .2, 0, .36, .34)}, 1.15}, lower: .6},
	'G': {side: loop(-.48, -.2, -.5, .92, -.5, .92, 0, .98, .5, .92, .5, .92, .48, -.2), grooves: []curve{line(0, .05, 0, .9)},
		across: crown{loop(0, -.5, .42, -.4, .38, -.2, .1, -.04, .1, -.04, .48, .14, .44, .4, 0, .5, -.44, .4, -.48, .14, -.1, -.04, -.1, -.04, -.38, -.2, -.42, -.4), nil, .95}, lower: .9},
	'H': {side: loop(-.5, -.2, -.5, .7, -.4, .9, 0, 1, .5, .9, .5, .9, .5, -.2), grooves: []curve{line(-.16, .05, -.16, .85), line(.18, .05, .18, .85)},
		across: crown{loop(.06, -.58, .34, -.36, .5, 0, .5, .46, -.44, .46, -.5, .1, -.36, -.02, -.4, -.24, -.2, -.48), []curve{line(0, -.36, .2, -.2, -.1, -.04), line(-.1, .06, .2, .2, -.1, .42), line(-.42, -.1, -.2, .06)}, .9}, lower: .66},
	'q': {side: loop(-.5, -.2, -.5, .5, -.3, .8, -.06, .5, .16, .74, .36, .5, .5, .3, .5, -.2), tall: .48,
		across: crown{loop(-.48, -.44, -.1, -.5, .4, -.46, .52, -.2, .4, .1, .3, .44, -.1, .5, -.5, .44, -.56, 0), []curve{line(.2, -.4, .24, -.05, .12, .38), line(-.4, -.36, -.46, 0, -.4, .36)}, 1.15}, lower: .5},
	's': {side: loop(-.5, -.2, -.4, .5, .1, .8, .5, .3, .5, -.2), tall: .7, across: crown{ovalUnit, nil, 2.1}, lower: .5},
	'v': {side: loop(-.5, -.2, -.5, .35, -.3, .8, -.3, .8, -.14, .45, .12, 1, .12, 1, .3, .5, .5, .3, .5, -.2), tall: .62,
		across: crown{loop(-.52, 0, -.3, -.3, .3, -.48, .52, -.4, .42, 0, .56, .5, .3, .44, -.3, .26), []curve{line(.44, -.36, -.1, -.2, -.1, -.2, .3, .02, .3, .02, -.1, .2, -.1, .2, .46, .42)}, 1.1}, lower: .6},
	'w': {side: loop(-.5, -.2, -.5, .3, -.30, 1, -.30, 1, -.10, .42, .12, .98, .12, .98, .30, .45, .44, .75, .44, .75, .5, .2, .5, -.2), tall: .7,
		across: crown{loop(-.5, -.1, -.1, -.45, .44, -.5, .5, -.2, .42, 0, .5, .25, .44, .5, -.1, .42, -.45, .2), []curve{line(.42, -.44, -.02, -.26, -.02, -.26, .34, 0, .34, 0, -.02, .24, -.02, .24, .42, .44)}, 1.25}, lower: .6},
	'u': {side: loop(-.45, -.2, -.48, .25, -.1, 1, .1, .9, .48, .2, .46, -.2), tall: .95, across: crown{ovalUnit, nil, .8}, lower: .9},
	'i': {side: loop(-.45, -.2, -.48, .25, -.1, 1, .1, .9, .48, .2, .46, -.2), tall: .95, across: crown{ovalUnit, nil, .8}, lower: .9, inset: .9},
	'f': {side: loop(-.48, -.2, -.5, .3, -.47, .92, -.47, .92, 0, .98, .47, .88, .47, .88, .5, .3, .48, -.2), grooves: []curve{line(-.1, .1, -.06, .85)},
		across: crown{loop(-.46, -.48, .46, -.48, .5, 0, .46, .48, -.46, .48, -.5, 0), []curve{line(-.42, -.22, 0, -.12, .3, -.22), line(-.3, .02, 0, .1, .44, 0), line(-.42, .28, 0, .34, .3, .26)}, 1.12}, lower: .86},
	'O': {side: loop(-.48, -.2, -.5, .3, -.47, .92, -.47, .92, 0, .98, .47, .88, .47, .88, .5, .3, .48, -.2), across: crown{ovalUnit, nil, 1.12}, lower: .86},
	'g': prismatic(5, false), 'F': prismatic(4, false), 'E': prismatic(7, true), 'L': prismatic(5, true), 'Q': prismatic(4, true),
	'r': {side: loop(-.47, -.2, -.5, .9, -.5, .9, 0, 1, .5, .88, .5, .88, .47, -.2), grooves: []curve{line(0, .05, 0, .9)},
		across: crown{loop(-.46, -.44, .46, -.42, .5, 0, .46, .44, -.46, .42, -.5, 0), []curve{line(-.48, 0, .1, .03, .3, 0)}, 1.75}, lower: .8},
	'k': {side: loop(-.5, -.2, -.5, .55, -.25, .98, -.25, .98, -.02, .6, .25, .94, .25, .94, .5, .55, .5, -.2), grooves: []curve{line(-.02, .1, -.02, .5)},
		across: crown{loop(-.46, -.46, .44, -.48, .5, -.2, .40, 0, .5, .22, .42, .48, -.46, .46, -.42, 0), []curve{line(-.3, -.4, -.02, -.24, -.3, -.05), line(-.3, .06, -.02, .22, -.3, .4), line(.1, -.4, .36, -.24, .1, -.06), line(.1, .06, .36, .22, .1, .4)}, 1.05}, lower: .62},
	'K': {side: loop(-.5, -.2, -.5, .5, -.04, .98, -.04, .98, .5, .5, .5, -.2),
		across: crown{loop(-.46, -.38, .1, -.5, .44, -.44, .5, 0, .44, .44, .1, .5, -.46, .38, -.5, 0), []curve{line(-.08, -.36, -.3, 0, -.08, .36), line(.32, -.38, .12, 0, .32, .38)}, 1.05}, lower: .62},
	'x': {side: loop(-.5, -.2, -.5, .55, -.33, .98, -.33, .98, -.17, .6, .02, .95, .02, .95, .2, .55, .34, .76, .34, .76, .5, .4, .5, -.2), grooves: []curve{line(-.17, .1, -.17, .5), line(.2, .1, .2, .45)},
		across: crown{loop(-.46, -.48, .42, -.48, .5, -.32, .38, -.15, .5, .03, .4, .2, .2, .27, .26, .44, 0, .5, -.3, .42, -.46, .2, -.42, -.14), []curve{line(-.3, -.42, .36, -.32, -.3, -.18), line(-.3, -.08, .36, .03, -.3, .16), line(-.16, .3, .08, .36, -.1, .42)}, .83}, lower: .62},
	'h': {side: loop(-.5, -.2, -.5, .9, -.5, .9, 0, 1, .5, .9, .5, .9, .5, -.2), grooves: []curve{line(-.16, .05, -.16, .85), line(.18, .05, .18, .85)},
		across: crown{loop(-.44, -.5, .46, -.46, .5, 0, .46, .5, -.44, .46, -.5, .1, -.38, -.02, -.5, -.2), []curve{line(-.1, -.4, .2, -.25, -.1, -.04), line(-.1, .06, .2, .2, -.1, .42), line(-.44, -.1, -.2, .06)}, .98}, lower: .62},
	'e': {side: loop(-.34, -.2, -.36, .6, -.2, .95, .2, .95, .36, .6, .34, -.2), tall: .85, across: crown{ovalUnit, nil, .8}, lower: .9},
	'y': {side: loop(-.5, -.2, -.5, .6, -.36, .94, -.2, .78, -.04, .98, .12, .8, .28, .94, .42, .78, .5, .5, .5, -.2),
		across: crown{loop(-.46, -.4, -.1, -.5, .36, -.46, .5, -.1, .48, .34, .1, .5, -.3, .46, -.5, .1), []curve{line(-.17, -.42, -.19, 0, -.17, .4), line(.17, -.44, .19, 0, .17, .42), line(-.44, -.12, 0, -.2, .46, -.1), line(-.44, .2, 0, .12, .46, .2)}, .78}, lower: .72},
	'n': {side: loop(-.5, -.2, -.5, .6, -.36, .94, -.2, .78, -.04, .98, .12, .8, .28, .94, .42, .78, .5, .5, .5, -.2),
		across: crown{loop(-.42, -.48, .42, -.48, .5, -.1, .44, .36, .1, .5, -.3, .44, -.5, .1), []curve{line(-.36, -.24, 0, -.3, .4, -.24), line(-.36, .02, 0, -.04, .4, .02), line(-.3, .26, 0, .2, .34, .26), line(0, -.42, 0, .42)}, .72}, lower: .72},
}

// prismatic is a vole's molar: a loop across one end, in upper teeth the front,
// then triangles by turns inward and outward, each shut off from the next.
func prismatic(fields int, rearLoop bool) toothShape {
	side := []float64{-.49, -.2, -.5, .9, -.5, .9}
	var grooves []curve
	for x := .5; x < float64(fields+1)/2-.01; x++ { // only half of the edges are seen from one side
		at := 2*x/float64(fields+1) - .5
		side = append(side, at, 1, min(.5, at+1/float64(fields+1)), .9)
		if at+1/float64(fields+1) < .49 {
			grooves = append(grooves, line(at+1/float64(fields+1), .05, at+1/float64(fields+1), .88))
		}
	}
	across := prisms(fields)
	if rearLoop {
		across.outline = across.outline.mapped(func(q pt) pt { return pt{q.x, -q.y} })
	}
	return toothShape{side: loop(append(side, .49, -.2)...), grooves: grooves, across: across, lower: .9}
}

// prisms are seen from the chewing side: edges stand out by turns, and hollows
// reach nearly to the middle across from them.
func prisms(fields int) crown {
	const edge, hollow = .5, .07
	y := func(i float64) float64 { return (i+.5)/float64(fields) - .5 }
	out := []pt{{edge, y(0)}}
	in := []pt{{-edge, y(0)}, {-.16, y(.5)}}
	for i := 1; i < fields; i++ {
		to := [2]float64{hollow, edge}
		out = append(out, pt{to[1-i%2], y(float64(i))})
		in = append(in, pt{-to[i%2], y(float64(i))})
	}
	at := []float64{0, -.5}
	for _, q := range out {
		at = append(at, q.x, q.y, q.x, q.y)
	}
	at = append(at, 0, .5)
	for _, q := range slices.Backward(in) {
		at = append(at, q.x, q.y, q.x, q.y)
	}
	return crown{outline: loop(at...), broad: .72}
}

var (
	sideIncisor = loop(-.45, -.3, -.48, .3, -.42, .92, -.42, .92, .40, 1, .40, 1, .48, .3, .45, -.3)
	sideCanine  = loop(-.46, -.16, -.50, .12, -.30, .58, .14, 1, .14, 1, .26, .55, .48, .12, .46, -.16)
)

const (
	toothWhite = "#fdfbf4"
	toothRed   = "#a8402c"
)

// sideTeeth draws the teeth of one side; upper ones hang over the lower ones.
func (k *skull) sideTeeth(j jaw) {
	k.p.open(style{weight: light, fill: toothWhite})
	defer k.p.close()
	high := k.form.number("crown", 4.6)
	list := k.cheekTeeth(j)
	for i := len(list) - 1; i >= 0; i-- {
		t := list[i]
		shape := toothShapes[t.shape]
		tall := high
		if shape.tall > 0 {
			tall = min(high*1.25, shape.tall*t.long)
		}
		y, deg := along(k.rowOf(j), t.at)
		k.sideTooth(j, toothKinds[t.kind], shape, place{pt{t.at, y}, t.long * .97, tall, deg}, toothWhite)
	}
	k.sideIncisors(j)
	k.sideCanine(j)
}

// place of a tooth from the side: its root, breadth, height and lean.
type place struct {
	root       pt
	wide, tall float64
	lean       float64
}

func (k *skull) sideTooth(j jaw, kind string, shape toothShape, at place, fill string) {
	up := 1.
	if j == lower {
		up = -1
	}
	to := func(c curve) curve { return c.placed(at.root, at.wide, up*at.tall, at.lean) }
	c := k.outline(to(shape.side), .05)
	s := style{name: k.noted("side", j, kind, c)}
	if fill != toothWhite {
		s.fill = fill
	}
	k.p.stroke(c, s)
	for _, g := range shape.grooves {
		k.p.stroke(to(g).mapped(k.mm), style{weight: faint, fill: "none"})
	}
	if k.form.texts["tips"] == "red" {
		cusps := shape.side.mapped(func(q pt) pt { return pt{q.x, max(q.y, .5)} })
		k.p.stroke(k.outline(to(cusps), 0), style{weight: faint, fill: toothRed, pale: .01})
	}
}

// noted keeps a tooth's outline for labels to point at, and names it.
func (k *skull) noted(view string, j jaw, kind string, c curve) string {
	name := view + "-" + kind
	k.keep(j.String()+" "+name, c)
	return name
}

// incisorFill is the colour of the incisors where it is known, or usual.
func (k *skull) incisorFill() string {
	tint := k.f.text("incisor_colour")
	if tint == "" {
		tint = k.form.texts["tint"]
	}
	if fill, ok := map[string]string{"orange": "#dd9a4e", "yellow": "#ecd084"}[tint]; ok {
		return fill
	}
	return toothWhite
}

// keyOf is the name that a mark or part of a jaw has in the sheet.
func keyOf(prefix string, j jaw, what string) string {
	if j == lower {
		return prefix + "lower " + what
	}
	return prefix + what
}

func (k *skull) sideIncisors(j jaw) {
	n := k.teeth.of(0, j)
	great, has := k.form.part(keyOf("side ", j, "incisor"))
	if m := k.form.marks[keyOf("mark ", j, "incisors")]; len(m) >= 5 {
		k.frontTeeth(j, n, has, m)
	}
	if !has || n == 0 {
		return
	}
	c := k.outline(great, .06)
	k.p.stroke(c, style{name: k.noted("side", j, "I", c), fill: k.incisorFill()})
	k.p.hatchFrom(c, -70, 1.3*k.p.unit, pt{-.8 * k.p.unit, -.8 * k.p.unit}, style{weight: faint, pale: .6, fill: "none"})
	for i := range k.grooves(j) {
		k.p.stroke(groove(c, (float64(i)+1.2)/3.4), style{weight: light, fill: "none"})
	}
	if k.form.texts["tips"] == "red" {
		at := lowest(c, j)
		k.p.stroke(c.mapped(func(q pt) pt { return mix(at, q, .5) }), style{weight: faint, fill: toothRed, pale: .01})
	}
}

// hasGreat reports whether a jaw has a pair of great incisors.
func (k *skull) hasGreat(j jaw) bool {
	_, great := k.form.part(keyOf("side ", j, "incisor"))
	return great && k.teeth.of(0, j) > 0
}

// grooves are how many run down each great incisor: only upper ones have any.
func (k *skull) grooves(j jaw) int {
	if j == lower {
		return 0
	}
	return int(k.form.number("grooves", 0))
}

// groove runs along a great incisor, a part of the way through its thickness.
func groove(c curve, part float64) curve {
	n := len(c.pts)
	out := curve{}
	for i := 1; i < n/2; i++ {
		out.pts = append(out.pts, mix(c.pts[i], c.pts[n-1-i], part))
	}
	return out
}

// lowest is the tip of a great incisor.
func lowest(c curve, j jaw) pt {
	at := c.pts[0]
	for _, q := range c.pts {
		if j == upper && q.y > at.y || j == lower && q.y < at.y {
			at = q
		}
	}
	return at
}

// frontTeeth stand in a line: x, y of the first and of the last, height, lean,
// and where it is not usual the size of the last in parts of the first.
// Of a pair of great incisors the others stand behind. Lower canines of a comb
// stand with the incisors.
func (k *skull) frontTeeth(j jaw, n int, great bool, m []float64) {
	incisors := n
	if great {
		n--
	} else if j == lower && k.form.texts["comb"] == "yes" {
		n += k.teeth.of(1, lower)
	}
	lean := 0.
	if len(m) > 5 {
		lean = m[5]
	}
	for i := n - 1; i >= 0; i-- {
		t := .5
		if n > 1 {
			t = float64(i) / float64(n-1)
		}
		kind := "I"
		if i >= incisors {
			kind = "C"
		}
		wide := math.Abs(m[2]-m[0]) / float64(max(n-1, 1)) * .96
		if n == 1 || wide < .5 {
			wide = m[4] * .45
		}
		root := pt{lerp(m[0], m[2], t), lerp(m[1], m[3], t)}
		size := .9 + .2*t
		if len(m) > 6 {
			size = lerp(1, m[6], t)
			wide = m[4] * .7 * size
		}
		k.sideTooth(j, kind, toothShape{side: sideIncisor}, place{root, wide, m[4] * size, lean}, k.incisorFill())
	}
}

// sideCanine is a canine where the form has one: x, y, breadth, height, lean;
// a tusk has an outline of its own.
func (k *skull) sideCanine(j jaw) {
	if k.teeth.of(1, j) == 0 || k.form.texts["comb"] == "yes" && j == lower {
		return
	}
	if tusk, ok := k.form.part(keyOf("side ", j, "tusk")); ok {
		c := k.outline(tusk, .05)
		k.p.stroke(c, style{name: k.noted("side", j, "C", c)})
		return
	}
	m := k.form.marks[keyOf("mark ", j, "canine")]
	if len(m) < 4 {
		first, _ := along(k.rowOf(j), k.rowOf(j)[0].x)
		m = []float64{k.rowOf(j)[0].x - 2.5, first, 2.4, 5}
	}
	lean := 0.
	if len(m) > 4 {
		lean = m[4]
	}
	k.sideTooth(j, "C", toothShape{side: sideCanine}, place{pt{m[0], m[1]}, m[2], m[3], lean}, toothWhite)
}
