package debrief

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fieldsign/game"
)

// What became of a question.
const (
	Closed   = "closed"
	Void     = "void"     // skipped, or its points taken back
	Unclosed = "unclosed" // still open when the log ended
)

// Why a question deserves a look before it is asked again.
const (
	Negative  = "negative"  // the better teams got it wrong more often than the others
	Nobody    = "nobody"    // nobody was right
	Everybody = "everybody" // nobody was wrong
)

// Item is a question as it was played. Round and Number count from 0.
type Item struct {
	Round   int       `json:"round"`
	Number  int       `json:"number"`
	Kind    game.Kind `json:"kind"`
	Status  string    `json:"status"`
	At      int64     `json:"at"` // ms of the game's clock after the first question's opening
	ID      string    `json:"id"`
	Subject string    `json:"subject"`
	Prompt  string    `json:"prompt"`
	Options []string  `json:"options"`
	Key     int       `json:"key"`
	About   About     `json:"about"`

	Share    Share     `json:"share"`    // of the teams that count; the difficulty
	Answered int       `json:"answered"` // of these, how many gave an answer
	Picks    []int     `json:"picks"`    // by option; spoken answers are in none
	Time     Quartiles `json:"time"`     // to the answer, or to the press
	Answers  []Answer  `json:"answers"`  // by team, in the report's order: a column of the heat map

	// Undefined in buzz rounds and where marks or totals don't vary.
	PointBiserial Figure   `json:"pointBiserial"` // item with total
	Corrected     Figure   `json:"corrected"`     // item with the rest, itself left out
	D             Figure   `json:"d"`             // share right in the upper less that in the lower 27 %
	Flags         []string `json:"flags"`
}

// tally sums up an item's answers.
func (it *Item) tally() {
	it.Picks, it.Flags = make([]int, len(it.Options)), []string{}
	it.PointBiserial, it.Corrected, it.D = undefined, undefined, undefined
	right, of := 0, 0
	var times []int64
	for _, a := range it.Answers {
		r, n := a.Mark.count()
		right, of = right+r, of+n
		if a.Ms >= 0 {
			times = append(times, a.Ms)
		}
		if a.Option >= 0 {
			it.Picks[a.Option]++
		}
	}
	it.Share, it.Answered, it.Time = ShareOf(right, of), len(times), quartilesOf(times)
	if it.examined() && right == 0 {
		it.Flags = append(it.Flags, Nobody)
	}
	if it.examined() && right == of {
		it.Flags = append(it.Flags, Everybody)
	}
}

// examined reports whether an item belongs to the test statistics.
func (it *Item) examined() bool { return it.Kind != game.Buzz && it.Share.Of > 0 }

// Test is what the open and station rounds of a game are worth as a test. Variances are
// the population's. A game with few teams or questions is Small: that the
// figures then mean little is common practice (fewer than 30 teams or 10
// questions), not a theorem.
type Test struct {
	Teams int    `json:"teams"` // that counted for all questions
	Items int    `json:"items"`
	Mean  Figure `json:"mean"` // right answers of a team
	SD    Figure `json:"sd"`
	KR20  Figure `json:"kr20"`
	KR21  Figure `json:"kr21"` // as if all questions were equally difficult
	SEM   Figure `json:"sem"`  // standard error of measurement, from KR-20

	Small   bool   `json:"small"`
	Caution string `json:"caution"`
}

const (
	fewTeams = 30
	fewItems = 10
)

// exam is the table behind the test statistics: 1 or 0 for each team that
// counted for all items.
type exam struct {
	items  []*Item
	marks  [][]int // by item, then by team
	totals []int   // by team
}

// examine computes the test statistics and each item's part in them.
func examine(items []Item, teams int) Test {
	x := examOf(items, teams)
	for i, it := range x.items {
		it.PointBiserial = correlation(x.marks[i], x.totals)
		it.Corrected = correlation(x.marks[i], x.rest(i))
		it.D = discrimination(x.marks[i], x.totals)
		if it.Corrected < 0 {
			it.Flags = append(it.Flags, Negative)
		}
	}
	return x.test()
}

func examOf(items []Item, teams int) exam {
	var x exam
	for i := range items {
		if items[i].examined() {
			x.items = append(x.items, &items[i])
			x.marks = append(x.marks, nil)
		}
	}
	for t := range teams {
		missing := func(it *Item) bool { return it.Answers[t].Mark == Apart }
		if len(x.items) == 0 || slices.ContainsFunc(x.items, missing) {
			continue
		}
		total := 0
		for i, it := range x.items {
			right, _ := it.Answers[t].Mark.count()
			x.marks[i] = append(x.marks[i], right)
			total += right
		}
		x.totals = append(x.totals, total)
	}
	return x
}

func (x exam) rest(item int) []int {
	rest := slices.Clone(x.totals)
	for t, m := range x.marks[item] {
		rest[t] -= m
	}
	return rest
}

// test computes KR-20 and KR-21 (Kuder and Richardson 1937, Psychometrika 2:151-160).
func (x exam) test() Test {
	t := Test{Teams: len(x.totals), Items: len(x.items), SD: undefined, KR20: undefined, KR21: undefined, SEM: undefined}
	mean, variance := spread(x.totals)
	t.Mean = mean
	t.Small = t.Teams < fewTeams || t.Items < fewItems
	switch {
	case t.Teams == 0:
		t.Caution = "There are no figures on the test as a whole: no team counted for all questions of open and station rounds."
	case t.Small:
		t.Caution = fmt.Sprintf("These figures rest on %d teams and %d questions. By common practice they mean little with fewer than %d teams or %d questions.", t.Teams, t.Items, fewTeams, fewItems)
	}
	if variance.Defined() {
		t.SD = Figure(math.Sqrt(float64(variance)))
	}
	if t.Items < 2 || !(variance > 0) {
		return t
	}
	pq := Figure(0)
	for _, marks := range x.marks {
		_, v := spread(marks)
		pq += v
	}
	k := Figure(t.Items)
	t.KR20 = k / (k - 1) * (1 - pq/variance)
	t.KR21 = k / (k - 1) * (1 - mean*(k-mean)/(k*variance))
	t.SEM = t.SD * Figure(math.Sqrt(float64(1-t.KR20)))
	return t
}

// discrimination is D (Kelley 1939, J. Educ. Psychol. 30:17-24): the share
// right among the best 27 % of the teams less that among the worst 27 %.
func discrimination(marks, totals []int) Figure {
	if _, variance := spread(totals); !(variance > 0) {
		return undefined
	}
	order := make([]int, len(totals))
	for t := range order {
		order[t] = t
	}
	size := max(1, int(math.Round(0.27*float64(len(totals)))))
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(totals[b], totals[a]) })
	upper := rightAmong(order, size, marks, totals)
	slices.Reverse(order)
	return upper - rightAmong(order, size, marks, totals)
}

// rightAmong is the share right among the first teams of an order. Where teams
// with equal totals compete for the last places, each has its part of them, so
// that no order among equals decides.
func rightAmong(order []int, size int, marks, totals []int) Figure {
	sum, room := 0.0, size
	for len(order) > 0 && room > 0 {
		tied, right := 0, 0
		for tied < len(order) && totals[order[tied]] == totals[order[0]] {
			right += marks[order[tied]]
			tied++
		}
		taken := min(room, tied)
		sum += float64(taken*right) / float64(tied)
		room -= taken
		order = order[tied:]
	}
	return Figure(sum / float64(size))
}
