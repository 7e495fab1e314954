//go:build unix

package relay

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis"
	"fieldsign/hub/store/redis/redistest"
)

const lease = time.Second

// rude is a store that fails as networks do: what was put in a mailbox is said
// to have failed, so that it is sent again, or is lost.
type rude struct {
	*redis.Store
	twice, lose atomic.Int64 // so many of the next batches
	mailed      atomic.Int64 // bytes that were told to other hubs
	secrets     atomic.Int64 // batches in which the word stands, or an address
}

func (r *rude) spy(data []byte) {
	if bytes.Contains(data, []byte("secret")) || bytes.Contains(data, []byte("10.0.0.9")) {
		r.secrets.Add(1)
	}
}

func (r *rude) Send(ctx context.Context, game, from string, data ...[]byte) error {
	if r.lose.Add(-1) >= 0 {
		return nil
	}
	for _, d := range data {
		r.spy(d)
	}
	err := r.Store.Send(ctx, game, from, data...)
	if n := r.twice.Add(-1); err == nil && n >= 0 && n%2 == 1 {
		return store.ErrUnavailable
	}
	return err
}

func (r *rude) Tell(ctx context.Context, game string, at store.Position, frames []store.Frame) (store.Position, error) {
	for _, f := range frames {
		r.mailed.Add(int64(len(f.Data)))
		r.spy(f.Data)
	}
	return r.Store.Tell(ctx, game, at, frames)
}

// pair is an owner with its desk, and another hub with a line to it.
type pair struct {
	*testing.T
	owner, other *rude
	lease        store.Lease
	desk         *Desk
	line         *Line
	ended        chan struct{} // the line
}

func config(s store.Shared, hub string, log *slog.Logger) Config {
	return Config{Store: s, Game: "fox", Hub: hub, Lease: lease, Key: func() string { return "the key of all" }, Log: log}
}

func newPair(t *testing.T) *pair {
	p := &pair{T: t, ended: make(chan struct{})}
	server := redistest.Start(t)
	for _, s := range []**rude{&p.owner, &p.other} {
		opened, err := redis.Open(server.URL(), redis.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { opened.Close() })
		*s = &rude{Store: opened}
	}
	var err error
	if p.lease, err = p.owner.Acquire(t.Context(), "fox", "owner", time.Minute); err == nil {
		err = p.owner.Append(t.Context(), store.Batch{Game: "fox", Token: p.lease.Token, Records: []store.Record{{Seq: 1, Data: []byte("begun")}}})
	}
	if err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.NewTextHandler(t.Output(), nil))
	p.desk = Listen(config(p.owner, "owner", log), p.lease.Token)
	t.Cleanup(func() { p.desk.Close() })
	ctx, cancel := context.WithCancel(context.Background())
	p.line = Open(ctx, config(p.other, "other", log), func(*Line) { close(p.ended) })
	t.Cleanup(func() { cancel(); <-p.ended })
	return p
}

// handset is a phone: what it says is written into it.
type handset struct {
	io.Reader
	mouth io.WriteCloser
	told  chan []byte
	end   chan bool // whether in doubt
	once  sync.Once
}

func newHandset() *handset {
	r, w := io.Pipe()
	return &handset{Reader: r, mouth: w, told: make(chan []byte, 1000), end: make(chan bool, 1)}
}

func (h *handset) Tell(frames [][]byte) { h.told <- bytes.Join(frames, nil) }
func (h *handset) Pause(bool)           {}
func (h *handset) End(doubt bool) {
	h.once.Do(func() { h.end <- doubt; h.mouth.Close() })
}

// call has a new phone come by the line, and returns its socket at the owner.
func (p *pair) call(head string) (*handset, net.Conn) {
	p.Helper()
	h := newHandset()
	id, ok := p.line.Join(h, "10.0.0.9:1234", []byte(head))
	if !ok {
		p.Fatal("the line is over")
	}
	go p.line.Carry(id, h)
	s, err := p.desk.Accept()
	if err != nil {
		p.Fatal(err)
	}
	if got := make([]byte, len(head)); true {
		if _, err := io.ReadFull(s, got); err != nil || string(got) != head {
			p.Fatalf("the owner read %q, %v", got, err)
		}
	}
	return h, s
}

func await[T any](t *testing.T, what string, from <-chan T) T {
	t.Helper()
	select {
	case v := <-from:
		return v
	case <-time.After(20 * time.Second):
		t.Fatal("no " + what)
		panic("not reached")
	}
}

// frame is one of WebSocket's, unmasked, with so much in it.
func frame(payload []byte) []byte {
	switch n := len(payload); {
	case n < 126:
		return append([]byte{0x81, byte(n)}, payload...)
	case n <= 0xffff:
		return append(binary.BigEndian.AppendUint16([]byte{0x81, 126}, uint16(n)), payload...)
	default:
		return append(binary.BigEndian.AppendUint64([]byte{0x81, 127}, uint64(n)), payload...)
	}
}

// What phones say comes to the owner whole and in order, and what it says to
// them, though each batch may come twice.
func TestBothWays(t *testing.T) {
	p := newPair(t)
	p.other.twice.Store(20)
	p.call("GET") // keeps the line
	const phones, said = 8, 100 << 10
	var all sync.WaitGroup
	for n := range phones {
		h, s := p.call(fmt.Sprint("GET ", n))
		if s.RemoteAddr().String() != "10.0.0.9:1234" {
			t.Errorf("the owner sees %s", s.RemoteAddr())
		}
		dice := rand.NewChaCha8([32]byte{byte(n)})
		text := make([]byte, said)
		dice.Read(text)
		all.Go(func() {
			for rest := text; len(rest) > 0; {
				k := min(len(rest), 1+int(dice.Uint64()%5000))
				h.mouth.Write(rest[:k])
				rest = rest[k:]
			}
		})
		all.Go(func() { // an echo, in frames
			for got := 0; got < said; {
				b := make([]byte, 3000)
				k, err := s.Read(b)
				if err != nil {
					t.Error(err)
					return
				}
				s.Write(frame(b[:k]))
				got += k
			}
			s.Close()
		})
		all.Go(func() {
			var heard []byte
			for len(heard) < said {
				for whole := await(t, "echo", h.told); len(whole) > 0; {
					k := frameLen(whole)
					heard = append(heard, whole[k-payloadLen(whole):k]...)
					whole = whole[k:]
				}
			}
			if !bytes.Equal(heard, text) {
				t.Errorf("phone %d heard other than it said", n)
			}
			if await(t, "end", h.end) {
				t.Errorf("phone %d was left in doubt", n)
			}
		})
	}
	all.Wait()
}

// payloadLen is how long the payload of the first frame is.
func payloadLen(p []byte) int {
	switch p[1] {
	case 126:
		return int(binary.BigEndian.Uint16(p[2:]))
	case 127:
		return int(binary.BigEndian.Uint64(p[2:]))
	}
	return int(p[1])
}

// A frame for all phones of a hub passes the store once, whatever else each is
// told of its own.
func TestABroadcastIsSentOnce(t *testing.T) {
	p := newPair(t)
	const phones = 100
	var handsets []*handset
	var sockets []net.Conn
	for n := range phones {
		h, s := p.call(fmt.Sprint(n))
		handsets, sockets = append(handsets, h), append(sockets, s)
	}
	before := p.owner.mailed.Load()
	shared := frame(bytes.Repeat([]byte("x"), 10_000))
	for n, s := range sockets {
		s.Write(append(frame(fmt.Append(nil, "team ", n)), shared...))
	}
	for n, h := range handsets {
		if got := await(t, "broadcast", h.told); !bytes.Equal(got, append(frame(fmt.Append(nil, "team ", n)), shared...)) {
			t.Errorf("phone %d was told %q", n, got)
		}
	}
	// At most as often as batches were begun while one was on its way.
	if sent := p.owner.mailed.Load() - before; sent > phones*int64(len(shared))/5 {
		t.Errorf("%d bytes for %d phones and %d bytes", sent, phones, len(shared))
	}
}

// Where a batch is lost, or another has the game, nothing is guessed: the
// phones have to come back.
func TestDoubt(t *testing.T) {
	for name, harm := range map[string]func(p *pair, h *handset){
		"a batch is lost": func(p *pair, h *handset) {
			p.other.lose.Store(1)
			h.mouth.Write([]byte("buzz"))
		},
		"the lease is over": func(p *pair, _ *handset) {
			p.owner.Release(p.Context(), "fox", p.lease.Token)
		},
		"another has the game": func(p *pair, _ *handset) {
			p.owner.Acquire(p.Context(), "fox", "owner", time.Minute)
		},
		"what was told can't be read": func(p *pair, _ *handset) {
			at, _ := p.owner.Told(p.Context(), "fox", store.Position{}, nil)
			p.owner.Store.Tell(p.Context(), "fox", at, []store.Frame{{Hub: "other", Data: []byte("not of the relay's")}})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPair(t)
			h, s := p.call("GET")
			harm(p, h)
			if !await(t, "end", h.end) {
				t.Error("the phone was let go as if all were well")
			}
			await(t, "end of the line", p.ended)
			if _, ok := p.line.Join(newHandset(), "x", nil); ok {
				t.Error("a line that is over took a phone")
			}
			go p.desk.Close()
			if _, err := io.Copy(io.Discard, s); err != nil {
				t.Errorf("the owner's side: %v", err)
			}
		})
	}
}

// A hub that is heard no more takes its phones with it.
func TestAHubIsGone(t *testing.T) {
	p := newPair(t)
	_, s := p.call("GET")
	p.other.lose.Store(1 << 30) // a batch that is lost shows only with the next
	if _, err := io.Copy(io.Discard, s); err != nil {
		t.Errorf("the owner's side: %v", err)
	}
	if _, err := s.Write([]byte("x")); err == nil {
		t.Error("a phone that is gone can be written to")
	}
}

// What the owner has said when it stops is told yet.
func TestLastWords(t *testing.T) {
	p := newPair(t)
	h, s := p.call("GET")
	s.Write(frame([]byte("come back")))
	s.Close()
	p.desk.Close()
	if got := await(t, "goodbye", h.told); string(got[2:]) != "come back" {
		t.Errorf("told %q", got)
	}
	if await(t, "end", h.end) {
		t.Error("in doubt")
	}
	if _, err := p.desk.Accept(); err == nil {
		t.Error("a closed desk takes sockets")
	}
}

// A batch that no hub of ours made is passed over.
func TestWhatCantBeRead(t *testing.T) {
	p := newPair(t)
	for _, data := range [][]byte{nil, []byte("x"), p.line.seal(up{Token: p.lease.Token, Line: 7, N: 5}), p.line.seal(down{Line: 1}), p.line.seal(up{Token: 1, Line: 8})} {
		if err := p.other.Store.Send(t.Context(), "fox", "elsewhere", data); err != nil {
			t.Fatal(err)
		}
	}
	h, s := p.call("GET")
	s.Write(frame([]byte("hello")))
	await(t, "frame", h.told)
}

func TestFrameLen(t *testing.T) {
	for _, n := range []int{0, 1, 125, 126, 65535, 65536} {
		f := frame(make([]byte, n))
		if got := frameLen(append(f, "more"...)); got != len(f) {
			t.Errorf("a frame of %d is %d long, want %d", n, got, len(f))
		}
		for cut := range min(len(f), 12) {
			if got := frameLen(f[:cut]); got != cut {
				t.Errorf("%d bytes of a frame of %d: %d", cut, n, got)
			}
		}
	}
	if answer := "HTTP/1.1 101"; frameLen([]byte(answer)) != len(answer) {
		t.Error("an answer is cut")
	}
}

// A phone that says more than the store takes waits for it, and holds up no
// other.
func TestAFlood(t *testing.T) {
	p := newPair(t)
	loud, s := p.call("GET")
	go io.Copy(io.Discard, s)
	quiet, q := p.call("GET")
	go func() {
		for chunk := make([]byte, 64<<10); ; {
			if _, err := loud.mouth.Write(chunk); err != nil {
				return
			}
		}
	}()
	for n := range 100 {
		word := fmt.Appendf(nil, "%03d", n)
		go quiet.mouth.Write(word)
		if got := make([]byte, 3); true {
			if _, err := io.ReadFull(q, got); err != nil || !bytes.Equal(got, word) {
				t.Fatalf("the owner read %q, %v", got, err)
			}
		}
	}
	s.Close()
	await(t, "end", loud.end)
}

// Nothing that is relayed can be read in the store, nor by a hub with another key.
func TestTheStoreCantRead(t *testing.T) {
	p := newPair(t)
	h, s := p.call("GET /socket secret")
	go h.mouth.Write([]byte("secret"))
	if _, err := io.ReadFull(s, make([]byte, 6)); err != nil {
		t.Fatal(err)
	}
	s.Write(frame([]byte("secret")))
	await(t, "frame", h.told)
	if n := p.owner.secrets.Load() + p.other.secrets.Load(); n > 0 {
		t.Errorf("%d batches can be read", n)
	}
	other := p.line.Config
	other.Key = func() string { return "another" }
	if err := other.open(p.line.seal(up{}), new(up)); err == nil {
		t.Error("another key opens a batch")
	}
	other.Key, other.Game = p.line.Key, "hare"
	if err := other.open(p.line.seal(up{}), new(up)); err == nil {
		t.Error("a batch is good for another game")
	}
}
