package hub_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

var asked = regexp.MustCompile(`(?:src|href)="(/static/[^"]+)"`)

// What a page asks for is kept by the browser for good, and half as long.
func TestAssets(t *testing.T) {
	t.Parallel()
	p := begin(t)
	for _, page := range []string{"/", "/team", "/board", "/host", "/tournament"} {
		r, err := http.Get(p.url + page)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil || r.Header.Get("Cache-Control") != "no-cache" || !strings.HasPrefix(r.Header.Get("Content-Type"), "text/html") {
			t.Errorf("%s: %v %v", page, err, r.Header)
		}
		found := asked.FindAllStringSubmatch(string(text), -1)
		if len(found) < 3 {
			t.Errorf("%s asks for %v", page, found)
		}
		for _, m := range found {
			p.asset(m[1])
		}
	}
	if status, _ := p.get(asked.ReplaceAllString("/static/0123456789abcdef/en/style/style.css", "$1")); status != http.StatusNotFound {
		t.Errorf("another version's asset got %d", status)
	}
}

// asset asks for it as it is and packed.
func (p *place) asset(path string) {
	p.Helper()
	face := strings.HasSuffix(path, ".woff2") // compressed in itself
	sizes := map[string]int{}
	texts := map[string]string{}
	for _, accepted := range []string{"identity", "br, GZIP;q=0.5", "gzip;q=0"} {
		req, _ := http.NewRequest("GET", p.url+path, nil)
		req.Header.Set("Accept-Encoding", accepted)
		r, err := http.DefaultClient.Do(req)
		if err != nil {
			p.Fatal(err)
		}
		defer r.Body.Close()
		body := io.Reader(r.Body)
		if packed := r.Header.Get("Content-Encoding") == "gzip"; packed != (accepted[0] == 'b') && !face {
			p.Errorf("%s, accepting %s: encoded %q", path, accepted, r.Header.Get("Content-Encoding"))
		} else if packed {
			if body, err = gzip.NewReader(r.Body); err != nil {
				p.Fatal(err)
			}
		}
		text, err := io.ReadAll(body)
		if err != nil || r.StatusCode != http.StatusOK || r.Header.Get("Vary") != "Accept-Encoding" ||
			r.Header.Get("Cache-Control") != "public, max-age=31536000, immutable" {
			p.Errorf("%s: %s, %v, %v", path, r.Status, err, r.Header)
		}
		sizes[accepted], texts[accepted] = int(r.ContentLength), string(text)
	}
	saved := sizes["identity"] - sizes["br, GZIP;q=0.5"]
	if texts["identity"] != texts["br, GZIP;q=0.5"] || sizes["identity"] != sizes["gzip;q=0"] || saved < 0 || saved == 0 && !face {
		p.Errorf("%s: sizes %v", path, sizes)
	}
}
