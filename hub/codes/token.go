package codes

import (
	"crypto/rand"
	"encoding/hex"
)

// Token draws a resume token of 128 bits.
func Token() string {
	var b [16]byte
	rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}
