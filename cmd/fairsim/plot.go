package main

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"fieldsign/hub/lab/fair"
)

// The plot's measures, in px, and its scales.
const (
	panelWidth  = 240
	panelHeight = 190
	panelSpace  = 44
	left        = 56
	top         = 64
	bottom      = 92
	bin         = 20 // ms of the gap
	bins        = 12
	lowest      = 40 // % at the foot
	plotPairs   = 6000
)

type panel struct {
	name          string
	arrival, rule []float64 // % for each bin
}

func measure(sc fair.Scenario, seed uint64) panel {
	p, r := panel{name: sc.Name}, fair.Run(sc, 2, plotPairs, seed)
	for i := range bins {
		s := r.Between(time.Duration(i*bin)*time.Millisecond, time.Duration((i+1)*bin)*time.Millisecond)
		p.arrival, p.rule = append(p.arrival, s.ByArrival()), append(p.rule, s.ByRule())
	}
	return p
}

// plot draws the share of pairs ordered rightly against the gap between the
// presses. The two lines differ in dash and mark, not in colour.
func plot(seed uint64) []byte {
	var panels []panel
	for _, sc := range []fair.Scenario{fair.Busy, fair.Jitter, fair.Cellular} {
		panels = append(panels, measure(sc, seed))
	}
	width, height := left+len(panels)*(panelWidth+panelSpace), top+panelHeight+bottom
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="title desc" font-family="Georgia, serif" font-size="13" fill="#222">`+"\n", width, height)
	fmt.Fprintf(&b, "<title id=\"title\">Pairs of presses ordered rightly, by the gap between them</title>\n<desc id=\"desc\">%s</desc>\n", describe(panels))
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="#faf6ec"/>`+"\n", width, height)
	fmt.Fprintf(&b, `<text x="%d" y="24" font-size="16">Pairs of presses ordered rightly, %%</text>`+"\n", left)
	for i, p := range panels {
		fmt.Fprintf(&b, `<g transform="translate(%d %d)">`+"\n", left+i*(panelWidth+panelSpace), top)
		p.draw(&b)
		b.WriteString("</g>\n")
	}
	legend(&b, left, height-22)
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// describe is the plot in words, for who can't see it.
func describe(panels []panel) string {
	var parts []string
	for _, p := range panels {
		mid := bins / 2
		parts = append(parts, fmt.Sprintf("%s: for gaps under %d ms %.0f %% by arrival and %.0f %% by the rule; for gaps of %d to %d ms %.0f %% and %.0f %%.",
			p.name, bin, p.arrival[0], p.rule[0], mid*bin, (mid+1)*bin, p.arrival[mid], p.rule[mid]))
	}
	return strings.Join(parts, " ")
}

func (p panel) draw(b *bytes.Buffer) {
	fmt.Fprintf(b, `<text y="-12">%s</text>`+"\n", p.name)
	for percent := lowest; percent <= 100; percent += 20 {
		fmt.Fprintf(b, `<path d="M0 %.1fH%d" stroke="#bbb" stroke-width=".7"/><text x="-8" y="%.1f" text-anchor="end">%d</text>`+"\n",
			height(float64(percent)), panelWidth, height(float64(percent))+4, percent)
	}
	for gap := 0; gap <= bins*bin; gap += 80 {
		fmt.Fprintf(b, `<path d="M%[1]d %[2]dv5" stroke="#222"/><text x="%[1]d" y="%[3]d" text-anchor="middle">%[4]d</text>`+"\n",
			gap*panelWidth/(bins*bin), panelHeight, panelHeight+20, gap)
	}
	fmt.Fprintf(b, `<text x="%d" y="%d" text-anchor="middle">gap between the presses, ms</text>`+"\n", panelWidth/2, panelHeight+40)
	fmt.Fprintf(b, `<path d="M0 0V%dH%d" fill="none" stroke="#222"/>`+"\n", panelHeight, panelWidth)
	line(b, p.arrival, false)
	line(b, p.rule, true)
}

func height(percent float64) float64 { return panelHeight * (100 - percent) / (100 - lowest) }

func line(b *bytes.Buffer, values []float64, ours bool) {
	var path, marks strings.Builder
	for i, v := range values {
		x, y := (float64(i)+0.5)*panelWidth/bins, height(v)
		fmt.Fprintf(&path, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[i == 0], x, y)
		marks.WriteString(mark(x, y, ours))
	}
	fmt.Fprintf(b, `<path d="%s" %s/>%s`+"\n", path.String(), stroke(ours), marks.String())
}

func stroke(ours bool) string {
	if ours {
		return `fill="none" stroke="#222" stroke-width="1.8"`
	}
	return `fill="none" stroke="#222" stroke-width="1.2" stroke-dasharray="6 4"`
}

func mark(x, y float64, ours bool) string {
	if ours {
		return fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="6" height="6"/>`, x-3, y-3)
	}
	return fmt.Sprintf(`<circle cx="%.1f" cy="%.1f" r="3.2" fill="#faf6ec" stroke="#222"/>`, x, y)
}

func legend(b *bytes.Buffer, x, y int) {
	for i, entry := range []struct {
		text string
		ours bool
	}{{"by the rule", true}, {"by order of arrival", false}} {
		at := x + i*160
		fmt.Fprintf(b, `<path d="M%d %dh40" %s/>%s<text x="%d" y="%d">%s</text>`+"\n",
			at, y, stroke(entry.ours), mark(float64(at+20), float64(y), entry.ours), at+48, y+4, entry.text)
	}
}
