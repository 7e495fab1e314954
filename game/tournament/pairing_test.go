package tournament

import (
	"math/bits"
	"math/rand/v2"
	"testing"
)

// As many pairs are found as there are: in every graph of six, and in graphs of
// ten and eleven drawn by lot, sparse ones and dense.
func TestMostPairs(t *testing.T) {
	for links := range uint64(1 << 15) {
		checkMost(t, graph(6, func(bit int) bool { return links>>bit&1 == 1 }))
	}
	dice := rand.New(rand.NewPCG(1, 2))
	for i := range 20_000 {
		checkMost(t, graph(10+i%2, func(int) bool { return dice.IntN(10) < 1+i%5 }))
	}
}

func checkMost(t *testing.T, linked [][]bool) {
	t.Helper()
	if got, want := mostPairs(linked), tryAll(linked, 1<<len(linked)-1); got != want {
		t.Fatalf("%d pairs in %v, want %d", got, linked, want)
	}
}

func graph(n int, link func(bit int) bool) [][]bool {
	linked := make([][]bool, n)
	bit := 0
	for i := range linked {
		linked[i] = make([]bool, n)
		for j := range i {
			linked[i][j] = link(bit)
			linked[j][i] = linked[i][j]
			bit++
		}
	}
	return linked
}

// tryAll leaves the first of the free vertices alone, or pairs it with each.
func tryAll(linked [][]bool, free uint) int {
	if free == 0 {
		return 0
	}
	first := bits.TrailingZeros(free)
	free &^= 1 << first
	most := tryAll(linked, free)
	for u := range linked {
		if free>>u&1 == 1 && linked[first][u] {
			most = max(most, 1+tryAll(linked, free&^(1<<u)))
		}
	}
	return most
}

// Four have equal scores, and the second has met the fourth: the first gives
// way and meets the fourth, so that all four stay in their group.
func TestGroupStaysTogether(t *testing.T) {
	p := &pairing{score: []int{2, 2, 2, 2, 0, 0}, met: make([][]int, 6), most: 1}
	for i := range p.met {
		p.met[i] = make([]int, 6)
	}
	p.met[1][3], p.met[3][1] = 1, 1
	if got := p.opponent([]int{0, 1, 2, 3, 4, 5}); got != 3 {
		t.Errorf("the first meets place %d, want 3", got)
	}
}
