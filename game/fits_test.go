package game_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

// FuzzStoredLog reads a log as a store would hand it over, numbered from 1: each
// line is taken or refused, and whatever state the taken ones make can be
// looked at and gone on with.
func FuzzStoredLog(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		var s game.State
		var log []game.Event
		for line := range bytes.Lines(data) {
			var e game.Event
			if json.Unmarshal(line, &e) != nil {
				break
			}
			e.Seq = s.Seq + 1
			next, err := game.Take(s.Clone(), e)
			if err != nil {
				if !errors.Is(err, game.ErrMisfit) || strings.Contains(err.Error(), "stumble") {
					t.Fatalf("%s: %v", line, err)
				}
				break
			}
			s, log = next, append(log, e)
			goOn(t, s)
		}
		r := debrief.Of(log, nil)
		if err := r.WriteCSV(io.Discard); err != nil {
			t.Fatal(err)
		}
	})
}

// goOn gives each command, and looks at everything.
func goOn(t *testing.T, s game.State) {
	look(&s)
	id := ""
	if _, q, ok := s.Current(); ok {
		id = q.ID
	}
	for _, kind := range kinds {
		for _, by := range []string{"host", "t1", "t2"} {
			for _, later := range []int64{0, 700_000} {
				c := game.Command{Type: kind, By: by, Team: "t1", Name: "Newts", Question: id, Option: 1, Right: later > 0, Extra: 50, Seconds: 10, With: question("new")}
				events, _ := game.Decide(s.Clone(), c, s.At+later) // what is refused has none
				after, err := s.Clone(), error(nil)
				for _, e := range events {
					if after, err = game.Take(after, e); err != nil {
						t.Fatalf("%s is decided and does not fit: %v", kind, err)
					}
					look(&after)
				}
			}
		}
	}
}

func look(s *game.State) {
	if r, _, ok := s.Current(); ok {
		s.Span()
		s.Picks()
		r.Each()
		if s.AtStations() {
			for i := range s.Teams {
				s.Place(i)
				s.Filled(i)
				s.Visited(i, len(r.Stations)-1)
			}
			for n := range r.Questions {
				s.PicksOf(n)
			}
		}
	}
	s.Wake()
	s.Grace()
	s.Playing()
	s.Standings()
	s.SideScores()
}

func TestMisfits(t *testing.T) {
	w := &witness{t: t}
	w.start(2, samplePlan(false)) // a buzz round's first question is open
	n := uint64(len(w.stored))
	broken := samplePlan(false)
	broken.Rounds[0].Questions[0].Key = 7
	for name, e := range map[string]game.Event{
		"an answer of nobody":              {Type: game.Answered, Team: "t9"},
		"an answer in a buzz round":        {Type: game.Answered, Team: "t1"},
		"a press that is missing":          {Type: game.Pressed},
		"a press before the game":          {Type: game.Pressed, Press: &game.Press{Team: "t1", At: -1 << 62, Got: 1}},
		"a verdict without awards":         {Type: game.Ruled, Team: "t1"},
		"an award to nobody":               {Type: game.Scored, Awards: []game.Award{{Team: "t9"}}},
		"a question that there is not":     {Type: game.Opened, Number: 99},
		"a round that there is not":        {Type: game.Opened, Round: -1},
		"a verdict to take back, and none": {Type: game.Undone},
		"a name for nobody":                {Type: game.Renamed, Team: "t0"},
		"a rotation of no stations":        {Type: game.Signalled},
		"a correction of no stations":      {Type: game.Corrected},
		"a plan in the middle":             {Type: game.Planned},
		"an edit in the middle":            {Type: game.Struck},
		"a second beginning":               {Type: game.Created, Plan: &broken},
		"a new kind":                       {Type: "splendid"},
	} {
		e.Seq, e.At = n+1, w.s.At
		if err := game.Check(append(w.stored[:n:n], e)); !errors.Is(err, game.ErrMisfit) || !strings.Contains(err.Error(), fmt.Sprintf("event %d", n+1)) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, first := range map[string]game.Event{
		"no plan":                {Seq: 1, Type: game.Created},
		"a key that there isn't": {Seq: 1, Type: game.Created, Plan: &broken},
		"a late beginning":       {Seq: 2, Type: game.Created, Plan: &game.Plan{}},
		"no beginning":           {Seq: 1, Type: game.Joined, Team: "t1"},
	} {
		if err := game.Check([]game.Event{first}); !errors.Is(err, game.ErrMisfit) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
