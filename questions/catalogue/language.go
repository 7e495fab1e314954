package catalogue

import (
	"fmt"
	"strings"
)

// Language is what a catalogue's words are in. The zero value is English.
type Language string

const (
	English Language = ""
	Spanish Language = "es"
)

// Tags name the languages as BCP 47 does.
func Tags() []string { return []string{English.Tag(), Spanish.Tag()} }

// Tag is the language's name by BCP 47.
func (l Language) Tag() string {
	if l == English {
		return "en"
	}
	return string(l)
}

// ParseLanguage reads a tag; none is English.
func ParseLanguage(tag string) (Language, error) {
	for _, l := range []Language{English, Spanish} {
		if tag == l.Tag() || tag == string(l) {
			return l, nil
		}
	}
	return English, fmt.Errorf("questions can't be asked in the language %.20q: there are %s", tag, strings.Join(Tags(), ", "))
}

// value is a value as the wording's language has it.
func (w Wording) value(v Value) string {
	if w.Language == English {
		return v.Words()
	}
	if v.Text == "" && v.Members == nil && v.Lo != v.Hi {
		return "de " + number(v.Lo) + " a " + number(v.Hi)
	}
	return chosen(w.Values, v.Words())
}
