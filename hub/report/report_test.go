package report

import (
	"testing"

	"fieldsign/game/debrief"
)

func TestALargeDebriefIsTrimmed(t *testing.T) {
	large := func() debrief.Report {
		return debrief.Report{
			Teams:     []debrief.Team{{Name: "Wrens", Topics: debrief.Topics{Traits: []debrief.Topic{{Name: "gait"}}}}, {}},
			Questions: []debrief.Item{{Answers: make([]debrief.Answer, 2), Picks: []int{2, 0}}},
		}
	}
	if r := trimmed(large(), 2); r.Trimmed || r.Questions[0].Answers == nil || r.Teams[0].Topics.Traits == nil {
		t.Errorf("two answers of at most two: %+v", r)
	}
	if r := trimmed(large(), 1); !r.Trimmed || r.Questions[0].Answers != nil || r.Teams[0].Topics.Traits != nil || r.Teams[0].Name != "Wrens" || r.Questions[0].Picks[0] != 2 {
		t.Errorf("two answers of at most one: %+v", r)
	}
}
