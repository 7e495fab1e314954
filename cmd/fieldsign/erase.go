package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"

	"fieldsign/hub/retention"
	"fieldsign/hub/tournaments/book"
)

const eraseHelp = `fieldsign erase forgets what is stored, for good. Nothing asks back.

  fieldsign erase --game otter-burrow-42            a game, with its teams and answers
  fieldsign erase --game otter-burrow-42 --team t3  a team's nickname in a finished game
  fieldsign erase --tournament fox-den-07           a tournament, with its matches' games
  fieldsign erase --everything                      every game, tournament, photo and season

A running hub holds its file: name it with --hub, or stop it first.
`

// erasing is what to forget, and where.
type erasing struct {
	remote
	game, team string
	tournament string
	everything bool
}

func runErase(ctx context.Context, args []string, out io.Writer) error {
	var e erasing
	f := flags("erase", eraseHelp, out)
	e.remote.flags(f)
	codeVar(f, &e.game, "game", "the game's join code")
	f.StringVar(&e.team, "team", "", "with --game: the team whose nickname goes, as t3; fieldsign export shows which is which with --names")
	codeVar(f, &e.tournament, "tournament", "the tournament's code")
	f.BoolVar(&e.everything, "everything", false, "every game, tournament, photo and season")
	if err := parseWithEnvironment(f, args, whereOnly); err != nil {
		return err
	}
	if err := noWords(f); err != nil {
		return err
	}
	switch {
	case e.wishes() != 1:
		return errors.New("what is to be erased? Give --game and its join code, --tournament and its code, or --everything")
	case e.game == "" && e.team != "":
		return errors.New("--team goes with --game")
	}
	erase := e.fromFile
	if e.hub != "" {
		erase = e.atHub
	}
	if err := erase(ctx); err != nil {
		return err
	}
	fmt.Fprintln(out, "Erased. Backups and exports that were made before still have it.")
	return nil
}

// wishes counts what is to be erased.
func (e erasing) wishes() (n int) {
	for _, wished := range []bool{e.game != "", e.tournament != "", e.everything} {
		if wished {
			n++
		}
	}
	return n
}

func (e erasing) atHub(ctx context.Context) error {
	path := "/games"
	if e.game != "" {
		path += "/" + url.PathEscape(e.game)
	}
	if e.tournament != "" {
		path = "/tournaments/" + url.PathEscape(e.tournament)
	}
	if e.team != "" {
		path += "/teams/" + url.PathEscape(e.team) + "/name"
	}
	return e.ask(ctx, "DELETE", path, nothing)
}

func (e erasing) fromFile(ctx context.Context) (err error) {
	s, err := e.open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	games, err := s.Games(ctx)
	if err != nil {
		return err
	}
	switch {
	case e.everything:
		return retention.EraseAll(ctx, s)
	case e.tournament != "":
		err := retention.EraseTournament(ctx, s, e.tournament)
		if errors.Is(err, book.ErrUnknown) {
			return fmt.Errorf("no tournament %s in %s", e.tournament, e.data)
		}
		return err
	case !hasGame(games, e.game):
		return unknownGame(games, e.game, e.data)
	case e.team != "":
		return retention.ForgetName(ctx, s, e.game, e.team)
	}
	return s.Delete(ctx, e.game)
}
