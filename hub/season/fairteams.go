package season

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"unicode/utf8"

	"fieldsign/game"
	"fieldsign/game/rating"
	"fieldsign/hub/names"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// Bounds of a list that is split into teams.
const (
	mostFairPlayers = 300
	mostFairTeams   = 60
)

// splitWish is a list of nicknames to be split. Nothing of it is kept.
type splitWish struct {
	Names  []string `json:"names"`
	Teams  int      `json:"teams"`
	Season string   `json:"season"` // whose ratings balance the teams; empty splits by lot
	Seed   uint64   `json:"seed"`   // 0 draws one
}

type fairSplit struct {
	Seed   uint64     `json:"seed"`
	Spread float64    `json:"spread"` // between the highest and the lowest mean rating
	Teams  []fairTeam `json:"teams"`
}

type fairTeam struct {
	Players []fairPlayer `json:"players"`
	Total   float64      `json:"total"`
	Mean    float64      `json:"mean"`
}

type fairPlayer struct {
	Name   string  `json:"name"`
	Rating float64 `json:"rating"`
	Known  bool    `json:"known"` // it has played in the season
}

func (all *Seasons) postFairTeams(w http.ResponseWriter, r *http.Request) {
	var wish splitWish
	err := wire.ReadJSON(w, r, &wish)
	if err == nil {
		err = wish.check()
	}
	var results []store.Result
	if err == nil && wish.Season != "" {
		results, err = all.Results(r.Context(), wish.Season)
	}
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	wire.Answer(w, http.StatusOK, wish.split(results))
}

func (w *splitWish) check() error {
	bad := func(what string, args ...any) error {
		return refusal.New(refusal.BadList, fmt.Sprintf(what, args...))
	}
	seen := map[string]bool{}
	for i, name := range w.Names {
		w.Names[i] = names.OneLine(name)
		team := SameTeam(name)
		switch {
		case team == "" || utf8.RuneCountInString(w.Names[i]) > game.MaxName:
			return bad("Line %d: a nickname has 1 to %d characters.", i+1, game.MaxName)
		case seen[team]:
			return bad("Line %d: %q is there twice. Make the two nicknames different.", i+1, w.Names[i])
		}
		seen[team] = true
	}
	switch {
	case w.Teams < 2 || w.Teams > mostFairTeams:
		return bad("There are 2 to %d teams, not %d.", mostFairTeams, w.Teams)
	case len(w.Names) < w.Teams || len(w.Names) > mostFairPlayers:
		return bad("For %d teams the list has %d to %d nicknames, not %d.", w.Teams, w.Teams, mostFairPlayers, len(w.Names))
	}
	return nil
}

func (w *splitWish) split(results []store.Result) fairSplit {
	if w.Seed == 0 {
		w.Seed = rand.Uint64N(1_000_000) + 1
	}
	of := ratingOf(results)
	ratings := make([]float64, len(w.Names))
	players := make([]fairPlayer, len(w.Names))
	for i, name := range w.Names {
		r, known := of(name)
		ratings[i], players[i] = r.Rating, fairPlayer{name, r.Rating, known}
	}
	dealt := rating.Deal(len(w.Names), w.Teams, w.Seed)
	if w.Season != "" {
		dealt = rating.Split(ratings, w.Teams, w.Seed)
	}
	out := fairSplit{Seed: w.Seed, Spread: rating.Spread(dealt, ratings)}
	for _, members := range dealt {
		t := fairTeam{}
		for _, i := range members {
			t.Players = append(t.Players, players[i])
			t.Total += ratings[i]
		}
		t.Mean = t.Total / float64(len(members))
		out.Teams = append(out.Teams, t)
	}
	return out
}
