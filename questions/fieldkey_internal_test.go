package questions

import "testing"

// A cut lies above the lower range and not above the upper one, however near
// they are, and is as round as that allows.
func TestRoundBetween(t *testing.T) {
	for _, c := range []struct{ lo, hi, want float64 }{
		{51, 90, 71}, {1, 2, 2}, {36, 40, 38}, {0, 3, 1}, {0, 0.5, 0.3},
		{2, 2.4, 2.2}, {5.4, 5.5, 5.5}, {7.25, 7.26, 7.26}, {7.0001, 7.0002, 7.0002},
	} {
		if got := roundBetween(c.lo, c.hi); got != c.want {
			t.Errorf("between %v and %v: %v, want %v", c.lo, c.hi, got, c.want)
		}
	}
}
