// Package marked puts what a simulation found into a page of the docs.
package marked

import (
	"bytes"
	"fmt"
)

// Fill puts text between two marks of a page, in place of what stood there.
func Fill(page, text []byte, begin, end string) ([]byte, error) {
	before, rest, found := bytes.Cut(page, []byte(begin))
	_, after, closed := bytes.Cut(rest, []byte(end))
	if !found || !closed {
		return nil, fmt.Errorf("the marks %q and %q are missing: put them where the tables belong", begin, end)
	}
	return bytes.Join([][]byte{before, []byte(begin), text, []byte(end), after}, nil), nil
}
