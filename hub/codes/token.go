package codes

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"regexp"
)

// Token draws a resume token of 128 bits.
func Token() string {
	var b [16]byte
	rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// tokenShape is what a phone may draw as its own resume token: 128 bits in hex.
var tokenShape = regexp.MustCompile(`^[0-9a-f]{32}$`)

// IsToken tells whether a phone may have that as its token.
func IsToken(text string) bool { return tokenShape.MatchString(text) }

// Secret is what is kept of a token.
func Secret(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}
