package main

import (
	"bufio"
	"bytes"
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// logLines hands on what is logged.
type logLines chan string

func (l logLines) Write(b []byte) (int, error) { l <- string(b); return len(b), nil }

func TestTheLogHoldsNoAddress(t *testing.T) {
	t.Parallel()
	cert, key, err := makeCertificate("localhost")
	if err != nil {
		t.Fatal(err)
	}
	own, err := tls.X509KeyPair(cert, key)
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	logged := make(logLines, 10)
	server := newServer(http.NotFoundHandler(), logged, usual)
	go server.Serve(tls.NewListener(listener, &tls.Config{Certificates: []tls.Certificate{own}}))
	defer server.Close()
	if conn, err := tls.Dial("tcp", listener.Addr().String(), &tls.Config{}); err == nil { // as a phone that warns
		conn.Close()
		t.Fatal("an unknown certificate is trusted")
	}
	select {
	case line := <-logged:
		if !strings.Contains(line, "TLS handshake error from a client") || strings.Contains(line, "127.0.0.1") {
			t.Errorf("logged: %s", line)
		}
	case <-time.After(time.Minute):
		t.Error("nothing is logged")
	}
	for _, at := range []string{"192.0.2.7:5000", "[2001:db8::7]:5000", "[fe80::1%eth0]:5000"} {
		go nameless{logged}.Write([]byte("http: panic serving " + at + ": oh"))
		if line := <-logged; line != "http: panic serving a client: oh" {
			t.Errorf("logged: %s", line)
		}
	}
}

// A request whose body never comes whole does not hold its connection, though
// nobody wants the body.
func TestABodyThatTricklesIn(t *testing.T) {
	t.Parallel()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := newServer(http.NotFoundHandler(), io.Discard, patience{100 * time.Millisecond, time.Minute, time.Minute})
	go server.Serve(listener)
	defer server.Close()
	conn, err := net.Dial("tcp", listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprint(conn, "POST /games HTTP/1.1\r\nHost: hub\r\nContent-Length: 10\r\n\r\n{")
	conn.SetReadDeadline(time.Now().Add(time.Minute))
	if _, err := io.Copy(io.Discard, conn); err != nil {
		t.Errorf("it is held yet: %v", err)
	}
}

// Who never reads what it has asked for is gone, however much that is; and so
// is who asks for nothing more.
func TestAnswersThatNobodyReads(t *testing.T) {
	t.Parallel()
	const phones = 200
	large := bytes.Repeat([]byte("x"), 8<<20) // more than the kernels on both sides take
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/large", func(w http.ResponseWriter, _ *http.Request) { w.Write(large) })
	mux.HandleFunc("/small", func(http.ResponseWriter, *http.Request) {})
	server := newServer(mux, io.Discard, patience{time.Minute, 200 * time.Millisecond, 200 * time.Millisecond})
	gone := make(chan struct{}, phones)
	server.ConnState = func(_ net.Conn, s http.ConnState) {
		if s == http.StateClosed {
			gone <- struct{}{}
		}
	}
	go server.Serve(listener)
	defer server.Close()
	for i := range phones {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprintf(conn, "GET /%s HTTP/1.1\r\nHost: hub\r\n\r\n", []string{"large", "small"}[i%2])
	}
	limit := time.After(time.Minute)
	for i := range phones {
		select {
		case <-gone:
		case <-limit:
			t.Fatalf("%d of %d are held yet", phones-i, phones)
		}
	}
}

// slowLink takes what is written and lets its clock pass; it notes how far off
// the deadline of each write was.
type slowLink struct {
	httptest.ResponseRecorder
	clock, deadline time.Time
	margins         []time.Duration
	hijacked        bool
}

func (l *slowLink) SetWriteDeadline(at time.Time) error {
	l.deadline = at
	return nil
}

func (l *slowLink) Write(b []byte) (int, error) {
	l.margins = append(l.margins, l.deadline.Sub(l.clock))
	l.clock = l.clock.Add(time.Duration(len(b)) * time.Second / 2000) // two kB a second
	return len(b), nil
}

func (l *slowLink) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	l.hijacked, l.deadline = true, time.Time{}
	return nil, nil, nil
}

// A slow download has the whole time anew for each small piece, in however
// large a write it was handed over; a socket has no deadline.
func TestASlowDownloadIsNotCut(t *testing.T) {
	t.Parallel()
	l := &slowLink{clock: time.Unix(1_000_000, 0)}
	a := &answering{ResponseWriter: l, each: usual.answer, now: func() time.Time { return l.clock }}
	if n, err := a.Write(make([]byte, 1<<20)); n != 1<<20 || err != nil {
		t.Fatalf("%d bytes are written, %v", n, err)
	}
	if l.clock.Sub(time.Unix(1_000_000, 0)) < 5*time.Minute || len(l.margins) != 64 {
		t.Errorf("it took %v, in %d pieces", l.clock.Sub(time.Unix(1_000_000, 0)), len(l.margins))
	}
	for i, margin := range l.margins {
		if margin != usual.answer {
			t.Errorf("piece %d had %v", i, margin)
		}
	}
	if _, _, err := http.NewResponseController(a).Hijack(); err != nil {
		t.Fatal(err)
	}
	if a.extend(); !l.hijacked || !l.deadline.IsZero() {
		t.Errorf("a socket has the deadline %v", l.deadline)
	}
}

// The next request of a connection is not answered under the last one's deadline.
func TestAConnectionIsUsedAgain(t *testing.T) {
	t.Parallel()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	const each = time.Second
	server := newServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		time.Sleep(2 * each) // longer than a piece may take
		w.WriteHeader(http.StatusNoContent)
	}), io.Discard, patience{time.Minute, each, time.Minute})
	go server.Serve(listener)
	defer server.Close()
	conn, err := net.Dial("tcp", listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	in := bufio.NewReader(conn)
	for range 2 {
		fmt.Fprint(conn, "GET / HTTP/1.1\r\nHost: hub\r\n\r\n")
		resp, err := http.ReadResponse(in, nil)
		if err != nil || resp.StatusCode != http.StatusNoContent {
			t.Fatalf("%v, %v", resp, err)
		}
	}
}
