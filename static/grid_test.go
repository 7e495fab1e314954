package static

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	paper   = regexp.MustCompile(`(?s)@media print \{.*?\n\}\n`)
	remark  = regexp.MustCompile(`(?s)/\*.*?\*/`)
	rule    = regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	spaced  = regexp.MustCompile(`^(padding|margin|scroll-padding|scroll-margin|gap|row-gap|column-gap)(-|$)`)
	tall    = regexp.MustCompile(`^(min-|max-)?height$`)
	length  = regexp.MustCompile(`(?:^|[ (/,+*-])(-?[\d.]+)(rem|px|em|vh|vw|dvh|cm|mm|pt)\b`)
	sizes   = regexp.MustCompile(`^(font|font-size)$`)
	scaled  = regexp.MustCompile(`var\(--(half|s[12346]|small|text|large|title|figure|size)\)`)
	ofBoard = []string{"style/board.css", "style/tournament.css"}
)

// Spaces are of one scale, on a grid of 8 pixels, and type is of four sizes. What
// a board fits to its screen is in shares of that type or of the screen; paper has
// measures of its own.
func TestSpacesAndTypeAreOfOneScale(t *testing.T) {
	found := 0
	each(t, ".css", func(name, text string) {
		for _, m := range rule.FindAllStringSubmatch(remark.ReplaceAllString(paper.ReplaceAllString(text, ""), ""), -1) {
			selector := strings.TrimSpace(m[1])
			for declared := range strings.SplitSeq(m[2], ";") {
				property, value, _ := strings.Cut(strings.TrimSpace(declared), ":")
				if offGrid(property, value, slices.Contains(ofBoard, name) || strings.Contains(selector, ".board") || selector == ".picture") {
					t.Errorf("%s: %s {%s:%s } is no space or size of the scale at the top of style.css", name, selector, property, value)
				}
				found += len(scaled.FindAllString(value, -1))
			}
		}
	})
	if found < 300 {
		t.Fatalf("%d uses of the scale: the patterns no longer fit the sheets", found)
	}
}

// offGrid tells whether a declaration has a length of its own where one of the
// scale belongs; fitted is what grows with a board's screen.
func offGrid(property, value string, fitted bool) bool {
	for _, m := range length.FindAllStringSubmatch(value, -1) {
		n, unit := number(m[1]), m[2]
		switch {
		case n == 0:
		case spaced.MatchString(property):
			whole := unit == "rem" && n >= 4 && n == math.Trunc(n) // wide ones: what sticks to a page's end
			if !whole && !(fitted && unit != "rem" && unit != "px") && !inWords(unit, n) {
				return true
			}
		case tall.MatchString(property) && unit == "rem" && !fitted:
			if n*2 != math.Trunc(n*2) {
				return true
			}
		case sizes.MatchString(property):
			if !fitted && !inWords(unit, n) {
				return true
			}
		}
	}
	return false
}

// inWords is a length in a line of words, such as a key's frame: a share of its type.
func inWords(unit string, n float64) bool { return unit == "em" && n <= 1 }

func number(text string) float64 {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err) // the pattern lets only numbers in
	}
	return n
}
