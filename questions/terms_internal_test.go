package questions

import "testing"

// Of a set of the size that WithTerms says, as many as asked for are not on terms.
func TestWithTerms(t *testing.T) {
	for count := range 60 {
		size, terms := WithTerms(count), 0
		for i := range size {
			if p := (planner{set: make([]Question, i)}); p.loreDue() {
				terms++
			}
		}
		if size-terms != count {
			t.Errorf("%d questions: a set of %d with %d on terms", count, size, terms)
		}
	}
}
