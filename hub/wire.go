package hub

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"github.com/gorilla/websocket"
)

// Frames as they are on the wire (RFC 6455, 5.2). The library reads and
// answers control frames; what a table says it puts together itself, so that
// several frames are one write and a broadcast is the same bytes for all.

// framed is a frame of its own.
func framed(kind int, payload []byte) []byte {
	return appendFrame(nil, kind, payload)
}

func appendFrame(b []byte, kind int, payload []byte) []byte {
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

// text is a frame that says v.
func text(v any) []byte { return framed(websocket.TextMessage, encode(v)) }

// appendYou encodes as encoding/json does, which a test holds it to. All teams
// are told at once, so that this is most of what a reveal has to encode. A
// station's questions are encoded by the library: a rotation has seconds.
func appendYou(b []byte, y *you) []byte {
	if y.Station != nil {
		return append(b, encode(*y)...) // a copy, so that y is on no heap
	}
	b = appendString(append(b, `{"type":`...), y.Type)
	b = appendString(append(b, `,"team":`...), y.Team)
	b = appendString(append(b, `,"name":`...), y.Name)
	b = strconv.AppendInt(append(b, `,"score":`...), int64(y.Score), 10)
	b = strconv.AppendInt(append(b, `,"rank":`...), int64(y.Rank), 10)
	b = strconv.AppendInt(append(b, `,"right":`...), int64(y.Right), 10)
	if y.Extra != 0 {
		b = strconv.AppendInt(append(b, `,"extra":`...), int64(y.Extra), 10)
	}
	b = appendString(append(b, `,"about":`...), y.About)
	b = append(b, `,"option":`...)
	if y.Option == nil {
		b = append(b, "null"...)
	} else {
		b = strconv.AppendInt(b, int64(*y.Option), 10)
	}
	b = appendString(append(b, `,"answer":`...), y.Answer)
	b = strconv.AppendBool(append(b, `,"locked":`...), y.Locked)
	b = appendString(append(b, `,"verdict":`...), y.Verdict)
	b = strconv.AppendInt(append(b, `,"gained":`...), int64(y.Gained), 10)
	return append(b, '}')
}

// hostJSON encodes a console's state in the same way: in a large game the teams
// are most of what it says. The host's own goes at the end of the rest.
func hostJSON(rest []byte, h *hostView) []byte {
	host := *h
	host.Teams = nil
	own := bytes.TrimSuffix(encode(host), []byte("null}")) // the teams are its last field
	b := append(make([]byte, 0, len(rest)+len(own)+160*len(h.Teams)+16), rest[:len(rest)-1]...)
	b = append(append(append(b, `,"host":`...), own...), '[')
	for i := range h.Teams {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendTeam(b, &h.Teams[i])
	}
	return append(b, "]}}"...)
}

func appendTeam(b []byte, v *teamView) []byte {
	b = appendString(append(b, `{"team":`...), v.Team)
	b = appendString(append(b, `,"name":`...), v.Name)
	b = strconv.AppendInt(append(b, `,"score":`...), int64(v.Score), 10)
	b = strconv.AppendInt(append(b, `,"right":`...), int64(v.Right), 10)
	b = strconv.AppendBool(append(b, `,"online":`...), v.Online)
	b = strconv.AppendBool(append(b, `,"answered":`...), v.Answered)
	b = strconv.AppendBool(append(b, `,"locked":`...), v.Locked)
	b = strconv.AppendInt(append(b, `,"extra":`...), int64(v.Extra), 10)
	if v.Station != 0 {
		b = strconv.AppendInt(append(b, `,"station":`...), int64(v.Station), 10)
	}
	if v.Filled != 0 {
		b = strconv.AppendInt(append(b, `,"filled":`...), int64(v.Filled), 10)
	}
	return append(b, '}')
}

// escaped are the bytes that need it within a string, or may.
var escaped = func() (t [256]bool) {
	for c := range t {
		t[c] = c < ' ' || c > '~' || strings.IndexByte(`"\<>&`, byte(c)) >= 0
	}
	return t
}()

// appendString leaves what needs escaping to encoding/json.
func appendString(b []byte, s string) []byte {
	for i := range len(s) {
		if escaped[s[i]] {
			quoted, _ := json.Marshal(s) // a string is always encoded
			return append(b, quoted...)
		}
	}
	return append(append(append(b, '"'), s...), '"')
}
