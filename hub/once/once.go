// Package once keeps what is worked out once for each key.
package once

import (
	"math"
	"sync"
	"time"
)

// Forever is how long a value is good that never changes.
const Forever time.Duration = math.MaxInt64

// Map works a value out once for each key. Whoever asks for it meanwhile waits,
// and nobody waits for another key. What ends with an error is not kept. The
// zero Map keeps all values for good. It is safe for concurrent use.
type Map[K comparable, V any] struct {
	Most int                   // values kept: with one more, those before go; 0 is any number
	Good func(V) time.Duration // how long a value is kept; nil is Forever

	mu   sync.Mutex
	kept map[K]*entry[V]
}

type entry[V any] struct {
	value func() (V, error)
	until time.Time // the zero time is not yet known, or for good
}

// Get is the key's value, worked out by work where it is not kept.
func (m *Map[K, V]) Get(key K, work func() (V, error)) (V, error) {
	m.mu.Lock()
	e := m.kept[key]
	if e == nil || !e.until.IsZero() && time.Now().After(e.until) {
		if m.kept == nil || m.Most > 0 && len(m.kept) >= m.Most {
			m.kept = map[K]*entry[V]{}
		}
		e = &entry[V]{}
		e.value = sync.OnceValues(func() (V, error) {
			v, err := work()
			m.settle(key, e, v, err)
			return v, err
		})
		m.kept[key] = e
	}
	m.mu.Unlock()
	return e.value()
}

func (m *Map[K, V]) settle(key K, e *entry[V], v V, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	switch {
	case err != nil && m.kept[key] == e:
		delete(m.kept, key)
	case err == nil && m.Good != nil:
		e.until = time.Now().Add(m.Good(v))
	}
}

// Drop forgets a key's value, also one that is being worked out.
func (m *Map[K, V]) Drop(key K) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.kept, key)
}
