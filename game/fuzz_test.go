package game_test

import (
	"testing"

	"fieldsign/game"
)

var kinds = []string{game.Tick, game.Create, game.Join, game.GiveAnswer, game.PressBuzz, game.SetPlan, game.Strike, game.Replace, game.Move, game.Next, game.Close, game.Pause,
	game.Resume, game.Skip, game.Undo, game.Rule, game.Rename, game.Remove, game.End, "", game.Extend, game.Forget, game.Adjust, game.Correct, game.Mark, game.Follow, game.Start}

const longest = 64 // commands in a fuzzed course

// FuzzDecide reads bytes as a course of commands. The first byte says where it
// starts: from no game at all, or at the first question of a round of each kind.
func FuzzDecide(f *testing.F) {
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		w, r := &witness{t: t}, reader{data}
		if first := r.next(); first%4 > 0 {
			w.start(3, []game.Plan{samplePlan(false), samplePlan(true), stationPlan()}[first%4-1])
		}
		for n := 0; len(r.data) > 0 && n < longest; n++ {
			c, passed := r.command()
			w.take(c, passed)
		}
	})
}

// reader takes commands from bytes; past their end all bytes are zero.
type reader struct{ data []byte }

func (r *reader) next() byte {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

// text is a length and so many bytes.
func (r *reader) text() string {
	n := min(int(r.next()), len(r.data))
	s := string(r.data[:n])
	r.data = r.data[n:]
	return s
}

// command is a kind, a flag, the tenths of seconds passed, and then what the
// kind needs. Bit 7 of the flag gives the command an id, bit 6 lets the clock
// go backwards, bits 0 to 2 say which team, bits 3 to 5 which option.
func (r *reader) command() (game.Command, int64) {
	c := game.Command{Type: kinds[int(r.next())%len(kinds)], By: "host"}
	flag, passed := r.next(), int64(r.next())*100
	team := "t" + string('0'+rune(flag&7))
	c.Option, c.Right = int(flag>>3&7)-1, flag>>3&1 == 1
	if flag&0x80 != 0 {
		c.ID = r.text()
	}
	if flag&0x40 != 0 {
		passed = -passed
	}
	switch c.Type {
	case game.GiveAnswer, game.PressBuzz:
		c.By, c.Question = team, "q"+string('0'+rune(r.next()%6))
		if c.Type == game.PressBuzz {
			c.Timing = game.Timing{Pressed: int64(r.next()) * 10_000, Bound: int64(r.next()) * 1000, Back: int64(r.next()) * 2000, Wait: int64(r.next()) * 2000}
		}
	case game.Correct:
		c.Question = "q" + string('0'+rune(r.next()%8))
	case game.Adjust:
		c.Seconds = int(r.next()) - 128
	case game.Rename, game.Remove, game.Join:
		c.Team, c.Name = team, r.text()
	case game.Extend, game.Forget:
		c.Team, c.Extra = team, int(r.next())
	case game.Pause:
		c.Notice = r.text()
	case game.Strike, game.Replace, game.Move:
		c.Question, c.Round, c.To = "q"+string('0'+rune(r.next()%6)), int(r.next()%5)-1, int(r.next()%8)-1
		c.With = question(r.text())
	case game.Follow:
		c.Code = r.text()
	case game.Create, game.SetPlan:
		c.Plan = r.plan()
	}
	return c, passed
}

// plan is the sample, with one thing in it that bytes may spoil.
func (r *reader) plan() game.Plan {
	p := samplePlan(false)
	switch first := &p.Rounds[0]; r.next() % 9 {
	case 1:
		p.Title = r.text()
	case 2:
		first.Questions[0].ID = r.text()
	case 3:
		first.Questions[0].Options = []string{r.text(), r.text()}
	case 4:
		first.Seconds = int(r.next()) * 5
	case 5:
		first.Questions[0].Key = int(r.next()) - 1
	case 6:
		first.Points, first.Penalty = int(r.next())*8-8, int(r.next())*8-8
	case 7:
		first.Wait = int(r.next()) * 8
	case 8:
		p.Rounds = nil
	}
	return p
}
