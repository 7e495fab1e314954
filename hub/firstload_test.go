package hub_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"net"
	"net/http"
	"path"
	"regexp"
	"sync/atomic"
	"testing"
)

// What a device asks for when it opens a page for the first time: the page, what
// its head names, and whatever modules import besides. The two faces, of 81 kB,
// are not counted: they are asked for once there is text to be set in them, and
// until they are there it is read in another.

// budget bounds a page's first load. Steps are those after the page: 1 where its
// head names all that is needed.
type budget struct{ requests, bytes, steps int }

var (
	headNames = regexp.MustCompile(`(?:src|href)="(/[^"]+\.(?:mjs|css|svg))"`)
	imports   = regexp.MustCompile(`(?m)^(?:import|export) .*from '([^']+)';`)
)

func TestFirstLoad(t *testing.T) {
	t.Parallel()
	p := begin(t)
	for _, page := range []struct {
		path string
		most budget
		also []string // what its modules ask for as soon as they run
	}{
		{"/", budget{14, 31_300, 1}, nil},
		{"/team", budget{22, 47_100, 1}, []string{"/find?code=" + p.code}},
		{"/board", budget{27, 61_500, 1}, []string{"/qr.svg?game=" + p.code}},
		{"/host", budget{45, 99_700, 1}, nil},
		{"/practice", budget{22, 54_900, 1}, nil},
		{"/debrief", budget{24, 56_300, 1}, nil},
		{"/season", budget{25, 55_500, 1}, nil},
		{"/season/board", budget{20, 43_000, 1}, nil},
		{"/fair-teams", budget{23, 49_000, 1}, nil},
		{"/trends", budget{25, 55_000, 1}, nil},
		{"/tournament", budget{33, 81_500, 1}, nil},
		{"/tournament/board", budget{22, 52_300, 1}, nil},
		{"/tournament/team", budget{22, 45_300, 1}, nil},
		{"/tournament/follow", budget{38, 85_900, 1}, nil},
	} {
		for _, language := range []string{"en", "es"} {
			v := newVisit(p, language)
			v.load(page.path, page.also)
			got := budget{v.requests, int(v.bytes.Load()), v.steps}
			t.Logf("%-18s %s %3d requests %7d bytes %2d step(s)", page.path, language, got.requests, got.bytes, got.steps)
			if got.requests > page.most.requests || got.bytes > page.most.bytes || got.steps > page.most.steps {
				t.Errorf("%s in %s takes %+v, more than %+v", page.path, language, got, page.most)
			}
		}
	}
}

// visit is a device with nothing kept, that counts what its sockets receive.
type visit struct {
	*place
	client   http.Client
	language string
	requests int
	bytes    atomic.Int64
	steps    int
}

func newVisit(p *place, language string) *visit {
	v := &visit{place: p, language: language}
	dial := func(ctx context.Context, network, address string) (net.Conn, error) {
		conn, err := (&net.Dialer{}).DialContext(ctx, network, address)
		return counted{conn, &v.bytes}, err
	}
	v.client.Transport = &http.Transport{DialContext: dial, DisableCompression: true}
	return v
}

type counted struct {
	net.Conn
	bytes *atomic.Int64
}

func (c counted) Read(p []byte) (int, error) {
	n, err := c.Conn.Read(p)
	c.bytes.Add(int64(n))
	return n, err
}

// load asks for all that the page needs.
func (v *visit) load(page string, also []string) {
	v.Helper()
	defer v.client.CloseIdleConnections()
	got := map[string]bool{}
	var step []string
	for _, m := range headNames.FindAllStringSubmatch(v.ask(page), -1) {
		step = append(step, m[1])
	}
	for ; len(step) > 0; v.steps++ {
		var next, unread []string
		for _, name := range step {
			if got[name] {
				continue
			}
			got[name] = true
			for _, m := range imports.FindAllStringSubmatch(v.ask(name), -1) {
				unread = append(unread, path.Join(path.Dir(name), m[1]))
			}
		}
		for _, name := range unread {
			if !got[name] {
				next = append(next, name)
			}
		}
		step = next
	}
	for _, name := range also {
		v.ask(name)
	}
}

// ask is one request, as a browser makes it.
func (v *visit) ask(at string) string {
	v.Helper()
	v.requests++
	r, err := http.NewRequestWithContext(v.ctx, "GET", v.url+at, nil)
	if err != nil {
		v.Fatal(err)
	}
	r.Header.Set("Accept-Encoding", "gzip, deflate, br")
	r.Header.Set("Accept-Language", v.language)
	a, err := v.client.Do(r)
	if err != nil {
		v.Fatal(err)
	}
	defer a.Body.Close()
	body, err := io.ReadAll(a.Body)
	if err != nil || a.StatusCode != http.StatusOK {
		v.Fatalf("%s: %s %v", at, a.Status, err)
	}
	if a.Header.Get("Content-Encoding") != "gzip" {
		return string(body)
	}
	z, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		v.Fatalf("%s: %v", at, err)
	}
	plain, err := io.ReadAll(z)
	if err != nil {
		v.Fatalf("%s: %v", at, err)
	}
	return string(plain)
}
