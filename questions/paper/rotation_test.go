package paper

import (
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func rotatingOf(t *testing.T, stations, each int) Quiz {
	t.Helper()
	all, err := banks()
	if err != nil {
		t.Fatal(err)
	}
	list, err := all["furbearers"].Stations(questions.StationWish{Stations: stations, Each: each, Seed: 4,
		Replicas: []questions.Replica{{Station: 2, Species: "Castor canadensis", Subject: "skull"}}})
	if err != nil {
		t.Fatal(err)
	}
	return Quiz{Catalogue: catalogue.Builtin(), Title: "Bench", Name: "furbearers", Teams: 3, Seconds: 90, Walk: 20}.Rotating(list)
}

// The largest round and the smallest fit on their cards, sheets and key.
func TestStationRoundsFit(t *testing.T) {
	for _, size := range []string{"a4", "letter"} {
		for _, q := range []Quiz{rotatingOf(t, 20, 5), rotatingOf(t, 2, 1)} {
			writtenAs(t, q, size, "all")
		}
	}
}

// A replica's card has room for it and no drawing, and nothing on a card tells
// whose the specimen is.
func TestStationsOnPaper(t *testing.T) {
	q := rotatingOf(t, 6, 3)
	list, err := q.stations()
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range list {
		if isReplica := s.art == nil; isReplica != (i == 1) || s.artOf != 0 || len(s.asked) != 3 || s.asked[0].number != 3*i+1 {
			t.Errorf("station %d: %+v", s.number, s)
		}
	}
	if got := list[1].lies(q); got != "your replica: American beaver, skull" {
		t.Errorf("at station 2 lies %q", got)
	}
}
