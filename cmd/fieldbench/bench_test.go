//go:build linux

package main

import (
	"os"
	"strings"
	"testing"
	"time"
)

// The servers under test are this binary started again.
func TestMain(m *testing.M) {
	if kind := os.Getenv(kindVariable); kind != "" {
		serveAsChild(kind)
		return
	}
	if target := os.Getenv(hostileVariable); target != "" {
		serveAsHostile(target)
		return
	}
	os.Exit(m.Run())
}

func TestEveryServerGivesEveryFigure(t *testing.T) {
	c := config{phones: 20, games: []int{2}, rounds: 2, passes: 1, servers: kindNames(), base: floor, stalled: 10, filling: 2}
	all := results{}
	for _, k := range kinds {
		f, err := c.runTrial(k, 2)
		if err != nil {
			t.Fatal(err)
		}
		all[k.name] = []figures{f}
		for what, times := range map[string][]time.Duration{"one game": f.One, "all games": f.All, "buzz": f.Buzz, "stalled": f.Stalled} {
			if len(times) != c.rounds || quantile(times, 0) <= 0 {
				t.Errorf("%s, %s: times %v, want %d", k.name, what, times, c.rounds)
			}
		}
		if f.CPU <= 0 || f.Before <= 0 || f.After <= 0 || f.Frames < 2 || f.HeldUp {
			t.Errorf("%s: %+v lacks a figure", k.name, f)
		}
	}
	var out strings.Builder
	c.write(&out, 2, all)
	for _, k := range kinds {
		if n := strings.Count(out.String(), "| "+k.name+" |"); n != 2 {
			t.Errorf("%s has %d rows in the report, want 2:\n%s", k.name, n, &out)
		}
	}
	if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") {
		t.Errorf("a figure is none:\n%s", &out)
	}
}

func TestSoakLeavesNothingBehind(t *testing.T) {
	c := config{phones: 20, games: []int{2}, soak: 4 * time.Second}
	var out strings.Builder
	if err := c.runSoak(&out); err != nil {
		t.Fatalf("%v\n%s", err, &out)
	}
	if !strings.Contains(out.String(), "| 4s | 20 | 0 |") {
		t.Errorf("not all phones stayed:\n%s", &out)
	}
}

func TestFloodIsTimed(t *testing.T) {
	c := config{phones: 20, games: []int{1}, rounds: 5, passes: 1, gap: 100 * time.Millisecond}
	var out strings.Builder
	if err := c.runFlood(&out); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "\n| "); n != 4 {
		t.Errorf("%d rows, want 4:\n%s", n, &out)
	}
}

// A frame is put together from pieces of any size, and one too big is passed over.
func TestFramesInPieces(t *testing.T) {
	long := textFrame([]byte(strings.Repeat("x", biggest+1)))
	stream := append(append(textFrame([]byte("one")), long...), textFrame([]byte(strings.Repeat("two", 100)))...)
	for _, size := range []int{1, 2, 3, 7, 1000, len(stream)} {
		var got []string
		c := &crowd{each: func(_ *conn, frame []byte) { got = append(got, string(frame)) }}
		k := &conn{}
		for i := 0; i < len(stream); i += size {
			c.take(k, stream[i:min(i+size, len(stream))])
		}
		if len(got) != 2 || got[0] != "one" || len(got[1]) != 300 {
			t.Errorf("in pieces of %d: got %q", size, got)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, args := range [][]string{{"-games", "3"}, {"-games", "x"}, {"-servers", "none"}, {"-rounds", "0"}, {"-flood"}, {"-phones", "10000000", "-games", "1"}} {
		if _, err := parse(args); err == nil {
			t.Errorf("%v was accepted", args)
		}
	}
}
