package paper

import (
	"fmt"
	"strconv"
	"strings"
)

// step of a path: M and L go to the last point, C curves to it by way of the
// two before it, Z closes.
type step struct {
	op  byte
	pts [3]point
}

func (s step) end() point { return s.pts[2] }

type point struct{ x, y float64 }

// pathReader reads path data as plates write it.
type pathReader struct {
	rest      string
	at, start point
	mirrored  point // the handle that an s takes from the curve before it
	steps     []step
}

// numbers that each command takes; a plate uses no others.
var numbersOf = map[byte]int{'M': 2, 'L': 2, 'm': 2, 'l': 2, 'h': 1, 'v': 1, 'C': 6, 'c': 6, 's': 4, 'z': 0}

func readPath(d string) ([]step, error) {
	r := pathReader{rest: d}
	var op byte
	for r.skip(); r.rest != ""; r.skip() {
		if c := r.rest[0]; c >= 'A' {
			op, r.rest = c, r.rest[1:]
		} else if op == 'M' {
			op = 'L' // more points after a move are lines
		} else if op == 'm' {
			op = 'l'
		} else if op == 'z' {
			op = 0
		}
		n, known := numbersOf[op]
		if !known || len(r.steps) == 0 && op != 'M' && op != 'm' {
			return nil, fmt.Errorf("path data is not understood from %q on in %q", r.rest, d)
		}
		if err := r.step(op, n); err != nil {
			return nil, fmt.Errorf("path data %q: %w", d, err)
		}
	}
	return r.steps, nil
}

func (r *pathReader) skip() { r.rest = strings.TrimLeft(r.rest, " ,\n") }

func (r *pathReader) step(op byte, n int) error {
	var x [6]float64
	for i := range n {
		var err error
		if x[i], err = r.number(); err != nil {
			return err
		}
	}
	from := r.at
	switch op {
	case 'M', 'L', 'C':
		from = point{}
	}
	p := func(i int) point { return point{from.x + x[i], from.y + x[i+1]} }
	switch op {
	case 'M', 'm':
		r.start = p(0)
		r.to('M', point{}, point{}, p(0))
	case 'L', 'l', 'h':
		r.to('L', point{}, point{}, p(0))
	case 'v':
		r.to('L', point{}, point{}, point{from.x, from.y + x[0]})
	case 'C', 'c':
		r.to('C', p(0), p(2), p(4))
	case 's':
		r.to('C', r.mirrored, p(0), p(2))
	case 'z':
		r.to('Z', point{}, point{}, r.start)
	}
	return nil
}

func (r *pathReader) to(op byte, a, b, end point) {
	r.steps = append(r.steps, step{op, [3]point{a, b, end}})
	r.at, r.mirrored = end, end
	if op == 'C' {
		r.mirrored = point{2*end.x - b.x, 2*end.y - b.y}
	}
}

// number takes one off the front: ends at a second point or a sign.
func (r *pathReader) number() (float64, error) {
	r.skip()
	n, dots := 0, 0
	for ; n < len(r.rest); n++ {
		c := r.rest[n]
		if c == '.' {
			dots++
		}
		if dots > 1 || c != '.' && (c < '0' || c > '9') && (c != '-' || n > 0) {
			break
		}
	}
	x, err := strconv.ParseFloat(r.rest[:n], 64)
	if err != nil {
		return 0, fmt.Errorf("a number should stand before %q", r.rest)
	}
	r.rest = r.rest[n:]
	return x, nil
}
