// Package relay carries sockets between hubs that share a store: a phone came
// to one hub, and another runs its game. What the phone says waits in the
// game's mailbox for the owner, and what the owner says is read from the game's
// stream; a channel only says "read". See package store/redis for what both
// promise.
//
// The owner takes sockets at a Desk, a net.Listener that lives as long as one
// lease. A hub without the game has one Line to it for all its phones. What was
// missed or is in doubt is never guessed: the line ends, and its phones come
// back by another.
package relay

import (
	"bytes"
	"crypto/aes"
	"crypto/cipher"
	"crypto/hkdf"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"log/slog"
	"time"

	"github.com/fxamacker/cbor/v2"

	"fieldsign/hub/store"
)

const (
	lookEvery  = time.Second            // whether the store and the owner are there
	retryEvery = 250 * time.Millisecond // while the store is gone
	mostAdrift = 30 * time.Second       // then the phones may find a hub that is not cut off
	lastCall   = time.Second            // for what is left to say at an end
	stuck      = 5 * time.Second        // for the owner to take what a phone said
	fullParcel = 256 << 10              // bytes
	mostDue    = 32 << 20               // bytes that wait for the store
)

// Config says whose sockets are carried.
type Config struct {
	Store store.Shared
	Game  string
	Hub   string // this one's name
	Lease time.Duration
	Key   func() string // that all hubs have, at the time
	Log   *slog.Logger
}

// up is a batch of what phones said at a hub.
type up struct {
	_     struct{} `cbor:",toarray"`
	Token uint64   // of the owner that it is for
	Line  uint64
	N     uint64 // how many batches of the line went before
	Over  bool   // all its sockets have ended
	Parts []part
}

// part is what one phone said.
type part struct {
	_      struct{} `cbor:",toarray"`
	Socket uint64
	From   string // with the first part: the phone's address
	Data   []byte
	End    bool
}

// down is a batch of what the owner says to the phones of a line.
type down struct {
	_      struct{} `cbor:",toarray"`
	Line   uint64
	Over   bool     // something was missed
	Frames [][]byte // each once, however many phones are told it
	To     []to
}

// to is what one phone is told.
type to struct {
	_      struct{} `cbor:",toarray"`
	Socket uint64
	Frames []int // by their places, in turn
	End    bool
}

// seal encodes and encrypts a batch: phones' addresses, their tokens and the
// host's key are in what is relayed, and are nothing for a store to keep.
func (c Config) seal(v any) []byte {
	b, err := cbor.Marshal(v)
	if err != nil {
		panic(err) // only if the types above could not be encoded
	}
	return c.cipher().Seal(nil, nil, b, []byte(c.Game))
}

// open reads what a hub with the same key has sealed for the game.
func (c Config) open(data []byte, v any) error {
	b, err := c.cipher().Open(nil, nil, data, []byte(c.Game))
	if err != nil {
		return errKey
	}
	return decoding.Unmarshal(b, v)
}

var errKey = errors.New("it was sealed under another key: all hubs need the same host key")

func (c Config) cipher() cipher.AEAD {
	key, err := hkdf.Key(sha256.New, []byte(c.Key()), nil, "fieldsign relay", 32)
	var sealed cipher.AEAD
	if err == nil {
		var block cipher.Block
		if block, err = aes.NewCipher(key); err == nil {
			sealed, err = cipher.NewGCMWithRandomNonce(block)
		}
	}
	if err != nil {
		panic(err) // only if the lengths above were wrong
	}
	return sealed
}

var decoding = func() cbor.DecMode {
	mode, err := cbor.DecOptions{MaxArrayElements: 1 << 20}.DecMode() // phones of a hub, with a few frames each
	if err != nil {
		panic(err) // only if the options were wrong
	}
	return mode
}()

// parcel is a down in the making.
type parcel struct {
	down
	hub    string
	places map[string]int // of the frames
	size   int            // bytes, about
}

func (p *parcel) add(socket uint64, said []byte, end bool) {
	if n := len(p.To); n == 0 || p.To[n-1].Socket != socket {
		p.To = append(p.To, to{Socket: socket})
		p.size += 8
	}
	t := &p.To[len(p.To)-1]
	t.End = end
	for len(said) > 0 {
		n := frameLen(said)
		at, there := p.places[string(said[:n])]
		if !there {
			at = len(p.Frames)
			p.Frames = append(p.Frames, bytes.Clone(said[:n]))
			p.places[string(said[:n])] = at
			p.size += n
		}
		t.Frames = append(t.Frames, at)
		said = said[n:]
	}
}

// frameLen is the length of the WebSocket frame, unmasked and final, that bytes
// begin with; of anything else, such as the answer to an upgrade, it is all.
func frameLen(p []byte) int {
	n := len(p)
	if n < 2 || p[0]&0x80 == 0 {
		return n
	}
	whole := uint64(2 + p[1])
	switch {
	case p[1] == 126 && n >= 4:
		whole = 4 + uint64(binary.BigEndian.Uint16(p[2:]))
	case p[1] == 127 && n >= 10:
		whole = 10 + binary.BigEndian.Uint64(p[2:])
	}
	return int(min(whole, uint64(n)))
}
