package game

import (
	"os"
	"regexp"
	"strconv"
	"testing"
)

// A form that allows less than the rules, or more, is found here.
func TestBoundsOfThePages(t *testing.T) {
	said := map[string]int{}
	for _, page := range []struct{ file, part, each string }{
		{"parts/fields.mjs", `(?s)bounds = \{.*?\};`, `(\w+): (\d+)`},
		{"team/screens.mjs", `longestName = \d+;`, `(\w+) = (\d+)`},
	} {
		text, err := os.ReadFile("../static/" + page.file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(page.each).FindAllStringSubmatch(regexp.MustCompile(page.part).FindString(string(text)), -1) {
			said[m[1]], _ = strconv.Atoi(m[2])
		}
	}
	rules := map[string]int{
		"longestName": MaxName, "season": MaxSeason, "title": MaxTitle,
		"rounds": maxRounds, "questions": MaxQuestions, "points": maxPoints,
		"leastSeconds": minSeconds, "seconds": maxSeconds, "wait": maxWait,
		"leastStations": minStations, "stations": maxStations, "each": maxEach,
	}
	for name, want := range rules {
		if said[name] != want {
			t.Errorf("the pages have %s: %d, the rules %d", name, said[name], want)
		}
	}
	if len(said) != len(rules) {
		t.Errorf("the pages have %d bounds, and %d are compared", len(said), len(rules))
	}
}
