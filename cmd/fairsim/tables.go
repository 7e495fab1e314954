package main

import (
	"bytes"
	"fmt"
	"time"

	"fieldsign/hub/lab/fair"
)

// How many contests each row stands for, by the number of teams.
const (
	pairs    = 4000
	fives    = 600
	thirties = 200
	cheats   = 1000
)

func tables(seed uint64) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "Seed %d; for each row %d contests of 2 teams, %d of 5 and %d of 30. A press comes after %s. \"a → b\": a %% by order of arrival, b %% by the rule.\n\n",
		seed, pairs, fives, thirties, fair.People)
	b.WriteString("| Links | Stated error of a pair, median | Pairs ordered rightly | of those further apart than the error | Drawn | First of 5 | First of 30 | Waiting, median and p99 | Off by more than stated |\n")
	b.WriteString("| --- | --: | --: | --: | --: | --: | --: | --: | --: |\n")
	for _, sc := range fair.Scenarios() {
		row(&b, sc, seed)
	}
	fmt.Fprintf(&b, "\nThe cheater and its honest twin have the same kind of link; %d contests for each row. \"Allowed\" is the most that its link and the host's %d ms let it be credited before its arrival.\n\n",
		cheats, fair.Wait.Milliseconds())
	b.WriteString("| The cheater's link | The lie | Allowed | Credited too early by, mean and most | Wins | Drawn | Waiting, median |\n")
	b.WriteString("| --- | --- | --: | --: | --: | --: | --: |\n")
	for _, sc := range fair.Cheats() {
		cheat(&b, sc, seed)
	}
	return b.Bytes()
}

func row(b *bytes.Buffer, sc fair.Scenario, seed uint64) {
	two, five, thirty := fair.Run(sc, 2, pairs, seed), fair.Run(sc, 5, fives, seed), fair.Run(sc, 30, thirties, seed)
	fmt.Fprintf(b, "| **%s**: %s | %s ms | %s | %s | %.1f %% | %s | %s | %s and %s ms | %.1f %% |\n",
		sc.Name, sc.What, millis(two.Error()), share(two.All()), share(two.Apart()), two.Drawn(),
		share(five.All()), share(thirty.All()), millis(two.Waited(0.5)), millis(two.Waited(0.99)), two.Beyond())
}

func cheat(b *bytes.Buffer, sc fair.Scenario, seed uint64) {
	r := fair.Run(sc, 2, cheats, seed)
	average, largest, most := r.Gain("t1")
	fmt.Fprintf(b, "| %s | %s | %s ms | %s and %s ms | %.0f %% | %.0f %% | %s ms |\n",
		sc.What, sc.Name, millis(most), millis(average), millis(largest), r.Wins("t1"), r.Drawn(), millis(r.Waited(0.5)))
}

func share(s fair.Share) string { return fmt.Sprintf("%.1f → %.1f", s.ByArrival(), s.ByRule()) }

// millis has as many digits as tell something.
func millis(d time.Duration) string {
	ms := float64(d) / float64(time.Millisecond)
	if ms >= 10 || ms <= -10 {
		return fmt.Sprintf("%.0f", ms)
	}
	return fmt.Sprintf("%.1f", ms)
}
