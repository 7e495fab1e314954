package plan

import (
	"reflect"
	"testing"

	"fieldsign/game"
	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// A question comes back from the game as it went there, whatever its template.
func TestQuestionsComeBackWhole(t *testing.T) {
	t.Parallel()
	c := catalogue.Builtin()
	bank := questions.NewBank(c, c.Everything())
	set, err := bank.Set(questions.Wish{Count: soak.Size(120, 200), Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	rare, err := bank.Set(questions.Wish{Count: soak.Size(40, 60), Seed: 3, Templates: []string{questions.TypeTheName, "deer-age-fine", "label-it", "same-animal", "term-means"}})
	if err != nil {
		t.Fatal(err)
	}
	set = append(set, rare...)
	templates, bytes := map[string]bool{}, 0
	for i, g := range asked(set) {
		set[i].Rests = 0 // computed anew where it is shown
		q, ok := QuestionOf(g)
		q.ID = set[i].ID // a game draws its own
		if !ok || !reflect.DeepEqual(q, set[i]) {
			t.Errorf("%s: got %+v, want %+v", set[i].Template, q, set[i])
		}
		templates[q.Template] = true
		bytes += len(g.Proof)
	}
	t.Logf("%d templates; a proof has %d bytes on average", len(templates), bytes/len(set))
	if len(templates) < 25 {
		t.Errorf("only %v", templates)
	}
	if _, ok := QuestionOf(game.Question{}); ok {
		t.Error("a question without its proof came back")
	}
}
