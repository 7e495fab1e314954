package fair

import (
	"fmt"
	"hash/fnv"
	"reflect"
	"testing"
	"time"
)

const seed = 20260501

// At jitter up to 200 ms, of the pairs further apart than the stated error at
// least 99 in 100 are ordered rightly, and under 85 by arrival. Presses are
// drawn as People says.
func TestJitter(t *testing.T) {
	r := Run(Jitter, 2, 6000, seed)
	apart := r.Apart()
	t.Logf("%d of %d pairs apart by more than the error, median %v: %.2f %% by arrival, %.2f %% by the rule; drawn %.1f %%",
		apart.Of, r.All().Of, r.Error(), apart.ByArrival(), apart.ByRule(), r.Drawn())
	if apart.Of < r.All().Of/2 || apart.ByRule() < 99 || apart.ByArrival() >= 85 {
		t.Errorf("seed %d: %+v", uint64(seed), apart)
	}
	if r.Beyond() > 0.1 {
		t.Errorf("%.2f %% of presses are off by more than their stated error", r.Beyond())
	}
}

func TestNobodyWaitsLongerThanTheHostAllows(t *testing.T) {
	for _, sc := range Scenarios() {
		if w := Run(sc, 5, 200, seed).Waited(1); w > Wait+time.Millisecond {
			t.Errorf("%s: the buzz was given after %v", sc.Name, w)
		}
	}
}

// With equal delays the rule and the order of arrival agree in every contest,
// however the clocks drift.
func TestEqualDelays(t *testing.T) {
	for _, teams := range []int{2, 5, 30} {
		for _, c := range Run(EqualDelays, teams, 2000/teams, seed).contests {
			if c.winner != c.presses[0].team {
				t.Errorf("%d teams: %s won over %s, %v later; drawn: %v", teams, c.winner, c.presses[0].team, c.gap(), c.drawn)
			}
		}
	}
}

// A changed page gains next to nothing on a good link, whatever it says.
func TestAPagesLiesGainLittle(t *testing.T) {
	for _, sc := range Cheats()[1:6] {
		r := Run(sc, 2, 1000, seed)
		if _, largest, _ := r.Gain("t1"); largest > 15*time.Millisecond || r.Wins("t1") > 53 {
			t.Errorf("%s: gains %v, wins %.1f %%", sc.Name, largest, r.Wins("t1"))
		}
	}
}

// A cheater is credited no earlier than its link was seen to take, nor than
// the round waits, however it lies.
func TestCheatersGain(t *testing.T) {
	for _, sc := range Cheats() {
		r := Run(sc, 2, 1000, seed)
		_, largest, most := r.Gain("t1")
		if n := r.Exceeded(); n > 0 || largest > most || most > Wait {
			t.Errorf("%s, %s: %d presses beyond their limit; %v gained of at most %v", sc.What, sc.Name, n, largest, most)
		}
	}
	honest := Run(Cheats()[0], 2, 4000, seed)
	if w := honest.Wins("t1"); w < 47 || w > 53 {
		t.Errorf("of honest twins the first wins %.1f %%", w)
	}
}

// A simulator that told nothing from anything would pass for fair, too.
func TestTheSimulatorCanTell(t *testing.T) {
	honest, cheater := Run(Cheats()[0], 2, 1000, seed), Run(Cheats()[6], 2, 1000, seed)
	if cheater.Wins("t1") < honest.Wins("t1")+20 {
		t.Errorf("a cheater credited 200 ms too early wins %.1f %%, an honest phone %.1f %%", cheater.Wins("t1"), honest.Wins("t1"))
	}
	if all := Run(Jitter, 2, 1000, seed).All(); all.ByRule() < all.ByArrival()+10 {
		t.Errorf("the rule is hardly better than arrival: %+v", all)
	}
}

func TestSameSeedSameWorld(t *testing.T) {
	run := func(seed uint64) []contest { return Run(Cellular, 5, 150, seed).contests }
	if !reflect.DeepEqual(run(1), run(1)) {
		t.Error("two worlds of one seed differ")
	}
	if reflect.DeepEqual(run(1), run(2)) {
		t.Error("two worlds of different seeds are the same")
	}
}

// Frames of one socket never overtake each other, and every contest is complete.
func TestContestsAreComplete(t *testing.T) {
	for _, sc := range Scenarios() {
		for i, c := range Run(sc, 5, 100, seed).contests {
			if len(c.presses) != 5 || c.winner == "" || c.presses[0].lost {
				t.Fatalf("%s, question %d: %+v", sc.Name, i+1, c)
			}
			for k, p := range c.presses[1:] {
				if p.arrived < c.presses[k].arrived || p.arrived < p.truth {
					t.Fatalf("%s, question %d: out of order: %+v", sc.Name, i+1, c.presses)
				}
			}
		}
	}
}

// Who follows docs/fairness.md, with anyone's FNV-1a, draws the same team.
func TestTheDrawCanBeDrawnAgain(t *testing.T) {
	h := meet(Jitter, 5, meeting, seed)
	draws := 0
	for i, c := range h.contests {
		if len(c.drawn) == 0 {
			continue
		}
		draws++
		hash := fnv.New64a()
		fmt.Fprintf(hash, "%d\nq%d\n", h.state.Plan.Seed, i+1)
		for _, team := range c.drawn {
			fmt.Fprintln(hash, team)
		}
		sum := hash.Sum64()
		if again := c.drawn[(sum^sum>>32)%uint64(len(c.drawn))]; again != c.winner {
			t.Errorf("question %d: drawn among %v: %s, and again: %s", i+1, c.drawn, c.winner, again)
		}
	}
	if draws == 0 {
		t.Error("no draw in a whole meeting: the test tests nothing")
	}
}
