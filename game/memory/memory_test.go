package memory

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Values of the library: ts-fsrs 5.4.2, FSRSAlgorithm with its default
// parameters, next_state for each answer of a history ("days:grade"), and
// forgetting_curve after some days more.
func TestEqualToTheLibrary(t *testing.T) {
	f, err := os.Open("testdata/fsrs.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 50 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows[1:] {
		m := played(t, row[0])
		for i, got := range []float64{m.Stability, m.Difficulty, m.Recall(number(t, row[3]))} {
			want := number(t, row[[]int{1, 2, 4}[i]])
			if math.Abs(got-want) > 1e-6*max(1, want) {
				t.Errorf("%s: value %d is %v, the library has %v", row[0], i, got, want)
			}
		}
	}
}

func played(t *testing.T, history string) (m State) {
	for _, answer := range strings.Fields(history) {
		days, grade, _ := strings.Cut(answer, ":")
		m = m.After(number(t, days), Grade(number(t, grade)))
	}
	return m
}

func number(t *testing.T, s string) float64 {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Stability is by its definition the days to a recall of nine in ten.
func TestStabilityIsWhereNineOfTenRecall(t *testing.T) {
	m := State{}.After(0, Good)
	if r := m.Recall(m.Stability); math.Abs(r-0.9) > 1e-12 {
		t.Errorf("recall after the stability is %v", r)
	}
	if d := m.Due(0.9); math.Abs(d-m.Stability) > 1e-12 {
		t.Errorf("due at 0.9 after %v days, the stability is %v", d, m.Stability)
	}
}

func TestWhatWasNeverMetIsNotRecalled(t *testing.T) {
	if (State{}).Recall(1) != 0 || (State{}).Met() {
		t.Error("an empty memory recalls something")
	}
}

func TestBetween(t *testing.T) {
	a, b := State{8, 4}, State{2, 8}
	if got := Between(0.5, a, b); math.Abs(got.Stability-4) > 1e-12 || got.Difficulty != 6 {
		t.Errorf("%+v", got)
	}
	if Between(1, a, b).Difficulty != 4 || Between(0, a, b).Difficulty != 8 {
		t.Error("a whole share is not the one side")
	}
}
