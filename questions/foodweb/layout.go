package foodweb

import (
	"cmp"
	"math"
	"slices"
)

// Sizes in mm of what is laid out.
const (
	boxHeight, boxWidth = 10.5, 26
	laneWidth           = 2.2      // of a row that a line passes
	between             = 2        // items of a row
	apart, abreast      = 1.3, 2.1 // upright lines of different foods, and arrow heads
)

// item stands in a row: a box, or the lane in which the line from a food passes.
type item struct {
	id    string
	lane  bool
	x     float64
	width float64
}

// net is the part of a food's line between a row and the next: it comes up from
// below, runs along a track, and goes on upwards.
type net struct {
	food       string
	tops, ends []string // items above, and below
	up, down   map[string]float64
	track      int // from the bottom; -1 where it runs straight up
}

// layout is where boxes and lines are. An eater stands above what it eats, and all
// lines of one food are one tree, so that each can be followed from its food.
type layout struct {
	width float64
	rows  [][]*item // from the bottom
	nets  [][]*net  // by the row below
	items map[string]*item
}

// laid lays out a web on a width.
func laid(width float64, edges []Edge) *layout {
	l := &layout{width: width, items: map[string]*item{}}
	level := levels(edges, int(width/(boxWidth+3.5*between)))
	for _, id := range nodesOf(edges) {
		l.add(level[id], &item{id: id, width: boxWidth})
	}
	for _, food := range nodesOf(edges) {
		l.connect(food, level, edges)
	}
	l.order()
	for row := range l.nets {
		l.settleLines(row)
	}
	return l
}

// nodesOf lists all that eats or is eaten, in the order of the edges.
func nodesOf(edges []Edge) []string {
	var out []string
	for _, e := range edges {
		for _, id := range []string{e.Food, e.Eater} {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

// levels sets each eater above all that it eats, with at most so many in a row, and
// what is no plant above the plants. Of two that eat each other one stands below.
func levels(edges []Edge, most int) map[string]int {
	depth := map[string]int{}
	var dig func(id string, above []string) int
	dig = func(id string, above []string) int {
		if d, known := depth[id]; known || slices.Contains(above, id) {
			return d
		}
		d := 0
		if !Kind(id).Plant() {
			d = 1
		}
		for _, e := range edges {
			if e.Eater == id {
				d = max(d, 1+dig(e.Food, append(above, id)))
			}
		}
		depth[id] = d
		return d
	}
	nodes := nodesOf(edges)
	for _, id := range nodes {
		dig(id, nil)
	}
	slices.SortStableFunc(nodes, func(a, b string) int { return depth[a] - depth[b] })
	level, in := map[string]int{}, map[int]int{}
	for _, id := range nodes {
		row := depth[id]
		for _, e := range edges {
			if at, known := level[e.Food]; known && e.Eater == id {
				row = max(row, at+1)
			}
		}
		for in[row] >= most {
			row++
		}
		level[id] = row
		in[row]++
	}
	return level
}

func (l *layout) add(row int, it *item) {
	for len(l.rows) <= row {
		l.rows = append(l.rows, nil)
		l.nets = append(l.nets, nil)
	}
	l.rows[row] = append(l.rows[row], it)
	l.items[it.id] = it
}

// connect makes the tree of one food: a net for each space between rows that it
// runs in, and a lane for each row between.
func (l *layout) connect(food string, level map[string]int, edges []Edge) {
	var eaters []string
	for _, e := range edges {
		if e.Food == food {
			eaters = append(eaters, e.Eater)
		}
	}
	if len(eaters) == 0 {
		return
	}
	lowest, highest := level[food], level[food]
	for _, id := range eaters {
		lowest, highest = min(lowest, level[id]-1), max(highest, level[id]-1)
	}
	lane := func(row int) string { return food + "|" + string(rune('0'+row)) }
	for row := lowest; row <= highest; row++ {
		n := &net{food: food, up: map[string]float64{}, down: map[string]float64{}}
		if row == level[food] {
			n.ends = append(n.ends, food)
		}
		if row > lowest {
			n.ends = append(n.ends, lane(row))
		}
		if row < highest {
			l.add(row+1, &item{id: lane(row + 1), lane: true, width: laneWidth})
			n.tops = append(n.tops, lane(row+1))
		}
		for _, id := range eaters {
			if level[id] == row+1 {
				n.tops = append(n.tops, id)
			}
		}
		l.nets[row] = append(l.nets[row], n)
	}
}

// order sets the items of each row near what they are joined to, so that fewer
// lines cross.
func (l *layout) order() {
	for _, row := range l.rows {
		for i, it := range row {
			it.x = l.width * (float64(i) + .5) / float64(len(row))
		}
	}
	for range 24 {
		for _, row := range l.rows {
			want := map[*item]float64{}
			for _, it := range row {
				want[it] = l.middle(it)
			}
			slices.SortStableFunc(row, func(a, b *item) int { return cmp.Compare(want[a], want[b]) })
			spread(row, want, l.width)
		}
	}
}

// middle is the mean place of what an item is joined to.
func (l *layout) middle(it *item) float64 {
	sum, n := it.x, 1.0
	for _, nets := range l.nets {
		for _, net := range nets {
			if !slices.Contains(net.ends, it.id) && !slices.Contains(net.tops, it.id) {
				continue
			}
			for _, id := range slices.Concat(net.ends, net.tops) {
				if id != it.id {
					sum, n = sum+l.items[id].x, n+1
				}
			}
		}
	}
	return sum / n
}

// spread sets items in their order as near to where they are wanted as they fit
// beside each other: midway between pushing all to the right and all to the left.
func spread(row []*item, want map[*item]float64, width float64) {
	n := len(row)
	right, left := make([]float64, n), make([]float64, n)
	for i, it := range row {
		right[i] = max(want[it], it.width/2)
		if i > 0 {
			right[i] = max(right[i], right[i-1]+beside(row[i-1], it))
		}
	}
	for i := n - 1; i >= 0; i-- {
		right[i] = min(right[i], width-row[i].width/2)
		left[i] = min(want[row[i]], width-row[i].width/2)
		if i < n-1 {
			right[i] = min(right[i], right[i+1]-beside(row[i], row[i+1]))
			left[i] = min(left[i], left[i+1]-beside(row[i], row[i+1]))
		}
	}
	for i, it := range row {
		left[i] = max(left[i], it.width/2)
		if i > 0 {
			left[i] = max(left[i], left[i-1]+beside(row[i-1], it))
		}
	}
	for i, it := range row {
		it.x = (left[i] + right[i]) / 2
	}
}

func beside(a, b *item) float64 {
	gap := float64(between)
	if a.lane && b.lane {
		gap = 0
	}
	return (a.width+b.width)/2 + gap
}

// settleLines says at which places the lines leave a row and reach the next, no two
// of different foods above each other, and orders their tracks.
func (l *layout) settleLines(row int) {
	if row+1 == len(l.rows) {
		return
	}
	next := l.rows[row+1]
	var taken []upright
	leave := func(lanes bool) {
		for _, n := range l.nets[row] {
			for _, id := range n.ends {
				if it := l.items[id]; it.lane == lanes {
					n.down[id] = free(taken, n.food, apart, it.x, it.x-it.reach(), it.x+it.reach())
					taken = append(taken, upright{n.down[id], n.food})
				}
			}
		}
	}
	leave(true)
	for i, it := range next {
		for _, n := range netsTo(l.nets[row], it.id) {
			if it.lane {
				from, to := l.slack(next, i)
				it.x = free(taken, n.food, apart, n.source(l), from, to)
				n.up[it.id] = it.x
				taken = append(taken, upright{it.x, n.food})
			}
		}
	}
	leave(false)
	for _, it := range next {
		into := netsTo(l.nets[row], it.id)
		slices.SortStableFunc(into, func(a, b *net) int { return cmp.Compare(a.source(l), b.source(l)) })
		for _, n := range into {
			if !it.lane {
				n.up[it.id] = free(taken, n.food, abreast, n.source(l), it.x-it.reach(), it.x+it.reach())
				taken = append(taken, upright{n.up[it.id], n.food})
			}
		}
	}
	l.tracks(row)
}

// upright is a food's line between two rows.
type upright struct {
	x    float64
	food string
}

// reach is how far from its middle lines may leave a box.
func (it *item) reach() float64 {
	if it.lane {
		return 0
	}
	return it.width/2 - 2
}

// slack is where a lane may run between its neighbours.
func (l *layout) slack(row []*item, i int) (from, to float64) {
	keep := func(it *item) float64 {
		if it.lane {
			return apart
		}
		return it.width/2 + apart/2
	}
	from, to = 1, l.width-1
	if i > 0 {
		from = row[i-1].x + keep(row[i-1])
	}
	if i+1 < len(row) {
		to = row[i+1].x - keep(row[i+1])
	}
	return min(from, row[i].x), max(to, row[i].x)
}

func netsTo(nets []*net, id string) []*net {
	var out []*net
	for _, n := range nets {
		if slices.Contains(n.tops, id) {
			out = append(out, n)
		}
	}
	return out
}

// source is the mean place of where a net comes from.
func (n *net) source(l *layout) float64 {
	sum := 0.0
	for _, id := range n.ends {
		sum += l.items[id].x
	}
	return sum / float64(max(1, len(n.ends)))
}

// free is the place nearest to a wish that keeps off all other foods' lines, or the
// one farthest from them.
func free(taken []upright, food string, room, want, from, to float64) float64 {
	const step = .1
	want = min(max(want, from), to)
	best, clear, far := want, nearest(taken, food, room, want), 0.0
	for x := from; x <= to; x += step {
		c, f := nearest(taken, food, room, x), math.Abs(x-want)
		if c > clear || c == clear && f < far {
			best, clear, far = x, c, f
		}
	}
	return best
}

// nearest is how far off another food's line is, as far as that matters.
func nearest(taken []upright, food string, room, x float64) float64 {
	for _, u := range taken {
		if u.food != food {
			room = min(room, math.Abs(u.x-x))
		}
	}
	return room
}

// span is how far along a net runs.
func (n *net) span() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, ends := range []map[string]float64{n.up, n.down} {
		for _, x := range ends {
			from, to = min(from, x), max(to, x)
		}
	}
	return from, to
}

// tracks orders the nets of a space from the bottom: next is always the one that
// crosses the fewest lines by being below those that remain.
func (l *layout) tracks(row int) {
	nets := l.nets[row]
	for i := range nets {
		cost := func(n *net) (sum int) {
			for _, other := range nets[i:] {
				if other != n {
					sum += crossings(n, other) - crossings(other, n)
				}
			}
			return sum
		}
		least := slices.MinFunc(nets[i:], func(a, b *net) int { return cost(a) - cost(b) })
		at := slices.Index(nets, least)
		copy(nets[i+1:at+1], nets[i:at])
		nets[i] = least
	}
	at := 0
	for _, n := range nets {
		n.track = -1
		if from, to := n.span(); from < to {
			n.track = at
			at++
		}
	}
}

// crossings is how many lines cross where one net's track is below another's. Two
// that would run upon each other count for many.
func crossings(below, above *net) int {
	count := within(above.down, below) + within(below.up, above)
	for _, x := range above.down {
		for _, y := range below.up {
			if math.Abs(x-y) < apart/2 {
				count += 100
			}
		}
	}
	return count
}

func within(ends map[string]float64, n *net) (count int) {
	from, to := n.span()
	for _, x := range ends {
		if from < x && x < to {
			count++
		}
	}
	return count
}

// branches are where a net's line parts: where it goes up or down within its span,
// or both at its end.
func (n *net) branches() []float64 {
	var out, below []float64
	from, to := n.span()
	for _, id := range n.ends {
		below = append(below, n.down[id])
	}
	for _, id := range n.tops {
		if x := n.up[id]; slices.Contains(below, x) || from < x && x < to {
			out = append(out, x)
		}
	}
	for _, x := range below {
		if from < x && x < to {
			out = append(out, x)
		}
	}
	return out
}
