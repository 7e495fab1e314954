package wire

import (
	"encoding/json"
	"fmt"
	"mime"
	"net/http"

	"fieldsign/refusal"
)

// Download has the browser keep what follows as a file of this name.
func Download(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
}

// Answer answers a request with JSON, which nobody may keep.
func Answer(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(v)
}

// mostJSON is the longest body of a request, in bytes.
const mostJSON = 64 << 10

// ReadJSON reads the body of a request. Its error is a refusal.
func ReadJSON(w http.ResponseWriter, r *http.Request, into any) error {
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostJSON)).Decode(into); err != nil {
		return refusal.New(refusal.BadFrame, fmt.Sprintf("The body is to be JSON of at most %d kB: reload the page and try again.", mostJSON>>10))
	}
	return nil
}

// ReadBody reads it too, and answers the request itself where the body is no such JSON.
func ReadBody(w http.ResponseWriter, r *http.Request, into any) bool {
	err := ReadJSON(w, r, into)
	if err != nil {
		Refuse(w, err)
	}
	return err == nil
}

// Encode never fails on the types of messages.go.
func Encode(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return b
}
