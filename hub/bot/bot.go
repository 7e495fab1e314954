// Package bot is the client side of the wire protocol in Go, for rehearsals
// and tests. It is written on another WebSocket library than the hub's, so that
// two independent implementations always speak to each other, and it shares no
// type with the hub.
package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/coder/websocket"
	"github.com/google/uuid"
)

const (
	subprotocol = "fieldsign.v1"
	burst       = 8 // exchanges of clocks after a welcome
)

// Frame is any frame from the hub, as far as a bot minds it.
type Frame struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Code    string `json:"code"`
	Message string `json:"message"`

	Role  string `json:"role"`
	Team  string `json:"team"`
	Token string `json:"token"`
	Extra int    `json:"extra"`

	Phase    string `json:"phase"`
	Paused   bool   `json:"paused"`
	Notice   string `json:"notice"`
	Seq      uint64 `json:"seq"`
	Teams    int    `json:"teams"`
	Left     int64  `json:"left"`
	Answered int    `json:"answered"`
	Round    *struct {
		N    int    `json:"n"`
		Name string `json:"name"`
		Kind string `json:"kind"`
	} `json:"round"`
	Question *struct {
		ID      string   `json:"id"`
		N       int      `json:"n"`
		Prompt  string   `json:"prompt"`
		Plate   string   `json:"plate"`
		Options []string `json:"options"`
		Plates  []struct {
			Plate string `json:"plate"`
			Alt   string `json:"plateAlt"`
		} `json:"plates"`
	} `json:"question"`
	Same bool `json:"same"`
	Buzz *struct {
		Team   string   `json:"team"`
		Locked int      `json:"locked"`
		Drawn  []string `json:"drawn"`
	} `json:"buzz"`
	Reveal *struct {
		Key    int    `json:"key"`
		Reason string `json:"reason"`
	} `json:"reveal"`
	Leaders []struct {
		Rank  int    `json:"rank"`
		Team  string `json:"team"`
		Name  string `json:"name"`
		Score int    `json:"score"`
	} `json:"leaders"`
	Host *Host `json:"host"`

	Rotation *struct {
		Turn int `json:"turn"`
		Of   int `json:"of"`
	} `json:"rotation"`
	Station *Station `json:"station"`

	Name    string `json:"name"`
	Score   int    `json:"score"`
	Rank    int    `json:"rank"`
	Option  *int   `json:"option"`
	Locked  bool   `json:"locked"`
	Verdict string `json:"verdict"`

	T1 float64 `json:"t1"`
	T2 float64 `json:"t2"`
	T3 float64 `json:"t3"`

	Raw []byte `json:"-"`
}

// Host is what the console alone is shown. The hub leaves out what has not
// changed; Receive adds it.
type Host struct {
	Whole   bool            `json:"whole"`
	Key     int             `json:"key"`
	Plan    json.RawMessage `json:"plan"`
	JoinURL string          `json:"joinURL"`
	Teams   []HostTeam      `json:"teams"`
}

// HostTeam is a team as the console is shown it.
type HostTeam struct {
	Team   string `json:"team"`
	Name   string `json:"name"`
	Score  int    `json:"score"`
	Online bool   `json:"online"`
}

// complete adds what the state before has told.
func (f *Frame) complete(last Frame) {
	if f.Same {
		f.Question = last.Question
	}
	if f.Host != nil {
		f.Host.complete(last.Host)
	}
}

func (h *Host) complete(told *Host) {
	if h.Whole {
		return
	}
	h.Plan, h.JoinURL = told.Plan, told.JoinURL
	teams := slices.Clone(told.Teams)
	for _, t := range h.Teams {
		if i := slices.IndexFunc(teams, func(old HostTeam) bool { return old.Team == t.Team }); i >= 0 {
			teams[i] = t
		} else {
			teams = append(teams, t)
		}
	}
	h.Teams = teams
}

// Station is where a team is in a station round.
type Station struct {
	Turn      int    `json:"turn"`
	Station   int    `json:"station"`
	Replica   bool   `json:"replica"`
	Plate     string `json:"plate"`
	Questions []struct {
		ID      string   `json:"id"`
		Prompt  string   `json:"prompt"`
		Options []string `json:"options"`
	} `json:"questions"`
	Options []int `json:"options"`
	Sheet   []int `json:"sheet"`
}

// Conn is a connection to a game. One goroutine may send while another receives.
type Conn struct {
	ws   *websocket.Conn
	last Frame // with a state
}

// Dial connects to the game with the join code at a hub such as http://127.0.0.1:7600.
func Dial(ctx context.Context, hub, code string) (*Conn, error) {
	return DialBy(ctx, nil, hub, code)
}

// DialBy is Dial with a client that may trust other certificates; nil is the usual one.
func DialBy(ctx context.Context, client *http.Client, hub, code string) (*Conn, error) {
	address := "ws" + strings.TrimPrefix(strings.TrimSuffix(hub, "/"), "http") + "/socket?game=" + url.QueryEscape(code)
	ws, _, err := websocket.Dial(ctx, address, &websocket.DialOptions{HTTPClient: client, Subprotocols: []string{subprotocol}})
	if err != nil {
		return nil, fmt.Errorf("the hub can't be reached: %w", err)
	}
	ws.SetReadLimit(4 << 20)
	return &Conn{ws: ws}, nil
}

// Send writes one frame.
func (c *Conn) Send(ctx context.Context, frame any) error {
	b, err := json.Marshal(frame)
	if err != nil {
		return err
	}
	return c.ws.Write(ctx, websocket.MessageText, b)
}

// SendRaw writes bytes as they are, for tests of bad frames.
func (c *Conn) SendRaw(ctx context.Context, b []byte) error {
	return c.ws.Write(ctx, websocket.MessageText, b)
}

// Receive reads the next frame. After the hub has closed the connection, the
// error's close code is CloseCode's.
func (c *Conn) Receive(ctx context.Context) (Frame, error) {
	_, b, err := c.ws.Read(ctx)
	if err != nil {
		return Frame{}, err
	}
	f := Frame{Raw: b}
	if err := json.Unmarshal(b, &f); err != nil {
		return Frame{}, err
	}
	if f.Type == "state" {
		f.complete(c.last)
		c.last = f
	}
	return f, nil
}

// start is when the bots' clock began.
var start = time.Now()

// Now is the bots' clock in ms, as a page's is.
func Now() float64 { return float64(time.Since(start).Microseconds()) / 1000 }

// Clock begins an exchange of clocks, or answers the hub's reply in one.
func (c *Conn) Clock(ctx context.Context) error {
	return c.Send(ctx, map[string]any{"type": "clock", "t1": Now()})
}

// CloseCode is the close code in an error of Receive, or -1.
func CloseCode(err error) int { return int(websocket.CloseStatus(err)) }

// Close says goodbye.
func (c *Conn) Close() error { return c.ws.Close(websocket.StatusNormalClosure, "") }

// Drop cuts the connection without a word, as a phone out of range does.
func (c *Conn) Drop() error { return c.ws.CloseNow() }

// Player is a bot team. It comes back by itself when the connection is lost.
type Player struct {
	Hub, Code, Name string
	Client          *http.Client // nil is the usual one
	Dice            *rand.Rand
	Think           time.Duration // the longest that it thinks; at least a tenth of it

	exchanges   int // of clocks, left of the burst
	token, team string
	asked       string // the question last seen
	turn        string // and in a buzz round how many were locked out
	holds       bool   // it holds the buzz, and has thought of an answer

	station *Station // in a station round
	visited string   // the rotation in which it has thought of its answers
}

// Play plays until the context or the game ends, or the hub sends it away for good.
func (p *Player) Play(ctx context.Context) error {
	for {
		err := p.session(ctx)
		switch code := CloseCode(err); {
		case ctx.Err() != nil:
			return ctx.Err()
		case err == nil || code >= 4100:
			return err
		}
		select {
		case <-time.After(300*time.Millisecond + p.upTo(2*time.Second)):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (p *Player) upTo(d time.Duration) time.Duration {
	return time.Duration(p.Dice.Int64N(int64(d) + 1))
}

func (p *Player) session(ctx context.Context) error {
	c, err := DialBy(ctx, p.Client, p.Hub, p.Code)
	if err != nil {
		return err
	}
	defer c.Drop()
	hello := map[string]any{"type": "join", "name": p.Name}
	if p.token != "" {
		hello = map[string]any{"type": "resume", "token": p.token}
	}
	if err := c.Send(ctx, hello); err != nil {
		return err
	}
	for {
		f, err := c.Receive(ctx)
		if err != nil {
			return err
		}
		if f.Type == "state" && f.Phase == "ended" {
			return nil
		}
		if err := p.react(ctx, c, f); err != nil {
			return err
		}
	}
}

func (p *Player) react(ctx context.Context, c *Conn, f Frame) error {
	switch {
	case f.Type == "welcome":
		p.token, p.team = f.Token, f.Team
		p.exchanges = burst
		return c.Clock(ctx)
	case f.Type == "clock" && p.exchanges > 1:
		p.exchanges--
		return c.Clock(ctx)
	case f.Type == "you":
		p.station = f.Station
	case f.Type == "state" && f.Phase == "station" && !f.Paused && p.arrived(f):
		for _, q := range p.station.Questions {
			p.asked = q.ID
			if err := p.act(ctx, c, "answer", p.Dice.IntN(len(q.Options))); err != nil {
				return err
			}
		}
	case f.Type == "refused" && p.token == "":
		return errors.New("refused: " + f.Message)
	case f.Type == "state" && p.toAnswer(f):
		return p.act(ctx, c, "answer", p.guess(f))
	case f.Type == "state" && f.Phase == "asking" && !f.Paused && p.turnOf(f) != p.turn:
		p.asked, p.turn = f.Question.ID, p.turnOf(f)
		if f.Round.Kind == "buzz" {
			return p.act(ctx, c, "buzz", 0)
		}
		return p.act(ctx, c, "answer", p.guess(f))
	}
	return nil
}

// guess is an option; a typed question shows none, and then it is refused.
func (p *Player) guess(f Frame) int { return p.Dice.IntN(max(1, len(f.Question.Options))) }

// arrived tells whether a new rotation has begun, and the questions are there.
func (p *Player) arrived(f Frame) bool {
	turn := fmt.Sprint(f.Round.N, " ", f.Rotation.Turn)
	if p.station == nil || p.station.Turn != f.Rotation.Turn || len(p.station.Questions) == 0 || p.visited == turn {
		return false
	}
	p.visited = turn
	return true
}

// toAnswer tells whether the buzz has just become its own.
func (p *Player) toAnswer(f Frame) bool {
	held := p.holds
	p.holds = f.Buzz != nil && f.Buzz.Team == p.team && (held || !f.Paused)
	return p.holds && !held
}

// turnOf tells the chances to act apart: a rebound is a new one.
func (p *Player) turnOf(f Frame) string {
	if f.Buzz == nil {
		return f.Question.ID
	}
	return fmt.Sprint(f.Question.ID, f.Buzz.Locked)
}

// act thinks, then sends its answer or buzz; where the connection is gone by then, so is the act.
func (p *Player) act(ctx context.Context, c *Conn, what string, option int) error {
	frame := map[string]any{"type": what, "id": uuid.NewString(), "question": p.asked, "option": option}
	time.AfterFunc(p.Think/10+p.upTo(p.Think), func() {
		frame["at"] = Now()
		c.Send(ctx, frame)
	})
	return nil
}
