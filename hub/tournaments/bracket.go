package tournaments

import (
	"context"
	"errors"
	"net/url"
	"strconv"

	"fieldsign/game"
	"fieldsign/game/tournament"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
)

// What the pages are shown of a tournament: the public one and the host's get
// the same, since nothing in it is secret.

type tournamentView struct {
	Code     string                `json:"code"`
	Seq      uint64                `json:"seq"`
	Name     string                `json:"name"`
	Began    string                `json:"began"`
	Phase    tournament.Phase      `json:"phase"`
	Settings tournament.Settings   `json:"settings"`
	Entrants []tournament.Entrant  `json:"entrants"` // entrant N is the Nth
	Order    []int                 `json:"order"`
	Rounds   int                   `json:"rounds"`  // Swiss: how many there will be
	Bracket  int                   `json:"bracket"` // its first match, or 0
	Columns  []tournament.Column   `json:"columns"`
	Tables   []tournament.Ranked   `json:"tables"`
	Ranking  []tournament.Standing `json:"ranking"` // of the whole tournament
	Ready    []int                 `json:"ready"`
	Going    tournament.Going      `json:"going"`  // who goes on from the pools
	Level    [][]int               `json:"level"`  // whom only a play-off can part
	Games    map[string]matchView  `json:"games"`  // by match, of those being played
	Voided   []int                 `json:"voided"` // matches that have lost their result or game by the last command
	Left     tournament.Forecast   `json:"left"`
	Boards   int                   `json:"boards"`
	At       []int                 `json:"at"`     // by board, the match that is called to it or played there, or 0
	Seats    map[int]uint64        `json:"seats"`  // of the entrants whose phones have signed in
	JoinAt   string                `json:"joinAt"` // the host name and port that phones reach
	May      allowed               `json:"may"`
}

// allowed is what the rules would take now.
type allowed struct {
	Draw   bool   `json:"draw"`
	Next   bool   `json:"next"`
	Finish bool   `json:"finish"`
	Undo   string `json:"undo"` // the type of the event that it would take back
	Redo   string `json:"redo"`
}

// matchView is a match's game. Recorded tells that its result was taken over
// once, so that it is not again.
type matchView struct {
	Code     string     `json:"code"`
	Phase    game.Phase `json:"phase"`
	Scores   []int      `json:"scores"` // home, away; none while a side is missing
	PlayOff  bool       `json:"playOff"`
	Sides    []string   `json:"sides"` // as they are called there
	Recorded bool       `json:"recorded"`
}

// encoded is a tournament as JSON. Games that have ended since are taken over
// first, so that no crash between a game's end and its result loses that.
func (all *Tournaments) encoded(ctx context.Context, code string, wish url.Values) ([]byte, error) {
	var played map[int]string
	if err := all.Book.Look(ctx, code, func(c book.Tournament) { played = gamesOf(&c.Sheet) }); err != nil {
		return nil, err
	}
	games := map[int]game.State{}
	for match, g := range played {
		s, err := all.glimpse(ctx, g)
		if errors.Is(err, store.ErrUnknownGame) { // erased or long over: the host says how it ended, or starts it anew
			s, err = game.State{Code: g, Phase: game.Ended, Plan: game.Plan{Match: &game.Match{}}}, nil
		}
		if err != nil {
			all.Log.Warn("a match's game can't be seen", "tournament", code, "game", g, "error", err)
			continue
		}
		if games[match] = s; s.Phase == game.Ended {
			all.RecordMatch(ctx, &s)
		}
	}
	var body []byte
	err := all.Book.Look(ctx, code, func(c book.Tournament) {
		v := all.viewOf(&c, games)
		v.Left = c.Remaining(number(wish, "boards", c.InUse()), number(wish, "minutes", 0))
		body = wire.Encode(v)
	})
	return body, err
}

// number is a small one that a page asks with.
func number(wish url.Values, name string, usual int) int {
	n, err := strconv.Atoi(wish.Get(name))
	if err != nil || n < 1 || n > 1000 {
		return usual
	}
	return n
}

// gamesOf are the games of the matches being played.
func gamesOf(s *tournament.Sheet) map[int]string {
	out := map[int]string{}
	for i := range s.Matches {
		if m := &s.Matches[i]; m.Running() {
			out[m.ID] = m.Game
		}
	}
	return out
}

func (all *Tournaments) viewOf(c *book.Tournament, games map[int]game.State) tournamentView {
	going := c.GoingOn()
	v := tournamentView{Code: c.Code, Seq: c.Seq, Name: c.Name, Began: c.Began, Phase: c.Phase, Settings: c.Settings, Entrants: listed(c.Entrants), Order: listed(c.Order),
		Bracket: c.Bracket, Columns: listed(c.Layout()), Tables: listed(c.Tables()), Ranking: listed(c.Standings()), Ready: []int{},
		Going: tournament.Going{Field: listed(going.Field), Level: listed(going.Level)}, Level: listed(c.Level()),
		Boards: c.InUse(), At: listed(c.At[:min(len(c.At), c.InUse())]), Seats: map[int]uint64{}, JoinAt: all.JoinAt(),
		Games: map[string]matchView{}, Voided: listed(c.Log[len(c.Log)-1].Voided), May: mayOf(c)}
	if c.Settings.Format == tournament.Swiss && len(c.Order) > 0 {
		v.Rounds = c.Rounds()
	}
	if c.Phase == tournament.Play {
		v.Ready = listed(c.Ready())
	}
	for entrant, phone := range c.Phones {
		v.Seats[entrant] = phone.Seq
	}
	for match, s := range games {
		if m := &c.Matches[match-1]; m.Game != s.Code || !m.Running() {
			continue
		}
		scores, _ := s.SideScores()
		v.Games[strconv.Itoa(match)] = matchView{s.Code, s.Phase, scores, s.Plan.Match.Level != nil, listed(s.Plan.Match.Sides), wasRecorded(c, s.Code)}
	}
	return v
}

// listed has an empty list told as one, and not as null.
func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// mayOf asks the rules themselves.
func mayOf(c *book.Tournament) allowed {
	would := func(command string) bool {
		_, err := tournament.Decide(c.State, tournament.Command{Type: command, By: "host"})
		return err == nil
	}
	may := allowed{Draw: would(tournament.Draw), Next: would(tournament.Next), Finish: would(tournament.Finish)}
	if e, ok := c.Undoable(); ok {
		may.Undo = e.Type
	}
	if e, ok := c.Redoable(); ok {
		may.Redo = e.Type
	}
	return may
}
