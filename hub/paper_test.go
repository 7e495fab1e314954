package hub_test

import (
	"bytes"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
)

func TestAGameOnPaper(t *testing.T) {
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	p.join("Wrens")
	for _, tc := range []struct {
		query  string
		status int
	}{
		{"&kind=quiz", http.StatusOK},
		{"&kind=key&size=letter", http.StatusOK},
		{"&kind=cards&round=0", http.StatusOK},
		{"&kind=plates", http.StatusOK},
		{"&kind=quiz&round=7", http.StatusNotFound},
		{"&kind=poster", http.StatusUnprocessableEntity},
		{"&kind=sheets", http.StatusUnprocessableEntity},
		{"&kind=quiz&size=a0", http.StatusUnprocessableEntity},
	} {
		status, body := p.asHost("GET", "/paper?game="+p.code+tc.query, hostKey)
		if status != tc.status || status == http.StatusOK && !bytes.HasPrefix(body, []byte("%PDF-")) || status != http.StatusOK && !strings.Contains(string(body), `"message"`) {
			t.Errorf("%s: %d, %.80q", tc.query, status, body)
		}
	}
}
