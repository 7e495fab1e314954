package hub

import (
	"bytes"
	"encoding/json"
	"net/http"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/relay"
)

// relayed is a phone whose game another hub runs. What is said either way
// passes through the store.
type relayed struct {
	*outbox
	mu       sync.Mutex
	answered bool   // the owner has said something
	state    []byte // the frame of the last one it was shown
	shown    time.Time
}

// relay makes the request a socket that the game's owner serves. It ends with
// this hub, or with whatever the owner said going missing: the phone then comes
// back.
func (h *Hub) relay(w http.ResponseWriter, r *http.Request, code string) {
	if !h.begin() {
		comeBack(w, "This hub is stopping. Try again.")
		return
	}
	out := r.Clone(h.ctx)
	out.Header.Set(forwardedBy, h.id)
	var head bytes.Buffer
	if err := out.Write(&head); err != nil {
		h.wait.Done()
		comeBack(w, "This request can't be handed on: "+err.Error())
		return
	}
	box := &boxed{ResponseWriter: w, writers: &h.wait}
	if _, _, err := box.Hijack(); err != nil {
		h.wait.Done()
		return
	}
	if n := box.in.Buffered(); n > 0 { // what the phone sent ahead of its time
		early, _ := box.in.Peek(n)
		head.Write(early)
	}
	box.out.SetReadDeadline(time.Now().Add(ownerAnswers))
	p := &relayed{outbox: box.out}
	for {
		line := h.lineTo(code)
		if socket, ok := line.Join(p, r.RemoteAddr, head.Bytes()); ok {
			go h.carry(line, socket, p) // what served the request is freed
			return
		}
	}
}

func (h *Hub) carry(line *relay.Line, socket uint64, p *relayed) {
	defer h.wait.Done()
	line.Carry(socket, p)
	p.End(true) // where it didn't come to that, the owner has not answered
	p.Close()
}

// lineTo is the line on which all phones of a game reach its owner.
func (h *Hub) lineTo(code string) *relay.Line {
	h.mu.Lock()
	defer h.mu.Unlock()
	if l := h.lines[code]; l == nil || l.Over() {
		h.wait.Add(1)
		h.lines[code] = relay.Open(h.ctx, h.carrying(code), func(l *relay.Line) {
			h.mu.Lock()
			defer h.mu.Unlock()
			if h.lines[code] == l {
				delete(h.lines, code)
			}
			h.wait.Done()
		})
	}
	return h.lines[code]
}

// relaying is how many phones reach another hub's game by this one.
func (h *Hub) relaying() (n float64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, l := range h.lines {
		n += float64(l.Phones())
	}
	return n
}

func (h *Hub) carrying(code string) relay.Config {
	return relay.Config{Store: h.shared, Game: code, Hub: h.id, Lease: h.ttl, Key: func() string { return *h.hostKey.Load() }, Log: h.log.With("game", code)}
}

func (p *relayed) Tell(frames [][]byte) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.answered {
		p.answered = true
		p.SetReadDeadline(time.Time{})
	}
	said := bytes.Join(frames, nil)
	if len(said) > phoneBacklog {
		p.allow(listBacklog) // a console, or a board
	}
	for _, f := range frames {
		if isState(f) {
			p.state, p.shown = f, time.Now()
		}
	}
	if last := frames[len(frames)-1]; isClose(last) { // which is a write of its own
		p.Write(said[:len(said)-len(last)])
		said = last
	}
	p.Write(said)
}

func (p *relayed) Pause(gone bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.state != nil {
		p.Write(again(p.state, time.Since(p.shown), gone))
	}
}

func (p *relayed) End(doubt bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch {
	case doubt && p.answered:
		p.Write(framed(websocket.CloseMessage, websocket.FormatCloseMessage(closeStopping, "the hub of this game can't be reached: come back")))
	case doubt:
		p.Write([]byte("HTTP/1.1 503 Service Unavailable\r\nRetry-After: 1\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"))
	}
	p.finish()
}

// stateHead is what the payload of a state begins with.
var stateHead = []byte(`{"type":"state"`)

func isState(frame []byte) bool { return bytes.HasPrefix(payload(frame), stateHead) }

// payload is what an unmasked frame holds.
func payload(frame []byte) []byte {
	head := 2
	if len(frame) < 2 {
		return nil
	}
	switch frame[1] {
	case 126:
		head = 4
	case 127:
		head = 10
	}
	return frame[min(head, len(frame)):]
}

// again is the frame of a state as it looks a while later, paused where the
// store is gone.
func again(frame []byte, passed time.Duration, gone bool) []byte {
	var v map[string]json.RawMessage
	var clock struct {
		Paused bool
		Left   int64 // ms
	}
	if json.Unmarshal(payload(frame), &v) != nil || json.Unmarshal(payload(frame), &clock) != nil {
		return frame
	}
	if !clock.Paused && clock.Left > 0 {
		v["left"] = encode(max(clock.Left-passed.Milliseconds(), 0))
	}
	if gone {
		v["paused"], v["notice"], v["noticeCode"] = []byte("true"), encode(storeGone), encode(noticeCodes[storeGone])
	}
	return framed(websocket.TextMessage, encode(v))
}
