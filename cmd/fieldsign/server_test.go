package main

import (
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// logLines hands on what is logged.
type logLines chan string

func (l logLines) Write(b []byte) (int, error) { l <- string(b); return len(b), nil }

func TestTheLogHoldsNoAddress(t *testing.T) {
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
	server := newServer(http.NotFoundHandler(), logged, bodyTime)
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
	case <-time.After(5 * time.Second):
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
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := newServer(http.NotFoundHandler(), io.Discard, 100*time.Millisecond)
	go server.Serve(listener)
	defer server.Close()
	conn, err := net.Dial("tcp", listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprint(conn, "POST /games HTTP/1.1\r\nHost: hub\r\nContent-Length: 10\r\n\r\n{")
	conn.SetReadDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.Copy(io.Discard, conn); err != nil {
		t.Errorf("it is held yet: %v", err)
	}
}
