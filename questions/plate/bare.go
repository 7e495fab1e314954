package plate

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Bare is a drawing without its ruler, its bar and its words, cut to what is
// left: for a page to be adorned with, where nothing is measured.
func Bare(svg string) string {
	i := strings.Index(svg, "<text")
	if i < 0 {
		return svg
	}
	body := svg[strings.Index(svg, "<g"):strings.LastIndex(svg[:i], "<path")] // whose last path is the ruler
	var b box
	for _, m := range outline.FindAllStringSubmatch(body, -1) {
		b = reach(m[1], b)
	}
	b = b.grown(1, 1, 1, 1)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="%.1f %.1f %.1f %.1f">`, b.lo.x, b.lo.y, b.w(), b.h()) + body + "</g></svg>"
}

var (
	outline = regexp.MustCompile(` d="([^"]*)"`)
	step    = regexp.MustCompile(`([A-Za-z])([^A-Za-z]*)`)
	figure  = regexp.MustCompile(`-?(?:\d*\.\d+|\d+)`)
)

// figures are how many each kind of step takes.
var figures = map[string]int{"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4}

// reach widens a box by the points and handles of a path that the pen has written.
func reach(path string, b box) box {
	var at, start pt
	for _, m := range step.FindAllStringSubmatch(path, -1) {
		kind := strings.ToLower(m[1])
		if kind == "z" {
			at = start
			continue
		}
		n := figure.FindAllString(m[2], -1)
		for size := figures[kind]; len(n) >= size; n = n[size:] {
			from := at
			for i := 0; i < size; i += 2 {
				at = stepped(kind, m[1] == kind, n[i:size], from)
				b = b.with(at)
			}
			if kind == "m" {
				start = at
			}
		}
	}
	return b
}

// stepped is the point that the first figures lead to, seen from where the step
// begins or, unless near, from the origin.
func stepped(kind string, near bool, n []string, from pt) pt {
	f := func(i int, base float64) float64 {
		x, err := strconv.ParseFloat(n[i], 64)
		if err != nil {
			panic(err) // the pattern has it a figure
		}
		if near {
			x += base
		}
		return x
	}
	switch kind {
	case "h":
		return pt{f(0, from.x), from.y}
	case "v":
		return pt{from.x, f(0, from.y)}
	}
	return pt{f(0, from.x), f(1, from.y)}
}
