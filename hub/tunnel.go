package hub

import (
	"bufio"
	"context"
	"io"
	"maps"
	"net"
	"net/http"
	"net/url"
	"sync"
	"time"
)

// A socket that is handed through costs little for as long as it is: what
// served the request is freed, and two goroutines with small buffers stay.

const (
	upwards   = 1 << 10 // bytes at a time from a phone, whose frames are no longer
	downwards = 4 << 10
	stuck     = 2 * stallTime // for as much: by then the owner has given the phone up
)

// tunnel hands a phone's upgrade to the owner, and then whatever either says.
// It ends with this hub: the phone then comes back by another.
func (h *Hub) tunnel(w http.ResponseWriter, r *http.Request, target *url.URL) {
	if !h.begin() {
		comeBack(w, "This hub is stopping. Try again.")
		return
	}
	owner, answer, err := h.askOwner(r, target)
	if err != nil {
		h.wait.Done()
		h.unreached(w, target.String(), err)
		return
	}
	if answer.StatusCode != http.StatusSwitchingProtocols {
		clear(w.Header()) // the owner sets them too
		maps.Copy(w.Header(), answer.Header)
		w.WriteHeader(answer.StatusCode)
		io.Copy(w, answer.Body)
		owner.Close()
		h.wait.Done()
		return
	}
	phone, early, err := http.NewResponseController(w).Hijack()
	if err != nil {
		owner.Close()
		h.wait.Done()
		return
	}
	phone.SetDeadline(time.Time{})
	said, _ := early.Reader.Peek(early.Reader.Buffered()) // what the phone sent ahead of its time
	go h.join(phone, owner, append([]byte(nil), said...), answer.Header)
}

// askOwner sends the upgrade on, and reads no further than the answer's head.
func (h *Hub) askOwner(r *http.Request, target *url.URL) (net.Conn, *http.Response, error) {
	conn, err := between.DialContext(h.ctx, "tcp", target.Host)
	if err != nil {
		return nil, nil, err
	}
	out := r.Clone(h.ctx)
	out.URL.Scheme, out.URL.Host = target.Scheme, target.Host
	out.Header.Set(forwardedBy, h.id)
	conn.SetDeadline(time.Now().Add(ownerAnswers))
	err = out.Write(conn)
	var answer *http.Response
	if err == nil {
		answer, err = http.ReadResponse(bufio.NewReaderSize(oneByOne{conn}, 16), out)
	}
	if err != nil {
		conn.Close()
		return nil, nil, err
	}
	return conn, answer, nil
}

// oneByOne is read no further than it is asked for, so that a frame that comes
// right behind the answer's head stays where it is.
type oneByOne struct{ net.Conn }

func (c oneByOne) Read(p []byte) (int, error) { return c.Conn.Read(p[:min(len(p), 1)]) }

// join carries bytes both ways until both have ended, or the hub does.
func (h *Hub) join(phone, owner net.Conn, said []byte, head http.Header) {
	defer h.wait.Done()
	defer phone.Close()
	defer owner.Close()
	defer context.AfterFunc(h.ctx, func() { phone.Close(); owner.Close() })()
	owner.SetDeadline(time.Time{})
	if _, err := io.WriteString(phone, "HTTP/1.1 101 Switching Protocols\r\n"); err != nil {
		return
	}
	if err := head.Write(phone); err != nil {
		return
	}
	if _, err := io.WriteString(phone, "\r\n"); err != nil {
		return
	}
	if _, err := owner.Write(said); err != nil {
		return
	}
	var both sync.WaitGroup
	both.Go(func() { carry(owner, phone, upwards) })
	carry(phone, owner, downwards)
	phone.SetReadDeadline(time.Now().Add(lingerTime)) // the owner has said its last
	both.Wait()
}

// carry moves what one side says to the other, and its end.
func carry(to, from net.Conn, atOnce int) {
	buffer := make([]byte, atOnce)
	for {
		n, err := from.Read(buffer)
		to.SetWriteDeadline(time.Now().Add(stuck))
		if _, failed := to.Write(buffer[:n]); failed != nil {
			from.Close() // nobody hears it any more
			return
		}
		if err != nil {
			if tcp, ok := to.(interface{ CloseWrite() error }); ok {
				tcp.CloseWrite()
			}
			return
		}
	}
}
