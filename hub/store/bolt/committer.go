package bolt

import (
	"context"
	"fmt"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
)

const (
	// maxGroup bounds how many writes share a transaction.
	maxGroup = 64
	// window bounds how long a group is held open for callers that were there
	// the last time: just answered, they need a moment to come back.
	window = 2 * time.Millisecond
)

// write is one caller's part of a transaction. Its functions run on the
// committer, inside the transaction.
type write struct {
	ctx     context.Context
	in      []byte                    // the bucket that both functions are handed
	check   func(*bbolt.Bucket) error // may refuse; changes nothing
	change  func(*bbolt.Bucket) error // fails only with the whole transaction
	erases  bool                      // its change leaves what must not stay
	refused error
	answer  chan error // holds one, so that the committer never waits
}

// Append writes the batch. A context that ends while the batch waits for its
// turn withdraws it; once it is in a transaction Append waits for the outcome,
// so that the answer is always true. After a failed commit the store is
// read-only, and whether the failed batch was kept is known only by opening
// the file again.
func (s *Store) Append(ctx context.Context, b store.Batch) error {
	p, err := newBatch(b)
	if err != nil {
		return err
	}
	return s.submit(ctx, &write{in: gamesKey, check: p.check, change: p.change})
}

// Delete forgets the games.
func (s *Store) Delete(ctx context.Context, games ...string) error {
	return s.forget(ctx, gamesKey, games)
}

// forget deletes what is kept under ids, if there is anything.
func (s *Store) forget(ctx context.Context, in []byte, ids []string) error {
	var known []string
	check := func(b *bbolt.Bucket) error {
		for _, id := range ids {
			if b.Bucket([]byte(id)) != nil && !slices.Contains(known, id) {
				known = append(known, id)
			}
		}
		return nil
	}
	change := func(b *bbolt.Bucket) error {
		for _, id := range known {
			s.stale = true
			if err := b.DeleteBucket([]byte(id)); err != nil {
				return err
			}
		}
		return nil
	}
	return s.submit(ctx, &write{in: in, check: check, change: change, erases: true})
}

func (s *Store) submit(ctx context.Context, w *write) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	w.ctx, w.answer = ctx, make(chan error, 1)
	select {
	case s.queue <- w:
		return <-w.answer
	case <-ctx.Done():
		return ctx.Err()
	case <-s.closing:
		return ErrClosed
	}
}

// commitAll is the committer.
func (s *Store) commitAll() {
	defer close(s.done)
	for {
		select {
		case w := <-s.queue:
			s.commit(s.gather(w))
		case <-s.closing:
			return
		}
	}
}

// gather adds to first the writes that wait already, and holds the group open
// only while it is smaller than the last one. A lone caller is never delayed.
func (s *Store) gather(first *write) []*write {
	group := []*write{first}
	timer := time.NewTimer(window)
	defer timer.Stop()
	for len(group) < maxGroup {
		w := s.next(len(group) < s.crowd, timer.C)
		if w == nil {
			break
		}
		group = append(group, w)
	}
	s.crowd = len(group)
	return group
}

// next takes a write from the queue, or nil if none comes in time.
func (s *Store) next(wait bool, late <-chan time.Time) *write {
	select {
	case w := <-s.queue:
		return w
	default:
	}
	if !wait {
		return nil
	}
	select {
	case w := <-s.queue:
		return w
	case <-late:
	case <-s.closing:
	}
	return nil
}

// commit writes the group and answers each caller. Once a commit has failed
// nothing is written any more: after a failed sync neither the kernel's pages
// nor bbolt's view of them can be trusted.
func (s *Store) commit(group []*write) {
	failed := s.Writable()
	if failed == nil {
		if err := s.transact(group); err != nil {
			failed = fmt.Errorf("%w (%s: %w)", ErrReadOnly, s.path, err)
			s.failed.Store(&failed)
		}
	}
	var erasing []*write
	for _, w := range group {
		switch {
		case failed != nil:
			w.answer <- failed
		case w.refused == nil && w.erases:
			erasing = append(erasing, w)
		default:
			w.answer <- w.refused
		}
	}
	if len(erasing) == 0 {
		return
	}
	err := s.compact()
	for _, w := range erasing {
		w.answer <- err
	}
}

// transact puts the group in one transaction, leaving out what is refused.
func (s *Store) transact(group []*write) error {
	return guard(func() error {
		return s.db.Update(func(tx *bbolt.Tx) error {
			for _, w := range group {
				in := tx.Bucket(w.in)
				if w.refused = review(w, in); w.refused != nil {
					continue
				}
				if err := w.change(in); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// review has a guard of its own: one game's damaged page refuses that game's
// writes and no others.
func review(w *write, in *bbolt.Bucket) error {
	if err := w.ctx.Err(); err != nil {
		return err
	}
	return guard(func() error { return w.check(in) })
}
