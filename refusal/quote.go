package refusal

import (
	"strconv"
	"unicode"
)

// mostQuoted is how much of a text a message repeats, in letters.
const mostQuoted = 40

// Quote is what somebody sent as it may stand in a message: in quotes, cut to a
// short piece between two letters, without what can't be seen.
func Quote(text string) string {
	var out []rune
	for _, r := range text {
		if !unicode.IsGraphic(r) {
			continue
		}
		if len(out) == mostQuoted {
			return strconv.Quote(string(out) + "…")
		}
		out = append(out, r)
	}
	return strconv.Quote(string(out))
}
