package main

import (
	"io"
	"log"
	"log/slog"
	"net/http"
	"regexp"
	"strings"
	"time"
)

// bodyTime is for what comes with a request; photos are given longer.
const bodyTime = time.Minute

// newServer bounds what a connection may cost before it is a client of the hub.
func newServer(pages http.Handler, errors io.Writer, bodyTime time.Duration) *http.Server {
	inTime := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.ContentLength != 0 {
			http.NewResponseController(w).SetReadDeadline(time.Now().Add(bodyTime))
		}
		pages.ServeHTTP(w, r)
	})
	return &http.Server{Handler: inTime, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10,
		ErrorLog: log.New(nameless{errors}, "", 0)}
}

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
