package socket

import (
	"encoding/binary"
	"errors"
)

var errPieces = errors.New("a message comes in too many pieces")

// tally is a connection that counts the frames that begin in what is read, of
// whatever kind: the library keeps pings and the pieces of a message to itself. What it would
// refuse as broken may be counted wrongly. Its reader alone may use it.
type tally struct {
	*outbox
	head  [14]byte // of a frame, as far as it has come
	have  int      // bytes of it
	skip  uint64   // bytes of payload to come
	begun int      // frames since the last take
}

func (t *tally) Read(p []byte) (int, error) {
	if t.begun > t.board.Pieces {
		return 0, errPieces
	}
	n, err := t.outbox.Read(p)
	t.count(p[:n])
	return n, err
}

// take returns how many frames have begun, and counts anew.
func (t *tally) take() int {
	n := t.begun
	t.begun = 0
	return n
}

func (t *tally) count(p []byte) {
	for len(p) > 0 {
		if n := min(t.skip, uint64(len(p))); n > 0 {
			t.skip -= n
			p = p[n:]
			continue
		}
		t.head[t.have], p = p[0], p[1:]
		t.have++
		if t.have >= 2 && t.have == t.headSize() {
			t.skip, t.have = t.payload(), 0
			t.begun++
		}
	}
}

// Of RFC 6455, 5.2: what the second byte says of the length.
const (
	in16Bits = 126
	in64Bits = 127
)

func (t *tally) headSize() int {
	size := 2
	switch t.head[1] &^ masked {
	case in16Bits:
		size += 2
	case in64Bits:
		size += 8
	}
	if t.head[1]&masked != 0 {
		size += 4
	}
	return size
}

func (t *tally) payload() uint64 {
	switch short := t.head[1] &^ masked; short {
	case in16Bits:
		return uint64(binary.BigEndian.Uint16(t.head[2:]))
	case in64Bits:
		return binary.BigEndian.Uint64(t.head[2:])
	default:
		return uint64(short)
	}
}
