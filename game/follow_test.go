package game_test

import (
	"testing"

	"fieldsign/game"
)

func TestAnEndedGameIsFollowedOnce(t *testing.T) {
	w := &witness{t: t}
	w.start(2, samplePlan(false))
	follow := game.Command{Type: game.Follow, By: "hub", Code: "alder-run-27"}
	if _, err := game.Decide(w.s, follow, w.at); codeOf(err) != "not_now" {
		t.Errorf("a game that is played is followed: %v", err)
	}
	w.take(game.Command{Type: game.End, By: "host"}, 0)
	for _, code := range []string{"", w.s.Code, "a\u202eb"} {
		if _, err := game.Decide(w.s, game.Command{Type: game.Follow, By: "hub", Code: code}, w.at); codeOf(err) != "bad_command" {
			t.Errorf("%q follows: %v", code, err)
		}
	}
	w.take(follow, 0)
	if w.s.Next != follow.Code || w.s.Phase != game.Ended {
		t.Errorf("%s is followed by %q", w.s.Phase, w.s.Next)
	}
	follow.Code = "marsh-track-83"
	if _, err := game.Decide(w.s, follow, w.at); codeOf(err) != "followed" {
		t.Errorf("it is followed twice: %v", err)
	}
}
