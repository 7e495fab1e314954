package static

import (
	"net/http"
	"slices"
	"strings"
)

// languageCookie holds a reader's choice, which lib/language.mjs sets.
const languageCookie = "fieldsign-language"

// Language is the one of whoever asks: what the address says (?lang=es), else
// what they chose, else the first that their browser asks for, else English.
func (s *Site) Language(r *http.Request) string {
	wishes := []string{r.URL.Query().Get("lang")}
	if c, err := r.Cookie(languageCookie); err == nil {
		wishes = append(wishes, c.Value)
	}
	for _, wish := range append(wishes, accepted(r.Header.Get("Accept-Language"))...) {
		primary, _, _ := strings.Cut(strings.ToLower(wish), "-")
		if slices.Contains(s.languages, primary) {
			return primary
		}
	}
	return english
}

// accepted are the languages of an Accept-Language header, the most wanted first.
func accepted(header string) []string {
	type choice struct {
		name    string
		quality float64
	}
	var choices []choice
	for part := range strings.SplitSeq(header, ",") {
		if name, quality := rated(part); quality > 0 {
			choices = append(choices, choice{name, quality})
		}
	}
	slices.SortStableFunc(choices, func(a, b choice) int {
		return int(b.quality*1000) - int(a.quality*1000) // a quality has three digits
	})
	names := make([]string, len(choices))
	for i, c := range choices {
		names[i] = c.name
	}
	return names
}
