package season

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/game/rating"
	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/once"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// Routes are what goes beyond one game: seasons, fair teams, trends.
func (all *Seasons) Routes() []gate.Route {
	return []gate.Route{
		{Method: "GET", Path: "/season.json", Serve: all.getSeason},
		{Method: "GET", Path: "/season.csv", Serve: all.getSeasonCSV},
		{Method: "POST", Path: "/seasons", Serve: all.postSeason},
		{Method: "DELETE", Path: "/seasons", Serve: all.deleteSeason},
		{Method: "POST", Path: "/seasons/game", Serve: all.postSeasonGame},
		{Method: "GET", Path: "/season/board.json", For: gate.Anyone, Serve: all.getSeasonBoard},
		{Method: "POST", Path: "/fair-teams.json", Serve: all.postFairTeams},
		{Method: "GET", Path: "/trends.json", Serve: all.getTrends},
	}
}

// seasonView is what GET /season.json answers. Season is null where there is none yet.
type seasonView struct {
	Seasons []string       `json:"seasons"`
	Season  *store.Season  `json:"season"`
	Dates   []string       `json:"dates"` // on which games were counted
	Until   string         `json:"until"` // the date up to which the table counts
	Table   []store.Leader `json:"table"`
	Ratings []rated        `json:"ratings"`
	Games   []seasonGame   `json:"games"`
}

type seasonGame struct {
	Game  string `json:"game"`
	Title string `json:"title"`
	Date  string `json:"date"`
	Due   bool   `json:"due"`
	Teams int    `json:"teams"`
}

// rated is a team's rating under the name that it was last called by.
type rated struct {
	rating.Member
	Name string `json:"name"`
}

func (all *Seasons) getSeason(w http.ResponseWriter, r *http.Request) {
	seasons, err := all.store.Seasons(r.Context())
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	view := seasonView{Seasons: []string{}, Dates: []string{}, Table: []store.Leader{}, Ratings: []rated{}, Games: []seasonGame{}}
	wanted := r.URL.Query().Get("season")
	for _, s := range seasons {
		view.Seasons = append(view.Seasons, s.ID)
		if s.ID == wanted || wanted == "" { // without a wish it is the last by name
			view.Season = &s
		}
	}
	if view.Season == nil && wanted != "" {
		wire.Fail(w, all.log, store.ErrUnknownSeason)
		return
	}
	if view.Season != nil {
		view.Season.Plan = "" // it has a page of its own
		results, err := all.Results(r.Context(), view.Season.ID)
		if err != nil {
			wire.Fail(w, all.log, err)
			return
		}
		view.fill(results, r.URL.Query().Get("until"))
	}
	wire.Answer(w, http.StatusOK, view)
}

// fill shows results, with the table as it was after a date, or as it is.
func (v *seasonView) fill(results []store.Result, until string) {
	counted := []store.Result{}
	for _, r := range results {
		v.Games = append(v.Games, seasonGame{r.Game, r.Title, r.Date(), r.Due, len(r.Lines)})
		if len(r.Lines) > 0 && !slices.Contains(v.Dates, r.Date()) {
			v.Dates = append(v.Dates, r.Date())
		}
		if until == "" || r.Date() <= until {
			counted = append(counted, r)
		}
	}
	v.Until, v.Table = until, store.Tally(counted)
	v.Ratings = ratedNames(ratingsOf(counted), v.Table)
}

func ratedNames(members []rating.Member, table []store.Leader) []rated {
	names := map[string]string{}
	for _, l := range table {
		names[l.Team] = l.Name
	}
	out := []rated{}
	for _, m := range members {
		out = append(out, rated{m, names[m.Team]})
	}
	return out
}

var seasonColumns = []string{"season", "game", "title", "date", "rank", "team", "points", "right", "of"}

// getSeasonCSV sends the counted results, from which the table can be recomputed.
func (all *Seasons) getSeasonCSV(w http.ResponseWriter, r *http.Request) {
	season := r.URL.Query().Get("season")
	results, err := all.Results(r.Context(), season)
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	wire.Download(w, "text/csv; charset=utf-8", "season.csv")
	w.Header().Set("Cache-Control", "no-store")
	if err := writeSeason(w, season, results); err != nil {
		all.log.Info("a season was not sent to its end", "error", err)
	}
}

func writeSeason(w io.Writer, season string, results []store.Result) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{seasonColumns}
	for _, r := range results {
		for _, l := range r.Lines {
			rows = append(rows, []string{debrief.Cell(season), debrief.Cell(r.Game), debrief.Cell(r.Title), debrief.Cell(r.Date()), strconv.Itoa(l.Rank),
				debrief.Cell(l.Name), strconv.Itoa(l.Points), strconv.Itoa(l.Right), strconv.Itoa(l.Of)})
		}
	}
	return out.WriteAll(rows)
}

// postSeason makes a season, or says who may see it.
func (all *Seasons) postSeason(w http.ResponseWriter, r *http.Request) {
	var s store.Season
	err := wire.ReadJSON(w, r, &s)
	if err == nil {
		s.ID, err = Name(s.ID)
	}
	if err == nil {
		err = all.store.ChangeSeason(r.Context(), s.ID, func(kept *store.Season) { kept.Open, kept.Ratings = s.Open, s.Ratings })
	}
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	wire.Answer(w, http.StatusOK, s)
}

// deleteSeason erases a season, or one team everywhere in it.
func (all *Seasons) deleteSeason(w http.ResponseWriter, r *http.Request) {
	season, team := r.URL.Query().Get("season"), r.URL.Query().Get("team")
	err := error(nil)
	if team == "" {
		err = all.store.DeleteSeason(r.Context(), season)
	} else {
		err = all.store.DropTeam(r.Context(), season, team)
	}
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

// postSeasonGame counts an ended game, again if it was counted before, or takes it out.
func (all *Seasons) postSeasonGame(w http.ResponseWriter, r *http.Request) {
	var wish struct {
		Season, Game string
		Out          bool
	}
	err := wire.ReadJSON(w, r, &wish)
	if err == nil {
		wish.Season, err = Name(wish.Season)
	}
	if wish.Game = codes.Clean(wish.Game); err == nil && wish.Out {
		err = all.takeOut(r.Context(), wish.Season, wish.Game)
	} else if err == nil {
		_, err = all.countGame(r.Context(), wish.Season, wish.Game, all.store.SetResult)
	}
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	wire.Answer(w, http.StatusOK, map[string]string{"season": wish.Season})
}

// mostOnBoard is how many lines a screen holds that is read from the back row.
const mostOnBoard = 32

// seasonBoard is what anybody may see of a season that its host has opened.
type seasonBoard struct {
	Season  string         `json:"season"`
	Table   []store.Leader `json:"table"`
	Ratings []rated        `json:"ratings"`
}

func (all *Seasons) getSeasonBoard(w http.ResponseWriter, r *http.Request) {
	seasons, err := all.store.Seasons(r.Context())
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	i := slices.IndexFunc(seasons, func(s store.Season) bool { return s.ID == r.URL.Query().Get("season") && s.Open })
	if i < 0 { // one that is not open is not told from one that is not there
		wire.Fail(w, all.log, store.ErrUnknownSeason)
		return
	}
	board, err := all.boards.Get(seasons[i], func() (seasonBoard, error) { return all.boardOf(context.WithoutCancel(r.Context()), seasons[i]) })
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	wire.Answer(w, http.StatusOK, board)
}

func (all *Seasons) boardOf(ctx context.Context, s store.Season) (seasonBoard, error) {
	board := seasonBoard{Season: s.ID, Ratings: []rated{}}
	var err error
	if board.Table, err = all.store.Leaders(ctx, s.ID, mostOnBoard); err != nil || !s.Ratings {
		return board, err
	}
	results, err := all.Results(ctx, s.ID)
	board.Ratings = ratedNames(ratingsOf(results), store.Tally(results))
	return board, err
}

// glance is how long a board may lag behind its season.
const glance = 3 * time.Second

// boards keep what is shown of open seasons for a moment, so that a crowd that
// looks has it worked out once.
type boards = once.Map[store.Season, seasonBoard]

// mostBoards are more than are open anywhere.
const mostBoards = 64

func newBoards() *boards {
	return &boards{Most: mostBoards, Good: func(seasonBoard) time.Duration { return glance }}
}

// Name is a season's name as it is kept.
func Name(raw string) (string, error) {
	name := names.OneLine(raw)
	if n := utf8.RuneCountInString(name); n == 0 || n > game.MaxSeason || !utf8.ValidString(name) || strings.ContainsFunc(name, unprintable) {
		return "", refusal.New(refusal.BadSeason, fmt.Sprintf("A season's name has 1 to %d characters, all of them visible.", game.MaxSeason))
	}
	return name, nil
}

func unprintable(r rune) bool { return !strconv.IsPrint(r) }
