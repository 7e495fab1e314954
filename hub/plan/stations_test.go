package plan

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/questions/catalogue"
)

// What is wished of any round is kept of one at stations, whose specimens are of the
// animals that were asked for.
func TestAStationRoundKeepsItsWish(t *testing.T) {
	p := New(catalogue.Builtin(), "", func(string) (debrief.Advice, error) { return debrief.Advice{}, nil })
	r := RoundWish{Name: "Bench", Kind: game.Rotating, Subjects: []string{"skull"}, Count: 2, Seconds: 60, Points: 10, Wait: 250, Speed: 5, Penalty: 5,
		Animals: []string{"Castor canadensis", "Lynx rufus", "Ondatra zibethicus"}, Pairs: []game.Pair{{A: "Castor canadensis", B: "Ondatra zibethicus"}},
		Station: &stationWish{Stations: 3, Walk: 7, Replicas: []replicaWish{}}}
	made, err := p.Make(Wish{Roster: "furbearers", Seed: 6, Rounds: []RoundWish{r}}, game.Plan{})
	if err != nil {
		t.Fatal(err)
	}
	if got := p.WishOf(made).Rounds[0]; !reflect.DeepEqual(got, r) {
		t.Errorf("the wish is\n%+v, want\n%+v", got, r)
	}
	var shown []string
	for _, st := range made.Rounds[0].Stations {
		shown = append(shown, st.Species)
	}
	if slices.Sort(shown); !slices.Equal(shown, r.Animals) {
		t.Errorf("the stations are about %v, want %v", shown, r.Animals)
	}
	r.Typed = true
	if _, err := p.Make(Wish{Roster: "furbearers", Seed: 6, Rounds: []RoundWish{r}}, game.Plan{}); err == nil || !strings.Contains(err.Error(), "typed") {
		t.Errorf("typed at stations: %v", err)
	}
}
