package main

import (
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

// secure is the program over TLS, and a client that trusts its certificate.
func secure(t *testing.T, data, certFile string, args ...string) (*program, *http.Client) {
	t.Helper()
	p := start(t, data, freePort(t), args...)
	pem, err := os.ReadFile(certFile)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AppendCertsFromPEM(pem)
	return p, &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
}

func (p *program) dialSecure(client *http.Client, first map[string]any) *bot.Conn {
	p.Helper()
	c, err := bot.DialBy(p.Context(), client, fmt.Sprintf("https://localhost:%d", p.port), p.code)
	if err != nil {
		p.Fatal(err)
	}
	if err := c.Send(p.Context(), first); err != nil {
		p.Fatal(err)
	}
	return c
}

func (p *program) until(c *bot.Conn, fits func(bot.Frame) bool) bot.Frame {
	p.Helper()
	for {
		f, err := c.Receive(p.Context())
		if err != nil {
			p.Fatal(err)
		}
		if fits(f) {
			return f
		}
	}
}

// A question is played over the self-made certificate, which is kept.
func TestAQuestionOverTLS(t *testing.T) {
	t.Parallel()
	data := filepath.Join(t.TempDir(), "games.db")
	p, client := secure(t, data, data+".cert.pem", "--tls", "self", "--rehearse", "1")
	host := p.dialSecure(client, map[string]any{"type": "host", "key": testKey})
	shown := p.until(host, func(f bot.Frame) bool { return f.Host != nil })
	if !strings.HasPrefix(shown.Host.JoinURL, "https://fieldsign.test:") {
		t.Errorf("phones are sent to %s", shown.Host.JoinURL)
	}
	phone := p.dialSecure(client, map[string]any{"type": "join", "name": "Wrens"})
	p.until(phone, func(f bot.Frame) bool { return f.Type == "welcome" })
	if err := host.Send(t.Context(), map[string]any{"type": "do", "action": "next", "id": "n"}); err != nil {
		t.Fatal(err)
	}
	shown = p.until(host, func(f bot.Frame) bool { return f.Phase == "asking" && f.Host != nil })
	p.until(phone, func(f bot.Frame) bool { return f.Phase == "asking" })
	phone.Send(t.Context(), map[string]any{"type": "answer", "id": "a", "question": shown.Question.ID, "option": shown.Host.Key})
	p.until(phone, func(f bot.Frame) bool { return f.Type == "done" && f.ID == "a" })
	p.until(host, func(f bot.Frame) bool { return f.Phase == "revealed" }) // the bot answers over TLS too
	if you := p.until(phone, func(f bot.Frame) bool { return f.Verdict != "" }); you.Verdict != "right" {
		t.Errorf("the answer was %s", you.Verdict)
	}
	r, err := client.Get(fmt.Sprintf("https://localhost:%d/", p.port))
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if got := r.Header.Get("Strict-Transport-Security"); got != "" {
		t.Errorf("with a self-made certificate HSTS is %q, which takes away the way past the warning", got)
	}
	before, _ := os.ReadFile(data + ".cert.pem")
	p.kill()
	secure(t, data, data+".cert.pem", "--tls", "self")
	if after, _ := os.ReadFile(data + ".cert.pem"); string(after) != string(before) {
		t.Error("the next start made another certificate")
	}
	if mode, err := os.Stat(data + ".key.pem"); err != nil || mode.Mode().Perm() != 0o600 {
		t.Errorf("the key's mode: %v, %v", mode.Mode(), err)
	}
}

func TestAGivenCertificate(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	certFile, keyFile := filepath.Join(dir, "hub.pem"), filepath.Join(dir, "hub.key")
	cert, key, err := makeCertificate("fieldsign.test")
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(certFile, cert, 0o600)
	os.WriteFile(keyFile, key, 0o600)
	p, client := secure(t, filepath.Join(dir, "games.db"), certFile, "--tls-cert", certFile, "--tls-key", keyFile)
	r, err := client.Get(fmt.Sprintf("https://localhost:%d/", p.port))
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if got := r.Header.Get("Strict-Transport-Security"); got != strict {
		t.Errorf("HSTS is %q", got)
	}
	old := &tls.Dialer{Config: &tls.Config{InsecureSkipVerify: true, MinVersion: tls.VersionTLS10, MaxVersion: tls.VersionTLS11}}
	if conn, err := old.Dial("tcp", net.JoinHostPort("localhost", fmt.Sprint(p.port))); err == nil {
		conn.Close()
		t.Error("TLS 1.1 is spoken")
	}
	if seconds, _ := strconv.Atoi(strings.TrimPrefix(strict, "max-age=")); seconds < 365*24*60*60 {
		t.Errorf("HSTS holds for %d seconds, less than a year", seconds)
	}
	bare := &tls.Dialer{Config: &tls.Config{InsecureSkipVerify: true, MaxVersion: tls.VersionTLS12, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_CBC_SHA, tls.TLS_ECDHE_RSA_WITH_AES_128_CBC_SHA}}}
	if conn, err := bare.Dial("tcp", net.JoinHostPort("localhost", fmt.Sprint(p.port))); err == nil {
		conn.Close()
		t.Error("encryption without authentication is spoken")
	}
	usual := &tls.Dialer{Config: &tls.Config{InsecureSkipVerify: true}}
	if conn, err := usual.Dial("tcp", net.JoinHostPort("localhost", fmt.Sprint(p.port))); err != nil || conn.(*tls.Conn).ConnectionState().Version != tls.VersionTLS13 {
		t.Errorf("TLS 1.3 is not preferred: %v", err)
	} else {
		conn.Close()
	}
	if r, err := http.Get(p.url() + "/"); err == nil {
		if r.Body.Close(); r.StatusCode != http.StatusBadRequest {
			t.Errorf("plain HTTP on the port of TLS: %s", r.Status)
		}
	}
	other, _, _ := makeCertificate("fieldsign.test")
	os.WriteFile(certFile, other, 0o600)
	for _, h := range []hosting{{tls: "yes"}, {tlsCert: certFile}, {tls: "self", tlsKey: keyFile}, {tlsCert: certFile, tlsKey: keyFile}} {
		if _, err := h.certificate("localhost"); err == nil {
			t.Errorf("%+v is taken", h)
		}
	}
}

func TestRefusedNamesOfOnesOwn(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "names.txt")
	os.WriteFile(file, []byte("# ours\nbadger\n"), 0o600)
	list, err := openNames(file)
	if err != nil || !list.Refuses("The Badger") || list.Refuses("Wrens") {
		t.Errorf("%v", err)
	}
	os.WriteFile(file, []byte("badger\ntwo words\n"), 0o600)
	if _, err := openNames(file); err == nil || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("a bad list: %v", err)
	}
	if _, err := openNames(file + "x"); err == nil {
		t.Error("a missing list is taken")
	}
}
