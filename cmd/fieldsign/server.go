package main

import (
	"bufio"
	"io"
	"log"
	"log/slog"
	"net"
	"net/http"
	"regexp"
	"strings"
	"time"
)

// patience is how long a connection is waited for. A client of the hub's
// sockets is the hub's own affair.
type patience struct {
	body   time.Duration // for what comes with a request; photos are given longer
	answer time.Duration // for each piece of an answer to be taken
	idle   time.Duration // till the next request
}

var usual = patience{body: time.Minute, answer: 30 * time.Second, idle: 30 * time.Second}

// newServer bounds what a connection may cost before it is a client of the hub.
func newServer(pages http.Handler, errors io.Writer, p patience) *http.Server {
	inTime := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.ContentLength != 0 {
			http.NewResponseController(w).SetReadDeadline(time.Now().Add(p.body))
		}
		out := &answering{ResponseWriter: w, each: p.answer, now: time.Now}
		out.extend() // also for what the server itself says, such as to go on
		pages.ServeHTTP(out, r)
		out.extend() // for what is still to be flushed
	})
	return &http.Server{Handler: inTime, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: p.idle, MaxHeaderBytes: 16 << 10,
		ErrorLog: log.New(nameless{errors}, "", 0)}
}

// answering writes an answer piece by piece, each with a time of its own: who
// takes nothing is gone soon, a slow download goes on for as long as it moves.
type answering struct {
	http.ResponseWriter
	each  time.Duration
	now   func() time.Time
	other bool // the connection is in other hands
}

// pieceSize is so small that slow wi-fi takes a piece in time.
const pieceSize = 16 << 10

func (a *answering) Write(b []byte) (written int, err error) {
	for {
		a.extend()
		n, err := a.ResponseWriter.Write(b[:min(len(b), pieceSize)])
		written, b = written+n, b[n:]
		if err != nil || len(b) == 0 {
			return written, err
		}
	}
}

func (a *answering) extend() {
	if !a.other {
		http.NewResponseController(a.ResponseWriter).SetWriteDeadline(a.now().Add(a.each))
	}
}

// Hijack hands a socket over without a deadline: the server takes it off.
func (a *answering) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	conn, rw, err := http.NewResponseController(a.ResponseWriter).Hijack()
	a.other = a.other || err == nil
	return conn, rw, err
}

// Unwrap is for http.ResponseController.
func (a *answering) Unwrap() http.ResponseWriter { return a.ResponseWriter }

// nameless writes lines without the addresses in them: the log tells of no
// phone, and the server would of each that doesn't like the certificate.
type nameless struct{ io.Writer }

var address = regexp.MustCompile(`(\[[0-9a-fA-F:.]+(%\w+)?\]|\d+\.\d+\.\d+\.\d+):\d+`)

func (n nameless) Write(line []byte) (int, error) {
	_, err := n.Writer.Write(address.ReplaceAll(line, []byte("a client")))
	return len(line), err
}

// logged writes the server's lines as entries of the program's log.
type logged struct{ log *slog.Logger }

func (l logged) Write(line []byte) (int, error) {
	l.log.Warn("the web server", "said", strings.TrimSpace(string(line)))
	return len(line), nil
}
