package wire

import (
	"mime"
	"net/http/httptest"
	"strings"
	"testing"
)

// A file's name comes back whole, whatever is in it, and adds nothing to its header.
func TestDownloadsAreQuoted(t *testing.T) {
	for _, name := range []string{"set.jsonl", `a"; filename="b.exe`, "a;b=c, d\\e", "Nutrias de España.csv", "otter\r\nSet-Cookie: a=b", "狐.csv"} {
		w := httptest.NewRecorder()
		Download(w, "text/csv", name)
		head := w.Header().Get("Content-Disposition")
		kind, params, err := mime.ParseMediaType(head)
		if err != nil || kind != "attachment" || params["filename"] != name || len(params) != 1 || strings.ContainsAny(head, "\r\n") {
			t.Errorf("%q becomes %q: %q %v, %v", name, head, kind, params, err)
		}
	}
}
