package questions

import "math/bits"

// bitset is a set of species by their place in an index.
type bitset []uint64

func newBitset(n int) bitset { return make(bitset, (n+63)/64) }

func (b bitset) add(i int)      { b[i>>6] |= 1 << (i & 63) }
func (b bitset) drop(i int)     { b[i>>6] &^= 1 << (i & 63) }
func (b bitset) has(i int) bool { return b[i>>6]&(1<<(i&63)) != 0 }

func (b bitset) count() int {
	n := 0
	for _, w := range b {
		n += bits.OnesCount64(w)
	}
	return n
}

// shared counts what is in both.
func (b bitset) shared(c bitset) int {
	n := 0
	for i, w := range b {
		n += bits.OnesCount64(w & c[i])
	}
	return n
}

// with narrows b to what is also in c.
func (b bitset) with(c bitset) bitset {
	for i := range b {
		b[i] &= c[i]
	}
	return b
}

// plus widens b by what is in c.
func (b bitset) plus(c bitset) bitset {
	for i := range b {
		b[i] |= c[i]
	}
	return b
}

// without narrows b to what is not in c.
func (b bitset) without(c bitset) bitset {
	for i := range b {
		b[i] &^= c[i]
	}
	return b
}

func (b bitset) clone() bitset { return append(bitset(nil), b...) }

// members lists the set in ascending order.
func (b bitset) members() []int {
	out := make([]int, 0, b.count())
	for i, w := range b {
		for ; w != 0; w &= w - 1 {
			out = append(out, i<<6+bits.TrailingZeros64(w))
		}
	}
	return out
}
