package fair

import (
	"container/heap"
	"math/rand/v2"
	"time"
)

// sim is a world with one clock: what is to happen, in the order in which it
// happens. Nothing in it runs at once, so a seed gives the same world again.
type sim struct {
	now   time.Duration
	dice  *rand.Rand
	queue queue
	count int
}

type event struct {
	at    time.Duration
	order int // among events of one instant
	do    func()
}

type queue []event

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(e any)   { *q = append(*q, e.(event)) }
func (q queue) Less(i, j int) bool {
	return q[i].at < q[j].at || q[i].at == q[j].at && q[i].order < q[j].order
}

func (q *queue) Pop() any {
	last := len(*q) - 1
	e := (*q)[last]
	*q = (*q)[:last]
	return e
}

func newSim(seed uint64) *sim { return &sim{dice: rand.New(rand.NewPCG(seed, 5905))} }

// at has something happen at a time, or now if that is past.
func (s *sim) at(t time.Duration, do func()) {
	s.count++
	heap.Push(&s.queue, event{max(t, s.now), s.count, do})
}

func (s *sim) run(until time.Duration) {
	for len(s.queue) > 0 && s.queue[0].at <= until {
		e := heap.Pop(&s.queue).(event)
		s.now = e.at
		e.do()
	}
}

// upTo draws a time below a limit.
func (s *sim) upTo(limit time.Duration) time.Duration {
	return time.Duration(s.dice.Int64N(int64(limit)))
}
