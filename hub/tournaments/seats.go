package tournaments

import (
	"context"
	"errors"
	"net/http"

	"fieldsign/game"
	"fieldsign/game/tournament"
	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// A phone signs in once, for a team of the tournament. Each match's game begins with
// the phones of its sides, so that they only go there, by the token that they have.

// seatWish is a phone's: whom it plays for, and its token, which it has drawn.
type seatWish struct {
	Entrant int    `json:"entrant"`
	Token   string `json:"token"`
}

// seatView is the seat as the phone knows it again: by the event that gave it.
type seatView struct {
	Entrant int    `json:"entrant"`
	Seat    uint64 `json:"seat"`
}

func (all *Tournaments) postSit(w http.ResponseWriter, r *http.Request) {
	all.seated(w, r, tournament.Sit)
}

func (all *Tournaments) postStand(w http.ResponseWriter, r *http.Request) {
	all.seated(w, r, tournament.Stand)
}

// seated has a phone sit down or stand up, and answers with the seat that is then
// taken, or none.
func (all *Tournaments) seated(w http.ResponseWriter, r *http.Request, what string) {
	code, ok := all.known(w, r)
	var wish seatWish
	if !ok || !wire.ReadBody(w, r, &wish) {
		return
	}
	err := all.seat(r.Context(), code, r.RemoteAddr, what, wish)
	seat := seatView{Entrant: wish.Entrant}
	if err == nil {
		err = all.Book.Look(r.Context(), code, func(c book.Tournament) { seat.Seat = c.Phones[wish.Entrant].Seq })
	}
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	wire.Answer(w, http.StatusOK, seat)
}

func (all *Tournaments) seat(ctx context.Context, code, remote, what string, wish seatWish) error {
	if !codes.IsToken(wish.Token) {
		return refusal.New(refusal.BadCommand, "A phone's token is 32 hexadecimal digits of its own. Reload the page.")
	}
	if !all.Gate.Join(remote, code) {
		return refusal.New(refusal.TooManyJoins, "Many teams have just joined from this network. Wait a minute, then join again.")
	}
	return all.Book.Do(ctx, code, tournament.Command{Type: what, By: "phone", Entrant: wish.Entrant, Secret: codes.Secret(wish.Token)})
}

// known is the code that a request names, or answers that there is none.
func (all *Tournaments) known(w http.ResponseWriter, r *http.Request) (code string, ok bool) {
	code = codes.Clean(r.PathValue("code"))
	_, err := all.Named(r.Context(), code)
	if wait, ok := all.Gate.Code(r.RemoteAddr, code, !errors.Is(err, book.ErrUnknown)); !ok {
		gate.ComeLater(w, wait)
		return code, false
	}
	if err != nil {
		wire.Fail(w, all.Log, err)
	}
	return code, err == nil
}

// Named is what a tournament is called.
func (all *Tournaments) Named(ctx context.Context, code string) (name string, err error) {
	err = all.Book.Look(ctx, code, func(c book.Tournament) { name = c.Name })
	return name, err
}

// free has the host free a seat, in the match that is being played too.
func (all *Tournaments) free(ctx context.Context, code string, c hostCommand) error {
	err := all.Book.Do(ctx, code, c.command())
	if err != nil {
		return err
	}
	playing, name := "", "" // the game, and what the team is called
	err = all.Book.Look(ctx, code, func(b book.Tournament) {
		for match, g := range gamesOf(&b.Sheet) {
			if b.Matches[match-1].Has(c.Entrant) {
				playing, name = g, b.Entrants[c.Entrant-1].Name
			}
		}
	})
	if playing != "" {
		all.Games.Unseat(playing, name)
	}
	return err
}

// phonesOf are the teams of a match's two sides whose phones have signed in.
func phonesOf(c *book.Tournament, m *tournament.Match) (teams []game.Team) {
	for _, e := range []int{m.Home.Entrant, m.Away.Entrant} {
		if phone, ok := c.Phones[e]; ok {
			teams = append(teams, game.Team{Name: c.Entrants[e-1].Name, Secret: phone.Secret})
		}
	}
	return teams
}
