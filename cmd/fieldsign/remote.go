package main

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"strings"

	"fieldsign/hub/store/bolt"
)

// remote is where a command finds the games: at a running hub, or in the file
// of one that is stopped. The host key comes from the environment alone, where
// no list of processes and no shell's history shows it.
type remote struct{ hub, data string }

func (r *remote) flags(f *flag.FlagSet) {
	f.StringVar(&r.hub, "hub", "", "a running hub, such as http://localhost:7600; its host key is taken from FIELDSIGN_HOST_KEY")
	f.StringVar(&r.data, "data", "fieldsign.db", "without --hub: the file that keeps the games")
}

// open opens the file. Opening a store would create a missing one, so it is
// looked for first.
func (r remote) open() (*bolt.Store, error) {
	if _, err := os.Stat(r.data); err != nil {
		return nil, fmt.Errorf("there are no games: %w; give their file with --data", err)
	}
	s, err := bolt.Open(r.data)
	if errors.Is(err, bolt.ErrInUse) {
		return nil, fmt.Errorf("%w, or name the running hub with --hub", err)
	}
	return s, err
}

// ask sends the hub a request as its host, and hands out what it answers.
func (r remote) ask(ctx context.Context, method, path string, use func(io.Reader) error) error {
	return r.send(ctx, method, path, nil, use)
}

// send is ask with something for the hub to read.
func (r remote) send(ctx context.Context, method, path string, body io.Reader, use func(io.Reader) error) error {
	key := os.Getenv("FIELDSIGN_HOST_KEY")
	if key == "" {
		return errors.New("the hub asks for its host key: set FIELDSIGN_HOST_KEY to it")
	}
	at, err := url.Parse(r.hub)
	if err != nil || at.Host == "" {
		return fmt.Errorf("--hub takes an address such as http://localhost:7600, not %q", r.hub)
	}
	request, err := http.NewRequestWithContext(ctx, method, strings.TrimSuffix(r.hub, "/")+path, body)
	if err != nil {
		return err
	}
	request.Header.Set("Authorization", "Bearer "+key)
	resp, err := r.client().Do(request)
	if err != nil {
		return fmt.Errorf("the hub does not answer: %w", err)
	}
	defer resp.Body.Close()
	if resp.StatusCode >= http.StatusBadRequest {
		var said struct{ Message string }
		json.NewDecoder(io.LimitReader(resp.Body, 1<<16)).Decode(&said)
		return fmt.Errorf("the hub refused (%s): %s", resp.Status, said.Message)
	}
	return use(resp.Body)
}

// client trusts the self-made certificate beside the data too.
func (r remote) client() *http.Client {
	own, err := os.ReadFile(r.data + ".cert.pem")
	if err != nil {
		return http.DefaultClient
	}
	roots, err := x509.SystemCertPool()
	if err != nil {
		roots = x509.NewCertPool()
	}
	roots.AppendCertsFromPEM(own)
	return &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, MinVersion: tls.VersionTLS12}}}
}

// nothing is for answers without content.
func nothing(io.Reader) error { return nil }
