package catalogue

import (
	"math"
	"strings"
)

// Wording is how a trait is said. Patterns are verb phrases without their
// subject ("has {} upper incisor{s}") and may hold
//
//	{}                    the value
//	{a}                   the value with its article
//	{s}                   the plural s of a count
//	{forward:that face forward|side:at the sides}   words chosen by the value
//	{incisivo|incisivos}  words for one and for several of a count
type Wording struct {
	Says      string // the value holds
	Denies    string // the value does not hold; a count's: it is zero
	Some      string // a count above zero
	Most      string // superlatives of a number
	Least     string
	Adjective string // said with "animal": "prey", "semi-aquatic"

	// In a language other than English: what is looked at, with its article
	// ("el cráneo"), and the values in that language, as in {…} above.
	Language Language
	Part     string
	Values   string
}

// Say puts "the value v holds" in words.
func (t Trait) Say(v Value) string {
	if v.Usual != "" || v.Status == Variable && v.Maybe != nil {
		return t.sayBounded(v)
	}
	if t.Kind == Count && v.Lo == 0 && t.Wording.Denies != "" {
		return t.Wording.Denies
	}
	return t.Wording.fill(t.Wording.Says, t.rounded(v))
}

// rounded is a range as one says it: from two centimetres on, nobody measures
// tenths of a millimetre.
func (t Trait) rounded(v Value) Value {
	perUnit := map[string]float64{"mm": 1, "cm": 10}[t.Unit]
	for _, end := range []*float64{&v.Lo, &v.Hi} {
		if mm := *end * perUnit; mm >= 20 {
			*end = math.Round(mm) / perUnit
		}
	}
	return v
}

// Deny puts "the value v does not hold" in words.
func (t Trait) Deny(v Value) string { return t.Wording.fill(t.Wording.Denies, v) }

// Adjective is the word that goes with "animal" for the value, if the trait has one.
func (t Trait) Adjective(v Value) string { return t.Wording.fill(t.Wording.Adjective, v) }

func (w Wording) fill(pattern string, v Value) string {
	if !strings.Contains(pattern, "{") {
		return pattern
	}
	var out strings.Builder
	text := w.value(v)
	for {
		before, rest, slot := strings.Cut(pattern, "{")
		out.WriteString(before)
		if !slot {
			return out.String()
		}
		var inner string
		inner, pattern, _ = strings.Cut(rest, "}")
		out.WriteString(filled(inner, text, v))
	}
}

// filled is what stands in a slot, given without its braces.
func filled(slot, text string, v Value) string {
	switch slot {
	case "":
		return text
	case "a":
		return Article(text) + " " + text
	case "s":
		return plural(v)
	}
	if one, several, two := strings.Cut(slot, "|"); two && !strings.Contains(slot, ":") {
		return numbered(v, one, several)
	}
	return chosen(slot, v.Words())
}

// Words is the value as a sentence has it.
func (v Value) Words() string {
	switch {
	case v.Usual != "":
		return usuallyPrefix + v.Usual
	case v.Status == Variable && v.Maybe != nil:
		return strings.Join(v.Maybe, " or ")
	case v.Members != nil:
		return list(v.Members)
	case v.Text != "":
		return v.Text
	case v.Lo == v.Hi:
		return number(v.Lo)
	}
	return number(v.Lo) + " to " + number(v.Hi)
}

func plural(v Value) string { return numbered(v, "", "s") }

func numbered(v Value, one, several string) string {
	if v.Lo == 1 && v.Hi == 1 {
		return one
	}
	return several
}

func chosen(table, text string) string {
	for choice := range strings.SplitSeq(table, "|") {
		if value, words, ok := strings.Cut(choice, ":"); ok && value == text {
			return words
		}
	}
	return text
}

func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// Article is "an" before a vowel's sound, else "a".
func Article(word string) string {
	w := strings.ToLower(word)
	for _, long := range []string{"uni", "eu", "one", "us"} {
		if strings.HasPrefix(w, long) {
			return "a"
		}
	}
	if w != "" && strings.ContainsRune("aeiou", rune(w[0])) {
		return "an"
	}
	return "a"
}
