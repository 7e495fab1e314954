package gate

import (
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// at is a guard whose clock the test turns.
func at(joins int) (*Gate, *time.Time) {
	g, now := New(joins, "", nil), time.Unix(1_000_000, 0)
	g.now = func() time.Time { return now }
	return g, &now
}

const (
	school  = "192.0.2.7:1000"
	another = "192.0.2.8:1000"
)

func TestGuessesOfCodesAreBounded(t *testing.T) {
	t.Parallel()
	g, now := at(0)
	g.Code(school, "known-one-11", true)
	for i := range wrongCodesPerMin {
		if _, ok := g.Code(school, "x", false); !ok {
			t.Fatalf("wrong code %d was not answered", i+1)
		}
	}
	if wait, ok := g.Code(school, "x", false); ok || wait != 12*time.Second {
		t.Errorf("beyond the bound: %v, wait %v", ok, wait)
	}
	if _, ok := g.Code(school, "new-one-22", true); ok {
		t.Error("beyond the bound a right guess is told from a wrong one")
	}
	for range 600 {
		if _, ok := g.Code(school, "known-one-11", true); !ok {
			t.Fatal("a class that plays is kept out by another's guesses")
		}
	}
	if _, ok := g.Code(another, "x", false); !ok {
		t.Error("another address is kept out")
	}
	*now = now.Add(12 * time.Second)
	if _, ok := g.Code(school, "new-one-22", true); !ok {
		t.Error("after the wait a code is not answered")
	}
}

func TestGuessesOfAllAddressesAreBounded(t *testing.T) {
	t.Parallel()
	g, _ := at(0)
	guesses := 0
	for i := range 2 * allWrongCodesPerMin {
		if _, ok := g.Code(fmt.Sprintf("10.0.%d.%d:1", i/256, i%256), "x", false); ok {
			guesses++
		}
	}
	if guesses != allWrongCodesPerMin {
		t.Errorf("%d wrong codes were answered, want %d", guesses, allWrongCodesPerMin)
	}
}

func TestGuessesOfTheHostKeyAreBounded(t *testing.T) {
	t.Parallel()
	g, now := at(0)
	const right = "the-host-key-of-the-tests"
	g.SetHostKey(right)
	if wait, ok := g.TryKey(school, ""); ok || wait != 0 {
		t.Errorf("no key: %v, wait %v", ok, wait)
	}
	var looked atomic.Int32
	var trying sync.WaitGroup
	for range 4 * wrongKeysPerMin { // together
		trying.Go(func() {
			if wait, ok := g.TryKey(school, "guess"); ok {
				t.Error("a wrong key is taken for the right one")
			} else if wait == 0 {
				looked.Add(1)
			}
		})
	}
	trying.Wait()
	if n := looked.Load(); n != wrongKeysPerMin {
		t.Errorf("%d wrong keys were looked at, want %d", n, wrongKeysPerMin)
	}
	if wait, ok := g.TryKey(school, right); ok || wait != 6*time.Second {
		t.Errorf("beyond the bound: %v, wait %v", ok, wait)
	}
	if _, ok := g.TryKey(another, right); !ok {
		t.Error("another address is kept out")
	}
	*now = now.Add(6 * time.Second)
	if _, ok := g.TryKey(school, right); !ok {
		t.Error("after the wait no key is looked at")
	}
}

func TestJoinsAreBounded(t *testing.T) {
	t.Parallel()
	g, now := at(3)
	for i, want := range []bool{true, true, true, false} {
		if got := g.Join(school, "a"); got != want {
			t.Errorf("join %d: %v", i+1, got)
		}
	}
	if !g.Join(school, "b") || !g.Join(another, "a") {
		t.Error("another game or address is bounded too")
	}
	*now = now.Add(time.Minute / joinsPerMin)
	if !g.Join(school, "a") || g.Join(school, "a") {
		t.Error("after a second one more may join")
	}
}

func TestAddressesAreForgotten(t *testing.T) {
	t.Parallel()
	g, now := at(0)
	for i := range mostVisitors + 100 {
		g.Code(fmt.Sprintf("10.0.%d.%d:1", i/256, i%256), "x", false)
	}
	if g.order.Len() != mostVisitors || len(g.visitors) != mostVisitors {
		t.Errorf("%d addresses are kept, want at most %d", g.order.Len(), mostVisitors)
	}
	if g.visitors[addressOf("10.0.0.0:1")] != nil {
		t.Error("the oldest is kept")
	}
	*now = now.Add(forgetAfter - time.Second)
	g.Join(school, "a")
	*now = now.Add(time.Second)
	g.sweep()
	if g.order.Len() != 1 || len(g.visitors) != 1 {
		t.Errorf("%d addresses are kept, want the one just seen", g.order.Len())
	}
	if forgetAfter+forgetEvery > 10*time.Minute {
		t.Error("addresses are kept for more than ten minutes")
	}
}

func TestAddressOf(t *testing.T) {
	t.Parallel()
	for remote, want := range map[string]string{"192.0.2.7:1": "192.0.2.7", "[::ffff:192.0.2.7]:1": "192.0.2.7",
		"[2001:db8:1:2:3:4:5:6]:1": "2001:db8:1:2::", "[fe80::1%eth0]:1": "fe80::", "@": "invalid IP"} {
		if got := addressOf(remote).String(); got != want {
			t.Errorf("%s: %s, want %s", remote, got, want)
		}
	}
}
