//go:build linux

package main

import (
	"bytes"
	"fmt"
	"syscall"
	"time"
)

// Phases as the frames name them.
const (
	asking   = "asking"
	buzzed   = "buzzed"
	revealed = "revealed"
	pause    = "break"
)

const (
	patience   = time.Minute            // with a client that is to get a frame
	together   = 50                     // phones that enter at a time
	roundMost  = 100                    // questions in a round
	calmDown   = 300 * time.Millisecond // before memory is measured
	roundShape = `{"name":"Bench","kind":%q,"subjects":["skull","track","scat"],"count":%d,"seconds":600,"points":100}`
)

// desk is a game as its console sees it.
type desk struct {
	number    int
	console   *conn
	phones    []*conn
	asked     int       // questions so far
	perRound  int       // 0 where there are no rounds
	last      time.Time // when the last question was opened
	phase     string    // soak
	nextPhone int
}

// stage is a server with its consoles and phones. It belongs to one goroutine.
type stage struct {
	kind   kind
	server *server
	crowd  *crowd
	desks  []*desk
	phones int
	sent   int // frames of clients so far, for their ids
	empty  usage
}

// setStage starts a server with so many games.
func setStage(k kind, games int) (*stage, error) {
	s := &stage{kind: k}
	var err error
	if s.crowd, err = newCrowd(); err != nil {
		return nil, err
	}
	if s.server, err = startServer(k, games); err != nil {
		s.crowd.close()
		return nil, err
	}
	return s, nil
}

func (s *stage) strike() {
	s.server.stop()
	s.crowd.close()
}

// open brings a console to each game, has it plan so many questions, and then
// measures the server without a phone.
func (s *stage) open(round string, questions int) error {
	for i, code := range s.server.Games {
		d := &desk{number: i}
		s.desks = append(s.desks, d)
		k, err := s.connect(i, code, "console")
		if err != nil {
			return err
		}
		d.console = k
		if s.kind.speak.host != "" {
			if err := s.enter([]*conn{k}, func(int) string { return s.kind.speak.host }); err != nil {
				return err
			}
		}
		if s.kind.speak.plans {
			if err := s.plan(d, round, questions); err != nil {
				return err
			}
		}
	}
	if err := s.crowd.idle(time.Now().Add(calmDown)); err != nil {
		return err
	}
	var err error
	s.empty, err = s.server.memory()
	return err
}

func (s *stage) connect(game int, code, as string) (*conn, error) {
	fd, err := dial(s.server.at(game), code, as, false)
	if err != nil {
		return nil, err
	}
	k := &conn{fd: fd, game: game, console: as == "console"}
	return k, s.crowd.add(k)
}

// enter sends clients' first frames and waits until all are greeted.
func (s *stage) enter(ks []*conn, first func(i int) string) error {
	for i, k := range ks {
		if err := s.crowd.send(k, opText, first(i)); err != nil {
			return err
		}
	}
	_, err := s.crowd.wait(len(ks), patience, func(_ *conn, f []byte) bool { return bytes.Contains(f, []byte(s.kind.speak.entered)) })
	return err
}

func (s *stage) plan(d *desk, kind string, questions int) error {
	var rounds []byte
	d.perRound = min(questions, roundMost)
	for n := 0; n < questions; n += d.perRound {
		if n > 0 {
			rounds = append(rounds, ',')
		}
		rounds = fmt.Appendf(rounds, roundShape, kind, d.perRound)
	}
	frame := fmt.Sprintf(`{"type":"do","id":"plan","action":"plan","plan":{"title":"Bench","roster":"everything","seed":7,"rounds":[%s]}}`, rounds)
	if err := s.crowd.send(d.console, opText, frame); err != nil {
		return err
	}
	_, err := s.crowd.wait(1, patience, func(k *conn, f []byte) bool {
		return k == d.console && bytes.Contains(f, []byte(`"id":"plan"`))
	})
	return err
}

// admit lets the phones in, some at a time, dealt over the games.
func (s *stage) admit(phones int) error {
	for first := 0; first < phones; first += together {
		var batch []*conn
		for i := first; i < min(first+together, phones); i++ {
			d := s.desks[i%len(s.desks)]
			k, err := s.connect(d.number, s.server.Games[d.number], "phone")
			if err != nil {
				return err
			}
			d.phones = append(d.phones, k)
			batch = append(batch, k)
		}
		if join := s.kind.speak.join; join != nil {
			if err := s.enter(batch, func(i int) string { return join(first + i) }); err != nil {
				return err
			}
		}
	}
	s.phones = phones
	return nil
}

// admitStalled adds phones that join and never read.
func (s *stage) admitStalled(phones int) error {
	for i := range phones {
		d := s.desks[i%len(s.desks)]
		fd, err := dial(s.server.at(d.number), s.server.Games[d.number], "phone", true)
		if err != nil {
			return err
		}
		k := &conn{fd: fd, game: d.number}
		s.crowd.conns[int32(fd)] = k // closed with the others, but never polled
		if join := s.kind.speak.join; join != nil {
			if err := s.crowd.send(k, opText, join(s.phones+i)); err != nil {
				return err
			}
		}
	}
	return nil
}

// say sends a frame, given without its id and closing brace.
func (s *stage) say(k *conn, frame string) error {
	s.sent++
	return s.crowd.send(k, opText, fmt.Sprintf(`%s,"id":"c%d"}`, frame, s.sent))
}

// do has the games' consoles press a button.
func (s *stage) do(action string, desks ...*desk) error {
	for _, d := range desks {
		if err := s.say(d.console, `{"type":"do","action":"`+action+`"`); err != nil {
			return err
		}
	}
	return nil
}

// leave ends the connections of all clients, each with a word of goodbye.
func (s *stage) leave() {
	for fd, k := range s.crowd.conns {
		s.crowd.send(k, opClose, "\x03\xe8")
		syscall.Close(k.fd)
		delete(s.crowd.conns, fd)
	}
}

// perPhone is what the phones cost, in bytes each.
func (s *stage) perPhone(u usage) float64 {
	return float64(u.Heap+u.Stack-s.empty.Heap-s.empty.Stack) / float64(s.phones)
}

// field finds a string field near a frame's beginning. For a frame without it
// the field is empty.
func field(frame []byte, name string) []byte {
	head := frame[:min(len(frame), 400)]
	i := bytes.Index(head, []byte(name))
	if i < 0 {
		return nil
	}
	value, _, _ := bytes.Cut(frame[i+len(name):], []byte(`"`))
	return value
}

// phaseOf and questionOf are a state's.
func phaseOf(frame []byte) []byte    { return field(frame, `"phase":"`) }
func questionOf(frame []byte) []byte { return field(frame, `"question":{"id":"`) }
