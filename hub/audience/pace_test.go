package audience

import (
	"testing"
	"time"
)

func TestPace(t *testing.T) {
	var c Client
	passed := 0
	for now := time.Duration(0); now < 10*time.Second; now += time.Millisecond {
		if c.pace(now, 1) {
			passed++
		}
	}
	if want := frameBurst + 10*framesPerSec; passed < want-1 || passed > want {
		t.Errorf("%d frames passed in ten seconds, want %d", passed, want)
	}
	if !c.pace(time.Hour, 1) {
		t.Error("after an hour none passes")
	}
}
