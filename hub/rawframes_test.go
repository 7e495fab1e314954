package hub_test

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/wire"
)

// raw is a connection of bytes, for what no WebSocket library would send.
type raw struct {
	net.Conn
	in *bufio.Reader
}

func (p *place) raw(first string) *raw {
	p.Helper()
	host := strings.TrimPrefix(p.url, "http://")
	conn, err := net.Dial("tcp", host)
	if err != nil {
		p.Fatal(err)
	}
	conn.(*net.TCPConn).SetLinger(0) // leaves no port waiting behind: the fuzzer opens many
	conn.SetDeadline(time.Now().Add(time.Minute))
	c := &raw{conn, bufio.NewReader(conn)}
	fmt.Fprintf(c, "GET /socket?game=%s HTTP/1.1\r\nHost: %s\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Protocol: %s\r\n\r\n", p.code, host, wire.Subprotocol)
	if r, err := http.ReadResponse(c.in, nil); err != nil || r.StatusCode != http.StatusSwitchingProtocols {
		p.Fatalf("no socket: %v, %v", r, err)
	}
	if first != "" {
		c.Write(masked(0x81, first))
	}
	return c
}

// masked is a frame as a client has to send it.
func masked(head byte, payload string) []byte { return sized(head, len(payload), payload) }

// sized claims a length of its own.
func sized(head byte, length int, payload string) []byte {
	b := []byte{head}
	switch {
	case length <= 125:
		b = append(b, 0x80|byte(length))
	case length <= 0xffff:
		b = binary.BigEndian.AppendUint16(append(b, 0x80|126), uint16(length))
	default:
		b = binary.BigEndian.AppendUint64(append(b, 0x80|127), uint64(length))
	}
	mask := [4]byte{1, 2, 3, 4}
	b = append(b, mask[:]...)
	for i := range len(payload) {
		b = append(b, payload[i]^mask[i%4])
	}
	return b
}

func unmasked(head byte, payload string) []byte {
	return append([]byte{head, byte(len(payload))}, payload...)
}

func goodbye(code uint16, why string) []byte {
	return masked(0x88, string(binary.BigEndian.AppendUint16(nil, code))+why)
}

// frame reads what the hub sent next.
func (c *raw) frame() (opcode byte, payload []byte, err error) {
	head := make([]byte, 2)
	if _, err = io.ReadFull(c.in, head); err != nil {
		return 0, nil, err
	}
	length := int(head[1])
	for _, extra := range []int{2, 8} {
		if (length == 126 && extra == 2) || (length == 127 && extra == 8) {
			wide := make([]byte, 8)
			if _, err = io.ReadFull(c.in, wide[8-extra:]); err != nil {
				return 0, nil, err
			}
			length = int(binary.BigEndian.Uint64(wide))
			break
		}
	}
	payload = make([]byte, length)
	_, err = io.ReadFull(c.in, payload)
	return head[0] & 0xf, payload, err
}

// What becomes of a connection, beside the close codes.
const (
	alive = 0  // it goes on
	cut   = -1 // it ends without a close frame
	plain = -2 // with a close frame that holds no code
)

// fate reads on until the hub closes, or answers the clock frame that marks
// the end of what was sent.
func (c *raw) fate() (int, error) {
	for {
		opcode, payload, err := c.frame()
		switch {
		case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || err != nil && strings.Contains(err.Error(), "reset"):
			return cut, nil
		case err != nil:
			return cut, err
		case opcode == 8 && len(payload) < 2:
			return plain, nil
		case opcode == 8:
			return int(binary.BigEndian.Uint16(payload)), nil
		case bytes.Contains(payload, []byte(`"t1":77`)):
			return alive, nil
		}
	}
}

const endMark = `{"type":"clock","t1":77}`

var rawFrames = []struct {
	name string
	sent []byte
	want int
}{
	{"text, unmasked", unmasked(0x81, `{"type":"clock"}`), 1002},
	{"empty text, unmasked", unmasked(0x81, ""), 1002},
	{"ping, unmasked", unmasked(0x89, "x"), 1002},
	{"pong, unmasked", unmasked(0x8a, "x"), 1002},
	{"close, unmasked", unmasked(0x88, "\x03\xe8"), 1002},
	{"binary, unmasked", unmasked(0x82, "x"), 1002},
	{"RSV1", masked(0xc1, "{}"), 1002},
	{"RSV2", masked(0xa1, "{}"), 1002},
	{"RSV3", masked(0x91, "{}"), 1002},
	{"all RSV bits", masked(0xf1, "{}"), 1002},
	{"RSV1 on a ping", masked(0xc9, ""), 1002},
	{"RSV2 on a pong", masked(0xaa, ""), 1002},
	{"RSV3 on a close", masked(0x98, ""), 1002},
	{"opcode 3", masked(0x83, "x"), 1002},
	{"opcode 4", masked(0x84, "x"), 1002},
	{"opcode 5", masked(0x85, "x"), 1002},
	{"opcode 6", masked(0x86, "x"), 1002},
	{"opcode 7", masked(0x87, "x"), 1002},
	{"opcode 11", masked(0x8b, "x"), 1002},
	{"opcode 12", masked(0x8c, "x"), 1002},
	{"opcode 13", masked(0x8d, "x"), 1002},
	{"opcode 14", masked(0x8e, "x"), 1002},
	{"opcode 15", masked(0x8f, "x"), 1002},
	{"long ping", masked(0x89, strings.Repeat("x", 126)), 1002},
	{"long pong", masked(0x8a, strings.Repeat("x", 126)), 1002},
	{"long close", masked(0x88, "\x03\xe8"+strings.Repeat("x", 126)), 1002},
	{"ping that claims 64 KiB", sized(0x89, 1<<16, "x"), 1002},
	{"fragmented ping", masked(0x09, "x"), 1002},
	{"fragmented pong", masked(0x0a, "x"), 1002},
	{"fragmented close", masked(0x08, "\x03\xe8"), 1002},
	{"continuation of nothing", masked(0x80, "x"), 1002},
	{"open continuation of nothing", masked(0x00, "x"), 1002},
	{"text inside of a text", append(masked(0x01, `{"type"`), masked(0x81, "{}")...), 1002},
	{"binary inside of a text", append(masked(0x01, `{"type"`), masked(0x82, "{}")...), 1002},
	{"close code 0", goodbye(0, ""), 1002},
	{"close code 999", goodbye(999, ""), 1002},
	{"close code 1004", goodbye(1004, ""), 1002},
	{"close code 1005", goodbye(1005, ""), 1002},
	{"close code 1006", goodbye(1006, ""), 1002},
	{"close code 1015", goodbye(1015, ""), 1002},
	{"close code 2999", goodbye(2999, ""), 1002},
	{"close code 5000", goodbye(5000, ""), 1002},
	{"close whose reason is not UTF-8", goodbye(1000, "\xff"), 1002},
	{"close of one byte", masked(0x88, "\x03"), plain},
	{"close without a code", masked(0x88, ""), plain},
	{"close 1000", goodbye(1000, "bye"), 1000},
	{"close 4999", goodbye(4999, ""), 4999},
	{"text that is not UTF-8", masked(0x81, "{\"type\":\"\xff\xfe\"}"), 1007},
	{"text cut inside of a character", masked(0x81, "{\"type\":\"\xe2\x82\"}"), 1007},
	{"overlong UTF-8", masked(0x81, "{\"type\":\"\xc0\xaf\"}"), 1007},
	{"a surrogate as UTF-8", masked(0x81, "{\"type\":\"\xed\xa0\x80\"}"), 1007},
	{"bad UTF-8 over two fragments", append(masked(0x01, "{\"a\":\"\xe2"), masked(0x80, "\x28\xa1\"}")...), 1007},
	{"too long", masked(0x81, strings.Repeat("x", 64<<10+1)), 1009},
	{"claims 1 GiB", sized(0x81, 1<<30, "x"), 1009},
	{"claims 2^63 bytes", append([]byte{0x81, 0xff, 0x80, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 4}, "x"...), cut},
	{"too long in fragments", append(masked(0x01, strings.Repeat("x", 40<<10)), masked(0x80, strings.Repeat("x", 40<<10))...), 1009},
	{"a character over two fragments", append(masked(0x01, "{\"a\":\"\xe2\x82"), masked(0x80, "\xac\"}")...), alive},
	{"ping between fragments", append(append(masked(0x01, `{"a":`), masked(0x89, "x")...), masked(0x80, `1}`)...), alive},
	{"empty fragments", append(append(masked(0x01, ""), masked(0x00, "")...), masked(0x80, `{}`)...), alive},
	{"empty text", masked(0x81, ""), alive},
	{"binary", masked(0x82, "{}"), alive},
	{"pong that nobody asked for", masked(0x8a, "12345678"), alive},
	{"empty ping", masked(0x89, ""), alive},
}

// Each ends with its close code, or goes on where the frame is only refused;
// and the hub serves the others all the while.
func TestRawFrames(t *testing.T) {
	t.Parallel()
	p := begin(t)
	for _, x := range rawFrames {
		other := p.raw(`{"type":"board"}`)
		c := p.raw(`{"type":"board"}`)
		c.Write(x.sent)
		if x.want == alive {
			c.Write(masked(0x81, endMark))
		}
		if got, err := c.fate(); got != x.want || err != nil {
			t.Errorf("%s: %d, %v, want %d", x.name, got, err, x.want)
		}
		c.Close()
		other.Write(masked(0x81, endMark))
		if got, err := other.fate(); got != alive || err != nil {
			t.Fatalf("after %s another board got %d, %v", x.name, got, err)
		}
		other.Close()
	}
}

// Who stops in the middle of a frame is silent, and goes like all who are, or
// like those who don't say who they are.
func TestHalfFramesThatStall(t *testing.T) {
	t.Parallel()
	p := begin(t)
	whole := masked(0x81, `{"type":"clock","t1":1}`)
	for _, half := range [][]byte{whole[:1], whole[:2], whole[:5], whole[:6], whole[:len(whole)-1], sized(0x81, 60_000, "x")[:4], masked(0x8a, "12345678")[:9], masked(0x01, `{"a":`)} {
		for _, first := range []string{"", `{"type":"board"}`} {
			c := p.raw(first)
			if first != "" { // it is among the game's
				c.frame()
			}
			c.Write(half)
			time.Sleep(20 * time.Millisecond) // in most runs the hub has begun to read it
			want, by := cut, 61*time.Second
			if first == "" {
				want, by = 4003, 11*time.Second
			}
			p.age(by)
			if got, err := c.fate(); got != want || err != nil {
				t.Errorf("after %q and % x: %d, %v, want %d", first, half, got, err, want)
			}
			c.Close()
		}
	}
	p.join("Wrens")
}

// FuzzFrame has a client of each role send a text frame of any content. The
// hub refuses it, acts on it or closes, but answers.
func FuzzFrame(f *testing.F) {
	f.Add(uint8(3), `{"type":"do","id":"x","action":"plan","plan":{"title":"T","roster":"furbearers","seed":1,"rounds":[{"name":"R","kind":"open","subjects":["skull"],"count":1,"seconds":9,"points":1}]}}`)
	for i, seed := range []string{`{"type":"join","name":"Wrens"}`, `{"type":"resume","token":"00"}`, `{"type":"host","key":"k","takeOver":true}`, `{"type":"clock","t1":1e300}`,
		`{"type":"answer","id":"a","question":"q1","option":-1,"text":"x"}`, `{"type":"buzz","id":"a","question":"q1","at":-1e308}`, `{"type":"do","id":"a","action":"rename","team":"t1","name":"Efts"}`,
		`{"type":"do","id":"a","action":"next"}`, `[[[[[[`, `{"id":5}`, "\xff"} {
		f.Add(uint8(i), seed)
	}
	p := begin(f)
	p.hub.AllowJoins(1 << 30)
	f.Fuzz(func(t *testing.T, role uint8, text string) {
		if len(text) > 60<<10 {
			return
		}
		p := *p
		p.TB = t
		c := p.raw([]string{"", `{"type":"board"}`, `{"type":"join","name":"Efts","token":"` + strings.Repeat("ab", 16) + `"}`, `{"type":"host","takeOver":true,"key":"` + hostKey + `"}`}[role%4])
		defer c.Close()
		c.Write(masked(0x81, text))
		c.Write(masked(0x81, endMark))
		if _, err := c.fate(); err != nil {
			t.Fatalf("no answer: %v", err)
		}
	})
}
