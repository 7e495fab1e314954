package once

import (
	"errors"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

func is(t *testing.T, m *Map[string, int], key string, work func() (int, error), want int) {
	t.Helper()
	if got, err := m.Get(key, work); err != nil || got != want {
		t.Errorf("%s is %d (%v), want %d", key, got, err, want)
	}
}

func gives(v int) func() (int, error) { return func() (int, error) { return v, nil } }

// All who ask for a key wait for one, and who asks for another waits for none.
func TestOnceForEachKey(t *testing.T) {
	var m Map[string, int]
	var all sync.WaitGroup
	var calls atomic.Int32
	begun, slow := make(chan struct{}), make(chan struct{})
	for range 10 {
		all.Go(func() {
			is(t, &m, "slow", func() (int, error) {
				if calls.Add(1) == 1 {
					close(begun)
				}
				<-slow
				return 1, nil
			}, 1)
		})
	}
	<-begun
	is(t, &m, "quick", gives(2), 2)
	close(slow)
	all.Wait()
	is(t, &m, "slow", gives(3), 1)
	if n := calls.Load(); n != 1 {
		t.Errorf("worked out %d times", n)
	}
}

func TestErrorsAreNotKept(t *testing.T) {
	var m Map[string, int]
	want := errors.New("not now")
	if _, err := m.Get("a", func() (int, error) { return 0, want }); err != want {
		t.Errorf("error %v", err)
	}
	is(t, &m, "a", gives(1), 1)
}

func TestValuesAge(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := Map[string, int]{Good: func(v int) time.Duration {
			if v == 0 {
				return Forever
			}
			return time.Duration(v) * time.Second
		}}
		is(t, &m, "ages", gives(2), 2)
		is(t, &m, "stays", gives(0), 0)
		time.Sleep(time.Second)
		is(t, &m, "ages", gives(3), 2)
		time.Sleep(2 * time.Second)
		is(t, &m, "ages", gives(3), 3)
		time.Sleep(100 * 365 * 24 * time.Hour)
		is(t, &m, "stays", gives(4), 0)
	})
}

func TestMost(t *testing.T) {
	m := Map[string, int]{Most: 2}
	for v, key := range []string{"a", "b"} {
		is(t, &m, key, gives(v), v)
	}
	is(t, &m, "b", gives(9), 1)
	is(t, &m, "c", gives(2), 2)
	is(t, &m, "a", gives(9), 9)
}

// What is dropped while it is worked out is told to who asked, and not kept.
func TestDrop(t *testing.T) {
	var m Map[string, int]
	is(t, &m, "a", func() (int, error) { m.Drop("a"); return 1, nil }, 1)
	is(t, &m, "a", gives(2), 2)
	m.Drop("a")
	is(t, &m, "a", gives(3), 3)
	m.Drop("never there")
}
