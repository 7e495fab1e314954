package catalogue

import (
	"slices"
	"strconv"
	"strings"
)

const usuallyPrefix = "usually "

// bounded reports whether the value varies, but not beyond what is said of it.
func (v Value) bounded() bool {
	return v.Status == Variable && (v.Usual != "" || v.Maybe != nil || v.Hi > 0)
}

// Says reports whether the value says anything: what is, or within which bounds it varies.
func (v Value) Says() bool { return v.Known() || v.bounded() }

// hedged writes a bounded value as its cell does: what is usual, then what
// else it may be. A formula holds its bounds in its own text.
func (v Value) hedged() string {
	switch {
	case v.Text != "":
		return v.Text
	case v.Hi > 0:
		return strings.TrimPrefix(v.Usual+";?"+span(v.Lo, v.Hi), ";")
	}
	var parts []string
	if v.Usual != "" {
		parts = append(parts, v.Usual)
	}
	for _, m := range v.Maybe {
		parts = append(parts, "?"+m)
	}
	return strings.Join(parts, ";")
}

// May reports whether the value can be what the text says.
func (v Value) May(text string) bool {
	if v.Number() {
		x, err := strconv.ParseFloat(text, 64)
		return err == nil && v.Lo <= x && x <= v.Hi
	}
	return text == v.Text || text == v.Usual || slices.Contains(v.Maybe, text)
}

// Apart reports whether no single animal could show both values. A set decides
// only through its members, which are traits of their own.
func Apart(a, b Value) bool {
	switch {
	case !a.decides() || !b.decides():
		return false
	case a.Number() && b.Number():
		return a.Hi < b.Lo || b.Hi < a.Lo
	}
	return !slices.ContainsFunc(a.all(), b.May)
}

func (v Value) decides() bool { return v.Members == nil && v.Says() }

// all lists what a value in words can be.
func (v Value) all() []string {
	if v.Known() {
		return []string{v.Text}
	}
	if v.Usual == "" {
		return v.Maybe
	}
	return append([]string{v.Usual}, v.Maybe...)
}

// Claimed is the value that a claim with "=" has for what this one is, or
// usually is; empty where there is nothing to claim.
func (v Value) Claimed() string {
	switch {
	case v.Usual != "":
		return usuallyPrefix + v.Usual
	case !v.Known() || v.Members != nil || v.Number() && v.Lo != v.Hi:
		return ""
	}
	return v.String()
}

// Typical is what the value is most often, as a certain one; a value that has
// no usual stays as it is.
func (v Value) Typical() Value {
	if v.Usual == "" {
		return v
	}
	out := Value{Status: Known, Text: v.Usual, Source: v.Source, Basis: v.Basis}
	if x, err := strconv.ParseFloat(v.Usual, 64); v.Number() && err == nil {
		out.Text, out.Lo, out.Hi = "", x, x
	}
	return out
}

// sayBounded puts a variable value in words: what is usual, or all it may be.
func (t Trait) sayBounded(v Value) string {
	w := speech[t.Wording.Language]
	if v.Usual != "" {
		return w.hedged(t.Say(v.Typical()))
	}
	switch {
	case t.Kind == Formula: // which holds its bounds
		return t.Wording.fill(t.Wording.Says, Value{Text: v.Text})
	case strings.Contains(t.Wording.Says, v.Words()+":"): // the states are said together
		return t.Wording.fill(t.Wording.Says, v)
	}
	var phrases []string
	for _, m := range v.Maybe {
		phrases = append(phrases, t.Say(Value{Status: Known, Text: m}))
	}
	phrases = oneVerb(phrases)
	last := len(phrases) - 1
	if last == 0 {
		return phrases[0]
	}
	return strings.Join(phrases[:last], ", ") + w.or + phrases[last]
}

// oneVerb says once what all the phrases say: "has a deep", "a shallow pit". Where
// more than a word differs it is the verb alone: "comes as oblong pellets", "as
// large ones".
func oneVerb(phrases []string) []string {
	var words [][]string
	for _, p := range phrases {
		words = append(words, strings.Fields(p))
	}
	first, least := words[0], slices.MinFunc(words, func(a, b []string) int { return len(a) - len(b) })
	all := func(same func(w []string) bool) bool {
		return !slices.ContainsFunc(words, func(w []string) bool { return !same(w) })
	}
	lead := 0
	for lead < len(least)-1 && all(func(w []string) bool { return w[lead] == first[lead] }) {
		lead++
	}
	tail := 0
	for tail < len(least)-lead-1 && all(func(w []string) bool { return w[len(w)-1-tail] == first[len(first)-1-tail] }) {
		tail++
	}
	last := len(phrases) - 1
	if oneWord := all(func(w []string) bool { return len(w) == lead+1+tail }); !oneWord {
		lead, tail = min(lead, verbWords(first)), 0
	} else if lead > 1 && len(first[lead-1]) <= len("una") {
		lead-- // an article or a preposition stands before each
	}
	for i, w := range words {
		from, to := lead, len(w)
		if i == 0 {
			from = 0
		}
		if i != last {
			to -= tail
		}
		phrases[i] = strings.Join(w[from:to], " ")
	}
	return phrases
}

// verbWords is how many words of a phrase are its verb.
func verbWords(phrase []string) int {
	if slices.Contains([]string{"usually", "suele"}, phrase[0]) {
		return 2
	}
	return 1
}

// speech is how a language hedges.
var speech = map[Language]hedges{
	English: {"usually ", "is ", " or ", []string{"usually ", "mainly "}},
	Spanish: {"normalmente ", "", " o ", []string{"suele ", "sobre todo "}},
}

// hedges are the word for "usually", the verb that it follows, the word between
// all that a value may be, and the words with which a phrase needs no other.
type hedges struct {
	usually, after, or string
	enough             []string
}

func (h hedges) hedged(phrase string) string {
	switch rest, follows := strings.CutPrefix(phrase, h.after); {
	case slices.ContainsFunc(h.enough, func(word string) bool { return strings.Contains(phrase, word) }):
		return phrase
	case follows:
		return h.after + h.usually + rest
	}
	return h.usually + phrase
}
