package questions

import (
	"errors"
	"fmt"
	"slices"

	"fieldsign/questions/catalogue"
)

// Stations that were planned before: their questions replaced, or read from a file.

// AnotherAt finds a question to stand in the place of one of a station's, about
// the same animal. Whose the specimen is stays asked, with other wrong answers;
// any other question gives way to one that asks something else. gone are those
// that were taken out of the round before. Of the wish count the seed, the difficulty
// and what may decide. The same arguments give the same question.
func (b *Bank) AnotherAt(w Wish, st Station, place int, gone []Question) (Question, error) {
	old := st.Questions[place]
	p := newPlanner(b, Wish{Subjects: []string{st.Subject}, Count: 1, Seed: hash(fmt.Sprintf("%d, question %d", w.Seed, len(gone)+1)), NoMemory: w.NoMemory})
	m := p.makers[0]
	key, in := p.places[0][st.Species]
	if !in {
		return Question{}, fmt.Errorf("the roster has no %s of %s", st.Subject, st.Species)
	}
	here, by := map[string]int{}, aboutOne()
	if old.Template == whosePlateName {
		by = asking(whoseOf(st))
		p.wish.Difficulty, m.wish = w.Difficulty, w.Difficulty
	}
	known := st.Questions
	for _, q := range gone {
		if q.Subject == st.Subject && q.keySpecies() == st.Species {
			known = append(slices.Clip(known), q)
		}
	}
	for _, q := range known {
		here[q.Template]++
	}
	p.fits = func(q Question) bool {
		q = m.book.at(q, m.species[key])
		return !slices.ContainsFunc(known, func(k Question) bool {
			return k.signature() == q.signature() || k.stem() == q.stem() && old.Template != whosePlateName
		})
	}
	if !p.askOne(m, key, by, here) {
		return Question{}, errors.New("there is no other about this animal's " + st.Subject + ": strike it, or change the round")
	}
	q := m.book.at(p.set[0], m.species[key])
	q.ID = fmt.Sprintf("r%d-%016x", len(gone)+1, hash(q.wording()))
	return q, nil
}

// whoseOf asks by what a station shows.
func whoseOf(st Station) whose {
	if st.Plate == nil {
		return whoseReplica
	}
	return func(m *maker, key int) (Question, bool) {
		at := slices.IndexFunc(plateViews, func(v plateView) bool { return v.subject == st.Subject && v.name == st.Plate.View })
		if at < 0 {
			return Question{}, false
		}
		return m.shown(key, plateViews[at])
	}
}

// ProveStation checks a station that was not just computed, beside its
// questions' own proofs: that its animal is in play, that its plate shows that
// animal, and that every question asks about it what a station asks.
func (b *Bank) ProveStation(st Station) error {
	if !slices.Contains(catalogue.Subjects[1:], st.Subject) {
		return fmt.Errorf("no %q lies at a station", clip(st.Subject))
	}
	if _, ok := b.find(st.Subject, st.Species); !ok {
		return fmt.Errorf("there is no %s of %q in play", st.Subject, clip(st.Species))
	}
	if p := st.Plate; p != nil {
		shows := slices.ContainsFunc(plateViews, func(v plateView) bool { return v.subject == st.Subject && v.name == p.View })
		if _, drawable := Draw(b.catalogue, *p); !shows || !drawable || *p != (PlateRef{Species: st.Species, View: p.View}) {
			return fmt.Errorf("its plate is not a drawing of the %s of %s", st.Subject, st.Species)
		}
	}
	if len(st.Questions) < 1 || len(st.Questions) > MaxEach {
		return fmt.Errorf("it has 1 to %d questions, not %d", MaxEach, len(st.Questions))
	}
	for i, q := range st.Questions {
		if q.Template != whosePlateName && !q.row().atStations || q.Plate != nil || q.Subject != st.Subject || q.keySpecies() != st.Species {
			return fmt.Errorf("its question %d is not one about the %s of %s that a station asks", i+1, st.Subject, st.Species)
		}
	}
	if at := Repeats(st.Questions); at >= 0 {
		return fmt.Errorf("it asks the same twice, the second time as its question %d", at+1)
	}
	return nil
}
