package debrief

import (
	"cmp"
	"maps"
	"slices"
)

// Matrix is what was taken for what in one subject. Counts[k][t] are the
// answers to questions whose key is Names[k] that took it for Names[t]; the
// diagonal holds the right ones.
type Matrix struct {
	Subject string   `json:"subject"`
	Of      string   `json:"of"` // species or traits
	Names   []string `json:"names"`
	Counts  [][]int  `json:"counts"`
}

// What a matrix is of.
const (
	OfSpecies = "species"
	OfTraits  = "traits"
)

type mixup struct{ key, taken string }

// confusions makes the matrices, species before traits, by subject.
func confusions(items []Item) []Matrix {
	out := []Matrix{}
	for _, of := range []string{OfSpecies, OfTraits} {
		bySubject := map[string]map[mixup]int{}
		for i := range items {
			it := &items[i]
			names := it.About.Species
			if of == OfTraits {
				names = it.About.Stated
			}
			if bySubject[it.Subject] == nil {
				bySubject[it.Subject] = map[mixup]int{}
			}
			it.mixups(names, bySubject[it.Subject])
		}
		for _, subject := range slices.Sorted(maps.Keys(bySubject)) {
			if counts := bySubject[subject]; len(counts) > 0 {
				out = append(out, matrixOf(subject, of, counts))
			}
		}
	}
	return out
}

// mixups counts an item's picks under its options' names. A wrong option of
// the key's own name (two statements on one trait) is no confusion of names.
func (it *Item) mixups(names []string, counts map[mixup]int) {
	for o, taken := range names {
		if n := it.Picks[o]; n > 0 && (o == it.Key || taken != names[it.Key]) {
			counts[mixup{names[it.Key], taken}] += n
		}
	}
}

func matrixOf(subject, of string, counts map[mixup]int) Matrix {
	var names []string
	for m := range counts {
		names = append(names, m.key, m.taken)
	}
	slices.Sort(names)
	m := Matrix{Subject: subject, Of: of, Names: slices.Compact(names)}
	for _, key := range m.Names {
		row := make([]int, len(m.Names))
		for t, taken := range m.Names {
			row[t] = counts[mixup{key, taken}]
		}
		m.Counts = append(m.Counts, row)
	}
	return m
}

// Pair is two species taken for each other more often than guessing explains.
type Pair struct {
	Subject  string `json:"subject"`
	A        string `json:"a"`
	B        string `json:"b"`
	Share    Share  `json:"share"`    // Right: answers that mixed the two up; Of: answers that could have
	Expected Figure `json:"expected"` // the share without a confusion
}

// chance counts how often two species were mixed up and could have been.
type chance struct {
	count, of int
	expected  float64
}

type pairs map[Pair]chance // only subject and names are set in the key

func (p pairs) add(subject, a, b string, c chance) {
	if a == "" || b == "" || a == b {
		return
	}
	at := Pair{Subject: subject, A: min(a, b), B: max(a, b)}
	sum := p[at]
	p[at] = chance{sum.count + c.count, sum.of + c.of, sum.expected + c.expected}
}

// leastMixups: one mistake is no confusion.
const leastMixups = 2

// confused ranks the pairs by the lower Wilson bound of the share of answers
// that mixed them up. A pair is listed where that bound lies above the share
// expected without a confusion.
func confused(items []Item) []Pair {
	out := []Pair{}
	for pair, c := range chances(items) {
		pair.Share, pair.Expected = ShareOf(c.count, c.of), Figure(c.expected/float64(c.of))
		if c.count >= leastMixups && pair.Share.Low > pair.Expected {
			out = append(out, pair)
		}
	}
	slices.SortFunc(out, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(b.Share.Low, a.Share.Low), cmp.Compare(b.Share.Right, a.Share.Right),
			cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
	})
	return out
}

func chances(items []Item) pairs {
	all := pairs{}
	mistaken := mistakes(items)
	for i := range items {
		it := &items[i]
		given := it.given()
		if given == 0 {
			continue
		}
		for o, taken := range it.About.Species {
			all.add(it.Subject, it.About.Species[it.Key], taken, chance{it.Picks[o], given, it.expected(o, mistaken)})
		}
		if two := it.About.Animals; len(two) == 2 {
			all.add(it.Subject, two[0], two[1], chance{given - it.Picks[it.Key], given, mistaken * float64(given)})
		}
	}
	return all
}

// expected is how many would have taken a wrong option for the key without
// confusing the two: the option's part of the mistakes usual in the game, or
// what the question's other wrong options got on average, if that is more. So
// a question that is hard all over makes no pair.
func (it *Item) expected(option int, mistaken float64) float64 {
	given, options := it.given(), len(it.Options)
	usual := mistaken * float64(given) / float64(options-1)
	if options == 2 {
		return usual
	}
	return max(usual, float64(given-it.Picks[it.Key]-it.Picks[option])/float64(options-2))
}

// given counts the answers whose option is known.
func (it *Item) given() int {
	n := 0
	for _, p := range it.Picks {
		n += p
	}
	return n
}

// mistakes is the share of wrong answers among all given ones.
func mistakes(items []Item) float64 {
	wrong, all := 0, 0
	for i := range items {
		given := items[i].given()
		all += given
		wrong += given - items[i].Picks[items[i].Key]
	}
	return float64(wrong) / float64(max(all, 1))
}
