//go:build linux

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// results are the figures of all passes, by server.
type results map[string][]figures

// runBench plays all passes and writes a table for each number of games.
func (c config) runBench(out io.Writer) error {
	if err := c.preface(out); err != nil {
		return err
	}
	for _, games := range c.games {
		all := results{}
		for pass := range c.passes {
			for _, name := range c.servers {
				k, _ := kindNamed(name)
				began := time.Now()
				f, err := c.runTrial(k, games)
				if err != nil {
					return err
				}
				all[name] = append(all[name], f)
				fmt.Fprintf(os.Stderr, "pass %d of %d, %d games, %s: %.0f s\n", pass+1, c.passes, games, name, time.Since(began).Seconds())
			}
		}
		c.write(out, games, all)
	}
	return nil
}

func (c config) preface(out io.Writer) error {
	sync, err := syncTime()
	if err != nil {
		return err
	}
	fmt.Fprintf(out, `# The hub under load

Made by cmd/fieldbench, whose package comment tells the method.

%s, %s on %s/%s, %d cores shared by server and phones, the disk syncs a page in %.2f ms (median).
%d phones, %d rounds for each measure, %d passes with the servers in turn.

Times are ratios to %s in the same pass: the median over the passes, in brackets the least
and the most. **Times are noisy: ratios under 1.3 from few passes are no difference.** Bytes repeat to about 1 %%.

`, time.Now().UTC().Format("2 January 2006"), runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), sync.Seconds()*1000, c.phones, c.rounds, c.passes, c.base)
	for _, name := range c.servers {
		k, _ := kindNamed(name)
		fmt.Fprintf(out, "- **%s**: %s\n", k.name, k.about)
	}
	return nil
}

func (c config) write(out io.Writer, games int, all results) {
	fmt.Fprintf(out, "\n## %d phones in %d %s of %d\n\n%s\n%s", c.phones, games, plural(games, "game", "games"), c.phones/games, c.times(games, all), c.costs(all))
}

// times is the table of what the phones wait for.
func (c config) times(games int, all results) string {
	measures := []struct {
		what string
		of   func(figures) []time.Duration
	}{
		{"fan-out of one game", func(f figures) []time.Duration { return f.One }},
		{"fan-out of all at once", func(f figures) []time.Duration { return f.All }},
		{"buzz to verdict", func(f figures) []time.Duration { return f.Buzz }},
	}
	if games == 1 {
		measures = measures[1:]
		measures[0].what = "fan-out"
	}
	var t table
	head := []string{"server"}
	for _, m := range measures {
		head = append(head, m.what+", median", "p99")
	}
	t.head(head...)
	for _, name := range c.servers {
		row := []string{name}
		for _, m := range measures {
			for _, q := range []float64{.5, .99} {
				row = append(row, c.cell(name, all, func(f figures) float64 { return quantile(m.of(f), q).Seconds() * 1000 }, "%.2f", "ms"))
			}
		}
		t.row(row...)
	}
	return t.String()
}

// costs is the table of what the server spends.
func (c config) costs(all results) string {
	var t table
	head := []string{"server", "CPU for each message", "memory for each phone, idle before traffic", "after traffic", "frames to a phone for each question", "their bytes", "bytes to a console"}
	if c.stalled > 0 {
		head = append(head, fmt.Sprintf("fan-out with 1 phone in %d stalled, over that without, median", c.stalled), "its slowest round likewise")
	}
	t.head(head...)
	for _, name := range c.servers {
		own := all[name]
		column := func(of func(figures) float64, format, unit string) string { return spread(each(own, of), format, unit) }
		row := []string{name,
			c.cell(name, all, func(f figures) float64 { return f.CPU.Seconds() * 1e6 }, "%.1f", "µs"),
			column(func(f figures) float64 { return f.Before / 1000 }, "%.1f", "kB"),
			column(func(f figures) float64 { return f.After / 1000 }, "%.1f", "kB"),
			column(func(f figures) float64 { return f.Frames }, "%.1f", ""),
			column(func(f figures) float64 { return f.Bytes / 1000 }, "%.1f", "kB"),
			column(func(f figures) float64 { return f.Console / 1000 }, "%.1f", "kB")}
		if c.stalled > 0 {
			row = append(row, stalledCell(own, .5), stalledCell(own, 1))
		}
		t.row(row...)
	}
	return t.String()
}

// table is rows of Markdown.
type table struct{ strings.Builder }

func (t *table) head(cells ...string) {
	t.row(cells...)
	t.WriteString("|" + strings.Repeat(" --- |", len(cells)) + "\n")
}

func (t *table) row(cells ...string) { t.WriteString("| " + strings.Join(cells, " | ") + " |\n") }

// cell is the ratio to the base, pass by pass; the base's own cell says how
// much it is.
func (c config) cell(name string, all results, of func(figures) float64, format, unit string) string {
	own, base := each(all[name], of), each(all[c.base], of)
	if name == c.base {
		return spread(own, format, unit)
	}
	for pass := range own {
		own[pass] /= base[pass]
	}
	return spread(own, "%.2f", "")
}

// stalledCell compares a quantile with stalled phones to that without.
func stalledCell(own []figures, q float64) string {
	held := 0
	var ratios []float64
	for _, f := range own {
		if f.HeldUp {
			held++
			continue
		}
		ratios = append(ratios, float64(quantile(f.Stalled, q))/float64(quantile(f.All, q)))
	}
	switch {
	case held == len(own):
		return "held up"
	case held > 0:
		return fmt.Sprintf("held up in %d of %d passes", held, len(own))
	}
	return spread(ratios, "%.2f", "")
}

// spread is the median of a figure over the passes, with its least and most
// where they differ.
func spread(x []float64, format, unit string) string {
	number := func(x float64) string { return fmt.Sprintf(format, x) }
	text := strings.TrimSpace(number(middle(x)) + " " + unit)
	if least, most := number(slices.Min(x)), number(slices.Max(x)); least != most {
		text += " (" + least + "–" + most + ")"
	}
	return text
}

func each(all []figures, of func(figures) float64) []float64 {
	var out []float64
	for _, f := range all {
		out = append(out, of(f))
	}
	return out
}

func middle(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}

// quantile takes the nearest rank.
func quantile(d []time.Duration, q float64) time.Duration {
	d = slices.Sorted(slices.Values(d))
	return d[int(q*float64(len(d)-1)+.5)]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// syncTime is how long the disk under the temporary folder takes to keep a
// page: the least that a durable event waits.
func syncTime() (time.Duration, error) {
	dir, err := os.MkdirTemp("", "fieldbench")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	f, err := os.Create(filepath.Join(dir, "page"))
	if err != nil {
		return 0, err
	}
	defer f.Close()
	var took []time.Duration
	for i := range 21 {
		start := time.Now()
		if _, err := f.WriteAt(make([]byte, 4096), int64(i)*4096); err != nil {
			return 0, err
		}
		if err := f.Sync(); err != nil {
			return 0, err
		}
		took = append(took, time.Since(start))
	}
	return quantile(took, .5), nil
}
