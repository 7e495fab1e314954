package hub

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// A state that is shown once more has the time that is left by then, and the
// notice only while the store is gone.
func TestAStateShownAgain(t *testing.T) {
	for _, c := range []struct {
		before state
		gone   bool
		left   int64
		paused bool
	}{
		{state{Left: 9000}, true, 7000, true},
		{state{Left: 9000}, false, 7000, false},
		{state{Left: 1000}, false, 0, false},
		{state{Left: -500}, false, -500, false},
		{state{Left: 9000, Paused: true}, false, 9000, true},
	} {
		c.before.Type, c.before.Title = "state", "Kept"
		frame := framed(websocket.TextMessage, encode(c.before))
		if !isState(frame) {
			t.Fatalf("no state: %q", frame)
		}
		var after state
		if err := json.Unmarshal(payload(again(frame, 2*time.Second, c.gone)), &after); err != nil {
			t.Fatal(err)
		}
		if after.Left != c.left || after.Paused != c.paused || (after.Notice != "") != c.gone || after.Title != "Kept" {
			t.Errorf("%+v, store gone %v: %+v", c.before, c.gone, after)
		}
	}
}
