package names

import (
	"strings"
)

// OneLine is a name as typed, without the spaces that nobody sees.
func OneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
