package plan

import (
	"reflect"
	"testing"
)

func TestAnotherGameHasQuestionsOfItsOwn(t *testing.T) {
	before := Wish{Title: "Review", Roster: "furbearers", Seed: 5, From: "otter-den-42", Season: "Spring", Rounds: []RoundWish{{Name: "A", Set: "chosen"}, {Name: "B"}}}
	want := Wish{Title: "Review", Roster: "furbearers", From: "elk-1", Season: "Spring", Rounds: []RoundWish{{Name: "A"}, {Name: "B"}}}
	if got := before.Anew("elk-1"); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if before.Seed != 5 || before.Rounds[0].Set != "chosen" {
		t.Errorf("the wish before is %+v now", before)
	}
}
