package link_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"fieldsign/hub/link"
)

const ms = time.Millisecond

// The arithmetic of RFC 5905 section 8, seen from the hub: T1 = sent, T2 = T3 =
// stamped, T4 = received; offset ((T2-T1)+(T3-T4))/2, error at most half the delay.
func TestOffset(t *testing.T) {
	for _, tc := range []struct {
		name                    string
		sent, stamped, received time.Duration
		offset, bound           time.Duration
	}{
		{"equal ways", 1000 * ms, 1130 * ms, 1060 * ms, 100 * ms, 31 * ms},
		{"10 ms out and 50 back, truly 100 ahead: off by 20, within 30 and a blur", 0, 110 * ms, 60 * ms, 80 * ms, 31 * ms},
		{"no delay", 500 * ms, 200 * ms, 500 * ms, -300 * ms, ms},
	} {
		var l link.Link
		l.Sample(tc.sent, tc.stamped, tc.received)
		at, bound, ok := l.Hub(tc.stamped, tc.received)
		if got := tc.stamped - at; got != tc.offset || bound != tc.bound || !ok {
			t.Errorf("%s: offset %v within %v (%v), want %v within %v", tc.name, got, bound, ok, tc.offset, tc.bound)
		}
	}
}

// The exchange of least delay counts: the fourth of these eight.
func TestFilter(t *testing.T) {
	var l link.Link
	now := time.Duration(0)
	for _, delay := range []time.Duration{60, 44, 90, 41, 120, 52, 47, 300} {
		out := delay * ms * 9 / 10 // the slower the more lopsided
		l.Sample(now, now+out+7*time.Second, now+delay*ms)
		now += delay * ms
	}
	at, bound, _ := l.Hub(now+7*time.Second, now)
	if off := (at - now).Abs(); off > 17*ms || off < 16*ms {
		t.Errorf("off by %v, want the fourth exchange's 16.4 ms", off)
	}
	if bound < 21*ms || bound > 22*ms {
		t.Errorf("bound %v, want the fourth exchange's 20.5 ms, a blur and a little drift", bound)
	}
}

func TestNothingKnown(t *testing.T) {
	var l link.Link
	for _, received := range []time.Duration{-ms, 3 * time.Second} {
		l.Sample(0, 0, received)
		l.Trip(received, received)
	}
	if _, _, ok := l.Hub(0, 0); ok || l.Longest() != 0 {
		t.Error("an impossible exchange was believed")
	}
}

// A phone whose clock stood still while it slept is not timed by what was known before.
func TestSleepingPhone(t *testing.T) {
	var l link.Link
	l.Sample(0, 1000*ms, 2*ms)
	l.Sample(60_000*ms, 21_000*ms, 60_100*ms)
	if at, bound, _ := l.Hub(21_000*ms, 60_100*ms); at != 60_050*ms || bound != 51*ms {
		t.Errorf("at %v within %v", at, bound)
	}
}

func TestLongestForgets(t *testing.T) {
	var l link.Link
	for second := range 100 {
		took := 4 * ms
		if second == 0 {
			took = 200 * ms
		}
		l.Trip(took, time.Duration(second)*time.Second)
		if second == 50 && l.Longest() != 250*ms {
			t.Errorf("a trip of the window before is forgotten: %v", l.Longest())
		}
	}
	if l.Longest() != 5*ms {
		t.Errorf("a trip of long ago still counts: %v", l.Longest())
	}
}

// Whatever the ways take and however the clock drifts within its bound, the
// true time lies within the stated error.
func TestTheBoundHolds(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var l link.Link
		rate, offset := 1+(dice.Float64()*2-1)*50e-6, time.Duration(dice.Int64N(int64(time.Hour)))
		phone := func(hub time.Duration) time.Duration { return offset + time.Duration(rate*float64(hub)) }
		now := time.Duration(0)
		for range 100 {
			now += time.Duration(dice.Int64N(int64(10 * time.Second)))
			out, back := time.Duration(dice.Int64N(int64(200*ms))), time.Duration(dice.Int64N(int64(200*ms)))
			l.Sample(now, phone(now+out), now+out+back)
			now += out + back
			if at, bound, _ := l.Hub(phone(now), now); (at - now).Abs() > bound+time.Microsecond {
				t.Fatalf("off by %v, more than the stated %v", at-now, bound)
			}
		}
	}
}
