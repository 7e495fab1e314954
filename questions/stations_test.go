package questions_test

import (
	"reflect"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Each station asks about one animal, and none of its words but a replica's
// label and the reasons name it.
func TestStations(t *testing.T) {
	c := catalogue.Builtin()
	for _, roster := range []string{"furbearers", "waterside", "woodland-edge", "everything"} {
		bank := builtin(t, roster)
		for seed := range uint64(20) {
			wish := questions.StationWish{Stations: 2 + int(seed)%9, Each: 1 + int(seed)%4, Seed: seed}
			all, err := bank.Stations(wish)
			if err != nil {
				t.Errorf("%s, %+v: %v", roster, wish, err)
				continue
			}
			if again, _ := bank.Stations(wish); !reflect.DeepEqual(again, all) {
				t.Errorf("%s, seed %d: the same wish gives other stations", roster, seed)
			}
			ids, animals := map[string]bool{}, map[string]bool{}
			for n, st := range all {
				animal, _ := c.Find(st.Species)
				if len(st.Questions) != wish.Each || st.Plate == nil || st.Plate.Species != st.Species || animals[st.Species+st.Subject] {
					t.Errorf("%s, seed %d, station %d: %+v", roster, seed, n+1, st)
				}
				animals[st.Species+st.Subject] = true
				for i, q := range st.Questions {
					if ids[q.ID] || q.Plate != nil || q.Subject != st.Subject {
						t.Errorf("%s, seed %d: %+v", roster, seed, q)
					}
					ids[q.ID] = true
					told := q.Prompt
					if i > 0 {
						for _, o := range q.Options {
							told += o.Text
						}
					}
					if strings.Contains(told, animal.Vernacular) {
						t.Errorf("%s, seed %d, station %d: %q tells whose it is", roster, seed, n+1, told)
					}
					for option := range q.Options {
						if got := truth(c, q, option); (got == catalogue.True) != (option == q.Key) || got != catalogue.True && got != catalogue.False {
							t.Errorf("%s, seed %d: option %d is %v: %+v", roster, seed, option, got, q)
						}
					}
					key := q.Options[q.Key].Species
					if q.About != nil {
						key = q.About.Is
					}
					if key != st.Species {
						t.Errorf("%s, seed %d, station %d is of %s and asks about %s", roster, seed, n+1, st.Species, key)
					}
				}
			}
		}
	}
}

// What a debrief found weak comes first.
func TestWeighedStations(t *testing.T) {
	bank := builtin(t, "furbearers")
	met := 0
	for seed := range uint64(20) {
		all, err := bank.Stations(questions.StationWish{Stations: 4, Each: 2, Seed: seed, Species: map[string]float64{"Lynx rufus": 4, "Canis latrans": 4}})
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range all {
			if st.Species == "Lynx rufus" || st.Species == "Canis latrans" {
				met++
			}
		}
	}
	if met < 30 { // of 80; by chance 10
		t.Errorf("the weak animals had %d of 80 stations", met)
	}
	if _, err := bank.Stations(questions.StationWish{Stations: 16, Each: 2, Seed: 1, Species: map[string]float64{"Lynx rufus": 100}}); err != nil {
		t.Error(err)
	}
}

func TestReplicas(t *testing.T) {
	bank := builtin(t, "furbearers")
	beaver := questions.Replica{Station: 3, Species: "Castor canadensis", Subject: "skull"}
	all, err := bank.Stations(questions.StationWish{Stations: 4, Each: 3, Seed: 1, Subjects: []string{"track"}, Replicas: []questions.Replica{beaver}})
	if err != nil {
		t.Fatal(err)
	}
	for i, st := range all {
		if isReplica := st.Plate == nil; isReplica != (i == 2) {
			t.Errorf("station %d: %+v", i+1, st)
		}
	}
	if st := all[2]; st.Species != beaver.Species || st.Subject != "skull" || len(st.Questions) != 3 || st.Questions[0].Prompt != "Whose skull is this?" {
		t.Errorf("station 3: %+v", st)
	}
}

func TestStationsThatCannotBe(t *testing.T) {
	bank := builtin(t, "waterside")
	usual := questions.StationWish{Stations: 4, Each: 2, Seed: 1}
	for want, spoil := range map[string]func(*questions.StationWish){
		"2 to 20":      func(w *questions.StationWish) { w.Stations = 1 },
		"1 to 5":       func(w *questions.StationWish) { w.Each = 6 },
		"no subject":   func(w *questions.StationWish) { w.Subjects = []string{"bark"} },
		"no specimen":  func(w *questions.StationWish) { w.Subjects = []string{"animal"} },
		"difficulty":   func(w *questions.StationWish) { w.Difficulty = 9 },
		"gives only":   func(w *questions.StationWish) { w.Stations, w.Subjects, w.Difficulty = 20, []string{"scat"}, 1 },
		"from 1 to 4":  func(w *questions.StationWish) { w.Replicas = []questions.Replica{{Station: 5}} },
		"two replicas": func(w *questions.StationWish) { w.Replicas = slicesOf("Castor canadensis", 1, 1) },
		"one of skull": func(w *questions.StationWish) { w.Replicas = []questions.Replica{{Station: 1, Subject: "bark"}} },
		"station 2":    func(w *questions.StationWish) { w.Replicas = slicesOf("Ursus maritimus", 2) },
	} {
		w := usual
		spoil(&w)
		if _, err := bank.Stations(w); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want it to say %q", w, err, want)
		}
	}
}

func slicesOf(species string, stations ...int) (list []questions.Replica) {
	for _, n := range stations {
		list = append(list, questions.Replica{Station: n, Species: species, Subject: "skull"})
	}
	return list
}
