package gate

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"strings"

	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// host lets in only who shows the host key.
func (g *Gate) host(next http.HandlerFunc) http.HandlerFunc {
	return ownPages(func(w http.ResponseWriter, r *http.Request) {
		key := strings.TrimPrefix(r.Header.Get("Authorization"), "Bearer ")
		if key == "" {
			wire.Refuse(w, refusal.New(refusal.WrongKey, "This is for the host: it takes this hub's host key."))
			return
		}
		switch wait, right := g.TryKey(r.RemoteAddr, key); {
		case wait > 0:
			ComeLater(w, wait)
		case !right:
			wire.Refuse(w, refusal.New(refusal.WrongKey, "That is not this hub's host key."))
		default:
			next(w, r)
		}
	})
}

// NewKey draws a host key of some 130 random bits.
func NewKey() string { return strings.ToLower(rand.Text()) }

// isHostKey takes the same time for every key of the right length.
func (g *Gate) isHostKey(key string) bool {
	return subtle.ConstantTimeCompare([]byte(key), []byte(*g.hostKey.Load())) == 1
}

// Vouch proves to another hub that an address comes from a hub: only they all
// have the host key. The guard counts by that address, so nobody else may choose it.
func (g *Gate) Vouch(address string) string {
	mac := hmac.New(sha256.New, []byte(*g.hostKey.Load()))
	mac.Write([]byte("forwarded for " + address))
	return hex.EncodeToString(mac.Sum(nil))
}

// SetHostKey has the key before count for nothing from now on.
func (g *Gate) SetHostKey(key string) { g.hostKey.Store(&key) }

// HostKey is what a console must show.
func (g *Gate) HostKey() string { return *g.hostKey.Load() }
