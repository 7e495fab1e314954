package hub_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"time"
)

// Whatever a connection keeps saying, it goes when it does not say who it is,
// and is told why. Who has said so stays, and may go on just like that.
func TestWhoNeverSaysWhoItIs(t *testing.T) {
	t.Parallel()
	p := begin(t)
	refused := `{"type":"join","name":"sh1t","id":"j"}`
	for what, chatter := range map[string][]byte{
		"clock frames":           masked(0x81, `{"type":"clock","t1":1}`),
		"pings":                  masked(0x89, "x"),
		"pongs and clocks":       append(masked(0x8a, "12345678"), masked(0x81, `{"type":"clock","t1":1}`)...),
		"no JSON":                masked(0x81, `{"type":`),
		"a name that is refused": masked(0x81, refused),
	} {
		for _, first := range []string{"", `{"type":"board"}`} {
			c := p.raw(first)
			for range 2 { // never silent for as long as the limit
				c.Write(chatter)
				c.answered(t)
				p.age(6 * time.Second)
			}
			nameless := first == ""
			if !nameless { // the nameless one is sent away at the hub's next look, which the mark could precede
				c.Write(masked(0x81, endMark))
			}
			got, why := c.parting(t)
			if nameless != (got == 4003) || nameless != strings.Contains(why, "within 10 seconds") {
				t.Errorf("%s after the first frame %q: %d %q", what, first, got, why)
			}
			c.Close()
		}
	}
	p.join("Wrens")
}

// answered reads on till the hub has shown that it heard what was sent last.
func (c *raw) answered(t *testing.T) {
	t.Helper()
	for {
		opcode, payload, err := c.frame()
		if err != nil {
			t.Fatal(err)
		}
		if opcode == 10 || bytes.Contains(payload, []byte(`"clock"`)) || bytes.Contains(payload, []byte(`"refused"`)) {
			return
		}
	}
}

// parting reads on till the hub closes, and returns the code and the reason, or
// alive where it answers the clock frame that marks the end.
func (c *raw) parting(t *testing.T) (code int, why string) {
	t.Helper()
	for {
		opcode, payload, err := c.frame()
		switch {
		case err != nil:
			return cut, fmt.Sprint(err)
		case opcode == 8:
			return int(binary.BigEndian.Uint16(payload)), string(payload[2:])
		case bytes.Contains(payload, []byte(`"t1":77`)):
			return alive, ""
		}
	}
}
