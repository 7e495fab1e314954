package questions_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// A station's question gives way to another that is proved, about the same
// animal, and does not name it; what was taken out does not come back.
func TestAnotherAtAStation(t *testing.T) {
	c := catalogue.Builtin()
	asked, whose, found := 0, 0, 0
	spanish := inSpanish(t)
	for roster, bank := range map[string]*questions.Bank{
		"furbearers": builtin(t, "furbearers"), "waterside": builtin(t, "waterside"), "everything": builtin(t, "everything"),
		"everything, in Spanish": bankOf(t, catalogue.Spanish, "everything"),
	} {
		beaver := questions.Replica{Station: 2, Species: "Castor canadensis", Subject: "skull"}
		all, err := bank.Stations(questions.StationWish{Stations: 8, Each: 3, Seed: 4, Replicas: []questions.Replica{beaver}})
		if err != nil {
			t.Fatal(err)
		}
		var gone []questions.Question
		for n, st := range all {
			animal, _ := c.Find(st.Species)
			if roster == "everything, in Spanish" {
				animal, _ = spanish.Find(st.Species)
			}
			known := slices.Clone(st.Questions)
			for place := range st.Questions {
				q, err := bank.AnotherAt(questions.Wish{Seed: 7}, st, place, gone)
				if asked++; err != nil {
					continue
				}
				found++
				if place == 0 {
					whose++
				}
				if again, _ := bank.AnotherAt(questions.Wish{Seed: 7}, st, place, gone); !reflect.DeepEqual(again, q) {
					t.Errorf("%s, station %d: the same station gives %+v and %+v", roster, n+1, q, again)
				}
				old := st.Questions[place]
				same := func(o questions.Question) bool {
					return o.Prompt == q.Prompt && slices.Equal(optionsOf(o), optionsOf(q))
				}
				if q.ID == old.ID || slices.ContainsFunc(known, same) || place == 0 && q.Template != old.Template {
					t.Errorf("%s, station %d: %+v gives way to %+v", roster, n+1, old, q)
				}
				told := q.Prompt
				if place > 0 {
					told += strings.Join(optionsOf(q), " ")
				}
				if strings.Contains(told, animal.Vernacular) || q.Language != st.Questions[place].Language {
					t.Errorf("%s, station %d: %q tells whose it is", roster, n+1, told)
				}
				gone, known = append(gone, old), append(known, q)
				st.Questions = slices.Clone(st.Questions)
				st.Questions[place] = q
				if err := bank.Prove(q); err != nil {
					t.Errorf("%s, station %d: %v: %+v", roster, n+1, err, q)
				}
				if err := bank.ProveStation(st); err != nil {
					t.Errorf("%s, station %d: %v", roster, n+1, err)
				}
			}
		}
	}
	t.Logf("%d of %d were replaced, %d of them asked whose it is", found, asked, whose)
	if found < asked*3/4 || whose == 0 {
		t.Errorf("only %d of %d were replaced, %d of them asked whose it is", found, asked, whose)
	}
}

// optionsOf are a question's options, in an order of their own.
func optionsOf(q questions.Question) (list []string) {
	for _, o := range q.Options {
		list = append(list, o.Text)
	}
	slices.Sort(list)
	return list
}

func TestAnotherAtRunsOut(t *testing.T) {
	bank := builtin(t, "furbearers")
	all, err := bank.Stations(questions.StationWish{Stations: 2, Each: 1, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	st, gone := all[0], []questions.Question(nil)
	for range 400 {
		q, err := bank.AnotherAt(questions.Wish{Seed: 1}, st, 0, gone)
		if err != nil {
			if !strings.Contains(err.Error(), "strike it") {
				t.Error(err)
			}
			return
		}
		gone, st.Questions = append(gone, st.Questions[0]), []questions.Question{q}
	}
	t.Error("a station's question is replaced without end")
}

func TestStationsNotProved(t *testing.T) {
	bank := builtin(t, "furbearers")
	all, err := bank.Stations(questions.StationWish{Stations: 3, Each: 2, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	for i, st := range all {
		if err := bank.ProveStation(st); err != nil {
			t.Errorf("station %d: %v", i+1, err)
		}
	}
	plate := func(change func(*questions.PlateRef)) func(*questions.Station) {
		return func(st *questions.Station) { p := *st.Plate; change(&p); st.Plate = &p }
	}
	question := func(change func(*questions.Question)) func(*questions.Station) {
		return func(st *questions.Station) { change(&st.Questions[1]) }
	}
	for want, spoil := range map[string]func(*questions.Station){
		"lies at a station":          func(st *questions.Station) { st.Subject = "animal" },
		"in play":                    func(st *questions.Station) { st.Species = "Ursus maritimus" },
		"not a drawing":              plate(func(p *questions.PlateRef) { p.Species = "Lepus americanus" }),
		"its plate":                  plate(func(p *questions.PlateRef) { p.Mark = "diastema" }),
		"1 to 5 questions, not 0":    func(st *questions.Station) { st.Questions = nil },
		"its question 2 is not":      question(func(q *questions.Question) { q.Plate = &questions.PlateRef{} }),
		"that a station asks":        question(func(q *questions.Question) { q.Template = questions.TypeTheName }),
		"question 2 is not one":      question(func(q *questions.Question) { q.About = &questions.About{Is: "Lynx rufus"} }),
		"the second time as its que": func(st *questions.Station) { st.Questions[1] = st.Questions[0] },
	} {
		st := all[0]
		st.Questions = slices.Clone(st.Questions)
		spoil(&st)
		if err := bank.ProveStation(st); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want it to say %q", err, want)
		}
	}
}
