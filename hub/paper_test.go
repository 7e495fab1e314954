package hub_test

import (
	"bytes"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/questions/guide/onepage"
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
		{"&kind=plates&perPage=4", http.StatusOK},
		{"&kind=plates&perPage=5", http.StatusUnprocessableEntity},
		{"&kind=plates&perPage=many", http.StatusUnprocessableEntity},
		{"&kind=guide&size=letter", http.StatusOK},
		{"&kind=worksheet", http.StatusOK},
		{"&kind=answers", http.StatusOK},
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
	status, body := p.asHost("GET", "/paper?game="+p.code+"&kind=page", hostKey)
	if status != http.StatusOK || !bytes.HasPrefix(body, []byte(onepage.Head)) {
		t.Errorf("the guide's page: %d, %.80q", status, body)
	}
}
