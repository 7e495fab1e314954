package tournament

// matcher finds as many disjoint pairs in a graph as there can be: Jack
// Edmonds, "Paths, trees, and flowers" (1965). A tree of alternating paths
// grows from a free vertex; an odd cycle found on the way is treated as one
// vertex, its base.
type matcher struct {
	linked  [][]bool
	mate    []int // -1 for free
	parent  []int // on the path back to the root, for vertices at odd depth
	base    []int
	outer   []bool // at even depth
	waiting []int
}

const none = -1

// mostPairs is the largest number of disjoint pairs of linked vertices.
func mostPairs(linked [][]bool) int {
	n := len(linked)
	m := matcher{linked: linked, mate: make([]int, n), parent: make([]int, n), base: make([]int, n), outer: make([]bool, n)}
	for v := range m.mate {
		m.mate[v] = none
	}
	pairs := 0
	for v := range n {
		if m.mate[v] == none && m.grow(v) {
			pairs++
		}
	}
	return pairs
}

// grow looks for a path from a free root to another free vertex and swaps the
// pairs along it, which makes one more.
func (m *matcher) grow(root int) bool {
	for v := range m.base {
		m.parent[v], m.base[v], m.outer[v] = none, v, false
	}
	m.outer[root], m.waiting = true, append(m.waiting[:0], root)
	for len(m.waiting) > 0 {
		v := m.waiting[0]
		m.waiting = m.waiting[1:]
		for u, linked := range m.linked[v] {
			switch {
			case !linked || m.base[u] == m.base[v] || m.mate[v] == u:
			case m.outer[u]:
				m.contract(v, u)
			case m.parent[u] == none:
				m.parent[u] = v
				if m.mate[u] == none {
					m.flip(u)
					return true
				}
				m.reach(m.mate[u])
			}
		}
	}
	return false
}

func (m *matcher) reach(v int) {
	if !m.outer[v] {
		m.outer[v] = true
		m.waiting = append(m.waiting, v)
	}
}

// flip swaps the pairs on the path from the root to a free vertex.
func (m *matcher) flip(u int) {
	for u != none {
		v := m.parent[u]
		next := m.mate[v]
		m.mate[u], m.mate[v] = v, u
		u = next
	}
}

// contract makes the odd cycle closed by v and u one vertex.
func (m *matcher) contract(v, u int) {
	base := m.meeting(v, u)
	inside := make([]bool, len(m.base))
	m.markUp(v, base, u, inside)
	m.markUp(u, base, v, inside)
	for x := range m.base {
		if inside[m.base[x]] {
			m.base[x] = base
			m.reach(x)
		}
	}
}

// markUp marks what lies on the cycle between v and its base, and lets paths
// lead round the cycle the other way, through child.
func (m *matcher) markUp(v, base, child int, inside []bool) {
	for m.base[v] != base {
		inside[m.base[v]], inside[m.base[m.mate[v]]] = true, true
		m.parent[v] = child
		child = m.mate[v]
		v = m.parent[child]
	}
}

// meeting is the base where the paths from v and u to the root meet.
func (m *matcher) meeting(v, u int) int {
	passed := make([]bool, len(m.base))
	for v = m.base[v]; ; v = m.base[m.parent[m.mate[v]]] {
		passed[v] = true
		if m.mate[v] == none {
			break
		}
	}
	for u = m.base[u]; !passed[u]; {
		u = m.base[m.parent[m.mate[u]]]
	}
	return u
}
