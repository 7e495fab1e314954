// Package codes draws what people and programs are known by: join codes, and
// tokens that nobody can guess.
package codes

import (
	"crypto/rand"
	_ "embed"
	"encoding/binary"
	"fmt"
	"strings"
)

// The words of join codes: short, easy to spell, of animals and where they live.
//
//go:embed codewords.txt
var codeText string

var codeWords = strings.Fields(codeText)

// New draws a join code of two words and two digits, such as
// otter-burrow-42: one of tens of millions.
func New() string {
	first, second := draw(len(codeWords)), draw(len(codeWords)-1)
	if second >= first {
		second++
	}
	return fmt.Sprintf("%s-%s-%02d", codeWords[first], codeWords[second], draw(100))
}

func draw(n int) int {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return int(binary.LittleEndian.Uint64(b[:]) % uint64(n))
}

// Clean takes a code as people type it: any case, spaces for hyphens.
func Clean(typed string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return r == '-' || r == ' ' }), "-")
}
