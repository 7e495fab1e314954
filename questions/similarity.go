package questions

import (
	"math"
	"slices"

	"fieldsign/questions/catalogue"
)

// similarity is the general coefficient of Gower (1971, Biometrics 27:857-871)
// over mixed traits: the weighted mean of agreements, leaving out, pair by
// pair, what either species lacks a known value of. Agreement is 0 or 1 for a
// word, 1-|a-b|/range for the middle of a number, and for a set the share of
// members in common (Jaccard).
type similarity struct {
	columns []column
}

// column is one trait's values by species.
type column struct {
	weight float64
	span   float64   // of a numeric trait; 0 otherwise
	number []float64 // NaN: not known
	word   []int32   // -1: not known
	sets   [][]string
}

func newSimilarity(species []catalogue.Species, traits []catalogue.Trait) similarity {
	var s similarity
	for _, t := range traits {
		if t.Weight > 0 && t.From == "" {
			s.columns = append(s.columns, newColumn(species, t))
		}
	}
	return s
}

func newColumn(species []catalogue.Species, t catalogue.Trait) column {
	c := column{weight: t.Weight}
	switch t.Kind {
	case catalogue.Count, catalogue.Range:
		c.number, c.span = numbers(species, t.ID)
	case catalogue.Set:
		for _, s := range species {
			c.sets = append(c.sets, s.Values[t.ID].Members)
		}
	default:
		c.word = words(species, t.ID)
	}
	return c
}

func numbers(species []catalogue.Species, trait string) (mid []float64, span float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range species {
		x := math.NaN()
		if v := s.Values[trait]; v.Known() {
			x = (v.Lo + v.Hi) / 2
			lo, hi = min(lo, x), max(hi, x)
		}
		mid = append(mid, x)
	}
	return mid, max(hi-lo, 0)
}

func words(species []catalogue.Species, trait string) []int32 {
	code := map[string]int32{}
	var out []int32
	for _, s := range species {
		v := s.Values[trait]
		if !v.Known() {
			out = append(out, -1)
			continue
		}
		if _, seen := code[v.Text]; !seen {
			code[v.Text] = int32(len(code))
		}
		out = append(out, code[v.Text])
	}
	return out
}

// of returns the similarity of species a and b, from 0 to 1, or NaN where no
// trait of both is known.
func (s similarity) of(a, b int) float64 {
	sum, weight := 0.0, 0.0
	for i := range s.columns {
		c := &s.columns[i]
		agreement, ok := c.agreement(a, b)
		if ok {
			sum += c.weight * agreement
			weight += c.weight
		}
	}
	return sum / weight
}

func (c *column) agreement(a, b int) (float64, bool) {
	switch {
	case c.word != nil:
		if c.word[a] < 0 || c.word[b] < 0 {
			return 0, false
		}
		if c.word[a] == c.word[b] {
			return 1, true
		}
		return 0, true
	case c.sets != nil:
		return jaccard(c.sets[a], c.sets[b])
	}
	gap := math.Abs(c.number[a] - c.number[b])
	if math.IsNaN(gap) {
		return 0, false
	}
	if c.span == 0 {
		return 1, true
	}
	return 1 - gap/c.span, true
}

func jaccard(a, b []string) (float64, bool) {
	if a == nil || b == nil || len(a)+len(b) == 0 {
		return 0, false
	}
	common := 0
	for _, m := range a {
		if slices.Contains(b, m) {
			common++
		}
	}
	return float64(common) / float64(max(len(a)+len(b)-common, 1)), true
}
