//go:build linux

package main

import (
	"bytes"
	"container/heap"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"runtime"
	"slices"
	"time"
)

// In a soak a game asks a question every few seconds and the phones answer.
const (
	answerWithin = 2500 * time.Millisecond
	closeAfter   = 3 * time.Second
	readReveal   = time.Second // and as much again at most
	reportEvery  = time.Minute // or more often, so that there are some reports
	leastReports = 5
	goneWithin   = 10 * time.Second // what the last to leave has left behind
)

// soak is a stage on which games are played for long.
type soak struct {
	*stage
	agenda agenda
	dice   *rand.Rand
	ended  bool
	memory []int64 // heap and stack at each report

	questions, answers, refused int
}

// runSoak plays on the hub with the store that users run.
func (c config) runSoak(out io.Writer) error {
	if len(c.games) != 1 {
		return errors.New("-soak takes one number of -games, such as -games 100")
	}
	k, _ := kindNamed("fieldsign-bolt")
	stage, err := setStage(k, c.games[0])
	if err != nil {
		return err
	}
	defer stage.strike()
	s := &soak{stage: stage, dice: rand.New(rand.NewPCG(1, 1))}
	start, err := s.server.memory()
	if err != nil {
		return err
	}
	// Each question takes four seconds at the least, mostly more.
	if err := s.open("open", int(c.soak/(2*time.Second))+1); err != nil {
		return err
	}
	if err := s.admit(c.phones); err != nil {
		return err
	}
	fmt.Fprintf(out, "# Soak: %d phones in %d games for %v\n\n%s, %s, %d cores; the log is synced to the disk.\n\n", c.phones, c.games[0], c.soak,
		time.Now().UTC().Format("2 January 2006"), runtime.Version(), runtime.NumCPU())
	if err := s.play(c.soak, out); err != nil {
		return err
	}
	return s.verdict(start, out)
}

func (s *soak) play(long time.Duration, out io.Writer) error {
	s.crowd.each = s.hear
	fmt.Fprintln(out, "| time | phones there | drops | heap | stack | goroutines | questions | answers | refused |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, d := range s.desks {
		s.later(time.Duration(s.dice.Int64N(int64(closeAfter))), func() error { return s.do("next", d) })
	}
	began := time.Now()
	if err := s.report(began, out); err != nil {
		return err
	}
	every := min(reportEvery, long/leastReports)
	next := began.Add(every)
	for now := began; now.Before(began.Add(long)); now = time.Now() {
		if now.After(next) {
			if err := s.report(began, out); err != nil {
				return err
			}
			next = next.Add(every)
		}
		if err := s.turn(); err != nil {
			return err
		}
	}
	s.ended = true
	return s.report(began, out)
}

// turn does what is due and takes what comes until something else is.
func (s *soak) turn() error {
	wait := 50 * time.Millisecond
	for len(s.agenda) > 0 {
		if wait = min(wait, time.Until(s.agenda[0].at)); wait > 0 {
			break
		}
		wait = 50 * time.Millisecond
		if err := heap.Pop(&s.agenda).(item).do(); err != nil {
			return err
		}
	}
	return s.crowd.poll(wait)
}

// later puts something on the agenda.
func (s *soak) later(in time.Duration, do func() error) {
	heap.Push(&s.agenda, item{time.Now().Add(in), do})
}

// hear is what a client does upon a frame.
func (s *soak) hear(k *conn, frame []byte) {
	switch {
	case bytes.Contains(frame[:min(len(frame), 40)], []byte(`"refused"`)):
		s.refused++
	case k.console || s.ended:
	default:
		phase := phaseOf(frame)
		if question := questionOf(frame); string(phase) == asking && len(question) > 0 { // sent once
			s.answer(k, question)
		}
		if d := s.desks[k.game]; k == d.phones[0] && len(phase) > 0 && string(phase) != d.phase {
			d.phase = string(phase)
			s.host(d)
		}
	}
}

// answer has a phone answer a question that it has not seen before.
func (s *soak) answer(k *conn, question []byte) {
	if string(question) == k.asked {
		return
	}
	k.asked = string(question)
	frame := fmt.Sprintf(`{"type":"answer","question":%q,"option":%d`, question, s.dice.IntN(2))
	s.later(time.Duration(s.dice.Int64N(int64(answerWithin))), func() error {
		if s.crowd.conns[int32(k.fd)] != k {
			return nil // it has been dropped, and that is reported
		}
		s.answers++
		return s.say(k, frame)
	})
}

// host is what a console does when the phase has changed.
func (s *soak) host(d *desk) {
	switch d.phase {
	case asking:
		s.questions++
		n := s.questions
		d.asked = n
		s.later(closeAfter, func() error {
			if d.phase != asking || d.asked != n {
				return nil
			}
			return s.do("close", d)
		})
	case revealed, pause:
		s.later(readReveal+time.Duration(s.dice.Int64N(int64(readReveal))), func() error { return s.do("next", d) })
	}
}

func (s *soak) there() int {
	n := 0
	for _, k := range s.crowd.conns {
		if !k.console {
			n++
		}
	}
	return n
}

func (s *soak) report(began time.Time, out io.Writer) error {
	u, err := s.server.memory()
	s.memory = append(s.memory, u.Heap+u.Stack)
	if err == nil {
		_, err = fmt.Fprintf(out, "| %v | %d | %d | %s | %s | %d | %d | %d | %d |\n", time.Since(began).Round(time.Second), s.there(), s.crowd.drops,
			megabytes(u.Heap), megabytes(u.Stack), u.Goroutines, s.questions, s.answers, s.refused)
	}
	return err
}

// verdict has all leave, and says whether anything stayed behind.
func (s *soak) verdict(start usage, out io.Writer) error {
	s.leave()
	u, err := s.server.memory()
	for until := time.Now().Add(goneWithin); err == nil && u.Goroutines > start.Goroutines && time.Now().Before(until); {
		time.Sleep(200 * time.Millisecond)
		u, err = s.server.memory()
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "\nAll have left: heap %s, stack %s, %d goroutines. Before any phone came, with the games planned: heap %s, stack %s; before the consoles: %d goroutines.\n",
		megabytes(u.Heap), megabytes(u.Stack), u.Goroutines, megabytes(s.empty.Heap), megabytes(s.empty.Stack), start.Goroutines)
	switch {
	case s.crowd.drops > 0:
		return fmt.Errorf("%d connections were dropped, the last with %s", s.crowd.drops, s.crowd.lastDrop)
	case u.Goroutines > start.Goroutines:
		return fmt.Errorf("%d goroutines stayed behind", u.Goroutines-start.Goroutines)
	case s.grew():
		return fmt.Errorf("memory grew to the end: %d bytes of heap and stack from report to report", s.memory)
	}
	return nil
}

// grew tells whether the second half of the soak took more memory than the
// first had come to, beyond what one collection leaves more than another.
func (s *soak) grew() bool {
	half, end := s.memory[len(s.memory)/2], s.memory[len(s.memory)-1]
	return end > half+half/10+1<<20
}

func megabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }

// agenda is a heap of what is to be done, the next first.
type agenda []item

type item struct {
	at time.Time
	do func() error
}

func (a agenda) Len() int           { return len(a) }
func (a agenda) Less(i, j int) bool { return a[i].at.Before(a[j].at) }
func (a agenda) Swap(i, j int)      { a[i], a[j] = a[j], a[i] }
func (a *agenda) Push(x any)        { *a = append(*a, x.(item)) }
func (a *agenda) Pop() any {
	last := (*a)[len(*a)-1]
	*a = slices.Delete(*a, len(*a)-1, len(*a))
	return last
}
