package socket

import (
	"encoding/binary"
	"slices"

	"github.com/gorilla/websocket"
)

// Frames as they are on the wire (RFC 6455, 5.2). The library reads and
// answers control frames; what a listener says it puts together itself, so that
// several frames are one write and a broadcast is the same bytes for all.

// What RFC 6455 says of a frame's first two bytes.
const (
	final       = 0x80
	masked      = 0x80
	mostControl = 125
)

// Framed is a frame of its own.
func Framed(kind int, payload []byte) []byte {
	return AppendFrame(nil, kind, payload)
}

// AppendFrame adds a frame to others.
func AppendFrame(b []byte, kind int, payload []byte) []byte {
	b = append(slices.Grow(b, len(payload)+10), final|byte(kind))
	switch n := len(payload); {
	case n <= mostControl:
		b = append(b, byte(n))
	case n <= 0xffff:
		b = binary.BigEndian.AppendUint16(append(b, 126), uint16(n))
	default:
		b = binary.BigEndian.AppendUint64(append(b, 127), uint64(n))
	}
	return append(b, payload...)
}

// isClose tells what a write begins with; a close is always alone in it.
func isClose(p []byte) bool { return len(p) > 0 && p[0] == final|websocket.CloseMessage }
