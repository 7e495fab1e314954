package tournament_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/game/tournament"
)

// check is nil for a log that fits.
func check(log []tournament.Event) error {
	var s tournament.State
	for _, e := range log {
		var err error
		if s, err = tournament.Take(s, e); err != nil {
			return err
		}
	}
	return nil
}

// FuzzStoredLog reads a log as a store would hand it over, numbered from 1: each
// line is taken or refused, and whatever state the taken ones make can be
// looked at and gone on with.
func FuzzStoredLog(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		var s tournament.State
		for line := range bytes.Lines(data) {
			var e tournament.Event
			if json.Unmarshal(line, &e) != nil || len(line) > 1<<12 {
				return
			}
			e.Seq = s.Seq + 1
			next, err := tournament.Take(s, e)
			if err != nil {
				if !errors.Is(err, game.ErrMisfit) || strings.Contains(err.Error(), "stumble") {
					t.Fatalf("%s: %v", line, err)
				}
				return
			}
			s = next
			goOn(t, s)
		}
	})
}

// goOn gives each command, and looks at everything.
func goOn(t *testing.T, s tournament.State) {
	for _, kind := range kinds {
		for _, outcome := range outcomes[:3] {
			for match := range min(len(s.Matches), 4) {
				c := tournament.Command{Type: kind, Match: match + 1, Entrant: 1, Order: s.Order, Outcome: outcome, Home: 2, Away: 1, Game: "g", Name: "N", Winner: 1, Boards: 3, Secret: secrets[0]}
				events, err := tournament.Decide(s.Clone(), c)
				if err != nil {
					continue
				}
				after := s.Clone()
				for _, e := range events {
					if after, err = tournament.Take(after, e); err != nil {
						t.Fatalf("%s is decided and does not fit: %v", kind, err)
					}
				}
				look(after)
			}
		}
	}
}

func look(s tournament.State) {
	fmt.Fprint(nowhere{}, s.Standings(), s.Level(), s.GoingOn(), s.Champion(), s.Rounds())
	s.Undoable()
	s.Redoable()
}

type nowhere struct{}

func (nowhere) Write(b []byte) (int, error) { return len(b), nil }

func TestMisfits(t *testing.T) {
	log := []tournament.Event{
		{Type: tournament.Created, Name: "Cup", Settings: &tournament.Settings{Format: tournament.Single}},
		{Type: tournament.Entered, Entrant: 1, Name: "Wrens"}, {Type: tournament.Entered, Entrant: 2, Name: "Otters"},
		{Type: tournament.Drawn, Order: []int{1, 2}},
	}
	for i := range log {
		log[i].Seq = uint64(i + 1)
	}
	if err := check(log); err != nil {
		t.Fatal(err)
	}
	last := log[3]
	for name, e := range map[string]tournament.Event{
		"a created one without settings": {Seq: 5, Type: tournament.Created},
		"a result of no match":           {Seq: 5, Type: tournament.Recorded, Match: 9, Result: &tournament.Result{Outcome: tournament.Played, Winner: 1}},
		"a result that is missing":       {Seq: 5, Type: tournament.Recorded, Match: 1},
		"a winner who was not there":     {Seq: 5, Type: tournament.Recorded, Match: 1, Result: &tournament.Result{Outcome: tournament.Played, Winner: 7}},
		"a redo of nothing":              {Seq: 5, Type: tournament.Redone},
		"a name of nobody":               {Seq: 5, Type: tournament.Renamed, Entrant: 0},
		"a gap":                          {Seq: 6, Type: tournament.Finished},
		"a new kind":                     {Seq: 5, Type: "splendid"},
		"a second draw":                  {Seq: 5, Type: tournament.Drawn, Order: last.Order},
	} {
		if err := check(append(log[:4:4], e)); !errors.Is(err, game.ErrMisfit) || !strings.Contains(err.Error(), fmt.Sprintf("event %d", e.Seq)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
