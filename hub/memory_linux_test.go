//go:build !race

package hub_test

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
	"time"

	"fieldsign/game"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store/bolt"
)

// mostPerPhone is what an idle phone may cost of heap and stack: its
// connection, its goroutine, its team and what the game remembers of it.
const mostPerPhone = 6000 // bytes

func inUse() float64 {
	var m runtime.MemStats
	for range 3 { // pools are emptied in two steps
		runtime.GC()
	}
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc + m.StackInuse)
}

var shown = regexp.MustCompile(`"question":{"id":"([^"]+)"`)

func TestMemoryOfAPhone(t *testing.T) {
	const n = 1000
	questions := soak.Size(3, 10)
	log, err := bolt.Open(filepath.Join(t.TempDir(), "games.db")) // one in memory would count
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	p := openBy(t, usual(log), func() time.Duration { return 0 }) // so no phone falls silent
	defer p.stop()
	host := p.phone(0, map[string]any{"type": "host", "key": hostKey})
	host.send(map[string]any{"type": "do", "id": "plan", "action": "plan", "plan": plan(round("open", questions))})
	host.await(`"done"`)
	phones := make([]*phone, 0, n+1)
	before := inUse()
	for i := range n {
		phones = append(phones, p.phone(0, map[string]any{"type": "join", "name": fmt.Sprintf("Team %d", i)}))
		host.drain()
	}
	phones = append(phones, host)
	defer func() {
		for _, c := range phones {
			c.close()
		}
	}()
	settle(phones)
	quiet := (inUse() - before) / n
	for k := range questions {
		p.later.Add(int64(time.Second)) // each may send some frames a second
		host.send(map[string]any{"type": "do", "id": fmt.Sprint("next", k), "action": "next"})
		asked := shown.FindSubmatch(host.await(`"phase":"asking"`))
		for i, c := range phones[:n] {
			c.send(map[string]any{"type": "clock", "t1": k})
			c.send(map[string]any{"type": "answer", "id": fmt.Sprintf("%032x", k*n+i), "question": string(asked[1]), "option": i % 2})
			host.drain()
		}
		for p.hub.Phase(p.code) == game.Asking { // all have answered, but not all was heard
			settle(phones)
		}
		settle(phones)
	}
	after := (inUse() - before) / n
	t.Logf("an idle phone takes %.0f bytes before traffic, %.0f after, with %d goroutines in all", quiet, after, runtime.NumGoroutine())
	if quiet > mostPerPhone || after > mostPerPhone {
		t.Errorf("more than %d bytes", mostPerPhone)
	}
}

// A broadcast allocates no more for many phones that read than for few. What else goes on
// in the process is counted too, so the least of several looks is taken.
func TestBroadcastAllocates(t *testing.T) {
	allocs := map[int]uint64{}
	for _, n := range []int{5, 200} {
		p := begin(t)
		phones := p.phones(n, none)
		settle(phones)
		allocs[n] = math.MaxUint64
		for range soak.Size(20, 100) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			p.hub.ShowNow(p.code)
			runtime.ReadMemStats(&after)
			allocs[n] = min(allocs[n], after.Mallocs-before.Mallocs)
			for _, c := range phones {
				c.await(`"type":"state"`)
			}
		}
	}
	if allocs[200] > allocs[5]+10 {
		t.Errorf("allocations for 5 and for 200 phones: %v", allocs)
	}
}
