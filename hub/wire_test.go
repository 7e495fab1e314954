package hub

import (
	"bytes"
	"encoding/json"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"

	"github.com/gorilla/websocket"
)

// The frames that are put together here are those that the library reads.
func TestFramedIsRead(t *testing.T) {
	lengths := []int{0, 1, 125, 126, 127, 0xffff, 0x10000, 100_000}
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		conn, err := (&websocket.Upgrader{}).Upgrade(w, r, nil)
		if err != nil {
			t.Error(err)
			return
		}
		defer conn.Close()
		for _, n := range lengths {
			conn.NetConn().Write(appendFrame(framed(websocket.PingMessage, []byte("hum")), websocket.TextMessage, bytes.Repeat([]byte{'x'}, n)))
		}
	}))
	defer site.Close()
	conn, _, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(site.URL, "http"), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	pings := 0
	conn.SetPingHandler(func(string) error { pings++; return nil })
	for _, n := range lengths {
		kind, got, err := conn.ReadMessage()
		if err != nil || kind != websocket.TextMessage || len(got) != n {
			t.Fatalf("a frame of %d bytes came as kind %d with %d: %v", n, kind, len(got), err)
		}
	}
	if _, _, err := conn.NextReader(); err == nil || pings != len(lengths) {
		t.Errorf("after the last frame: %v, %d pings", err, pings)
	}
}

// word is one that may need escaping.
func word(dice *rand.Rand) string {
	words := []string{"", "Otters", `"quoted" \ back`, "<b>&amp;", "Ñandú", "tab\tand\x00", "\xff broken", "\u2028", "right", `"teams":null`}
	return words[dice.IntN(len(words))]
}

// What a team is told has the very bytes that encoding/json would write.
func TestAppendYou(t *testing.T) {
	seed := rand.Uint64()
	dice := rand.New(rand.NewPCG(seed, 0))
	word := func() string { return word(dice) }
	for range 2000 {
		y := you{Type: "you", Team: word(), Name: word(), Score: dice.IntN(4000) - 2000, Rank: dice.IntN(300), Right: dice.IntN(30), Extra: 50 * dice.IntN(3),
			About: word(), Answer: word(), Locked: dice.IntN(2) == 0, Verdict: word(), Gained: dice.IntN(400) - 200}
		if dice.IntN(4) == 0 {
			y.Station = &stationView{Turn: dice.IntN(4)}
		}
		if dice.IntN(2) == 0 {
			option := dice.IntN(5)
			y.Option = &option
		}
		if got, want := appendYou(nil, &y), encode(y); !bytes.Equal(got, want) {
			t.Fatalf("seed %d: %s\nwant %s", seed, got, want)
		}
	}
}

// What a console is told says the same as encoding/json would.
func TestHostJSON(t *testing.T) {
	seed := rand.Uint64()
	dice := rand.New(rand.NewPCG(seed, 0))
	for n := range 500 {
		teams := []teamView{}
		for range n % 5 {
			teams = append(teams, teamView{Team: word(dice), Name: word(dice), Score: dice.IntN(4000) - 2000, Right: dice.IntN(30), Online: dice.IntN(2) == 0,
				Answered: dice.IntN(2) == 0, Locked: dice.IntN(2) == 0, Extra: 50 * dice.IntN(3), Station: dice.IntN(3), Filled: dice.IntN(3)})
		}
		v := state{Type: "state", Title: word(dice), Teams: len(teams), Host: &hostView{Reason: word(dice), Next: word(dice), Teams: teams}, NoticeCode: word(dice)}
		want, rest := encode(v), v
		rest.Host = nil
		got := hostJSON(encode(rest), v.Host)
		if !reflect.DeepEqual(decoded(t, got), decoded(t, want)) || len(v.Host.Teams) != len(teams) {
			t.Fatalf("seed %d: %s\nwant %s", seed, got, want)
		}
	}
}

func decoded(t *testing.T, b []byte) (v any) {
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatalf("%v in %s", err, b)
	}
	return v
}

// Nothing follows a close, whoever has said it.
func TestNothingFollowsAClose(t *testing.T) {
	o, far := boxes(t, true)
	goodbye := framed(websocket.CloseMessage, websocket.FormatCloseMessage(1000, ""))
	o.Write(framed(websocket.TextMessage, []byte("one")))
	o.Write(goodbye)
	if _, err := o.Write(framed(websocket.TextMessage, []byte("two"))); err == nil {
		t.Error("a frame was taken after a close")
	}
	o.finish()
	if got, err := io.ReadAll(far); err != nil || !bytes.HasSuffix(got, goodbye) {
		t.Errorf("came: %q, %v", got, err)
	}
}
