package questions_test

import (
	"reflect"
	"slices"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
)

// Every question of many sets is replaced three times over: by one that is
// proved, doesn't repeat, gives nothing away, and is the same each time.
func TestAnother(t *testing.T) {
	found, sameKind, refused, short := 0, 0, 0, 0
	for _, roster := range []string{"furbearers", "everything", "waterside"}[:soak.Size(1, 3)] {
		bank := builtin(t, roster)
		for difficulty := range 4 {
			wish := questions.Wish{Subjects: []string{"skull", "track", "scat"}, Count: 14, Seed: uint64(difficulty + 5), Difficulty: difficulty}
			set, err := bank.Set(wish)
			if err != nil {
				t.Fatal(err)
			}
			told := questions.Told(set)
			var gone []questions.Question
			for n := range soak.Size(1, 3) * len(set) {
				at := n % len(set)
				gap := questions.Gap{Before: set[:at], After: set[at+1:], Old: set[at], Gone: gone}
				q, err := bank.Another(wish, gap)
				if err != nil && roster == "waterside" && difficulty == 1 {
					short++ // few animals there are unlike
					continue
				} else if err != nil {
					refused++
					continue
				}
				again, _ := bank.Another(wish, gap)
				if !reflect.DeepEqual(q, again) {
					t.Fatalf("the same gap gave two questions: %s and %s", q.Prompt, again.Prompt)
				}
				found++
				if q.Template == set[at].Template {
					sameKind++
				}
				if err := bank.Prove(q); err != nil {
					t.Errorf("%s: %v", q.Prompt, err)
				}
				if q.Subject != set[at].Subject || difficulty > 0 && q.Difficulty != difficulty {
					t.Errorf("%s, difficulty %d, came for %s, %d", q.Subject, q.Difficulty, set[at].Subject, difficulty)
				}
				gone = append(gone, set[at])
				set = slices.Clone(set)
				set[at] = q
				if i := questions.Repeats(set); i >= 0 {
					t.Errorf("%s comes twice", set[i].Prompt)
				}
				if now := questions.Told(set); slices.ContainsFunc(now, func(i int) bool { return i >= 0 }) && !slices.ContainsFunc(told, func(i int) bool { return i >= 0 }) {
					t.Errorf("%s, %s: %s gives something away: %v", roster, q.ID, q.Prompt, now)
				}
			}
		}
	}
	t.Logf("%d replaced, %d of them by the same template; %d refused, and %d where few are unlike", found, sameKind, refused, short)
	if found < 60*refused || found < 12*short || 2*sameKind < found {
		t.Errorf("%d replaced, %d by the same template, %d refused, and %d where few are unlike", found, sameKind, refused, short)
	}
}

// A typed question, and one about the trade's words, give way to their like.
func TestAnotherOfItsKind(t *testing.T) {
	bank := builtin(t, "everything")
	for _, template := range []string{questions.TypeTheName, "term-for", "label-it", "same-animal", "which-plate"} {
		wish := questions.Wish{Subjects: []string{"skull", "track"}, Count: 6, Seed: 1, Templates: []string{template}}
		set, err := bank.Set(wish)
		if err != nil {
			t.Fatal(err)
		}
		q, err := bank.Another(wish, questions.Gap{Before: set[:2], After: set[3:], Old: set[2]})
		if err != nil || q.Template != template || q.Typed != set[2].Typed || bank.Prove(q) != nil {
			t.Errorf("%s gave way to %s %q: %v, %v", template, q.Template, q.Prompt, err, bank.Prove(q))
		}
	}
}

func TestNothingElseIsLeft(t *testing.T) {
	bank := builtin(t, "everything")
	wish := questions.Wish{Subjects: []string{"skull"}, Count: 1, Seed: 1, Templates: []string{"term-for"}}
	set, err := bank.Set(wish)
	if err != nil {
		t.Fatal(err)
	}
	gap := questions.Gap{Old: set[0]}
	for range 1000 {
		q, err := bank.Another(wish, gap)
		if err != nil {
			t.Logf("after %d: %v", len(gap.Gone), err)
			return
		}
		gap.Gone, gap.Old = append(gap.Gone, gap.Old), q
	}
	t.Error("a thousand terms were found")
}

// A game's second round asks nothing that its first asked or told, but for what
// a small roster can't spare.
func TestApart(t *testing.T) {
	sets := soak.Size(6, 30)
	for roster, most := range map[string]int{"everything": 0, "furbearers": 0, "waterside": sets / 3} {
		bank := builtin(t, roster)
		before, after, repeats := 0, 0, 0
		for seed := range uint64(sets) {
			first, err := bank.Set(questions.Wish{Count: 8, Seed: 2 * seed})
			if err != nil {
				t.Fatal(err)
			}
			wish := questions.Wish{Subjects: []string{"skull", "track", "scat"}, Count: 6, Seed: 2*seed + 1}
			second, err := bank.Set(wish)
			if err != nil {
				t.Fatal(err)
			}
			before += told(first, second)
			apart := bank.Apart(wish, first, slices.Clone(second))
			after += told(first, apart)
			if again := bank.Apart(wish, first, slices.Clone(second)); !reflect.DeepEqual(apart, again) {
				t.Errorf("seed %d gave two sets", seed)
			}
			for i, q := range apart {
				if err := bank.Prove(q); err != nil || q.ID != q.Numbered(i+1).ID {
					t.Errorf("%s: %v", q.ID, err)
				}
			}
			if questions.Repeats(slices.Concat(first, apart)) >= 0 {
				repeats++
			}
		}
		t.Logf("%s: of %d questions %d had been told, now %d; %d repeats", roster, 6*sets, before, after, repeats)
		if after > most || repeats > 0 || before == 0 {
			t.Errorf("%s: told %d, then %d; %d repeats", roster, before, after, repeats)
		}
	}
}

// What was told long before may be asked again.
func TestApartInALongSet(t *testing.T) {
	bank := builtin(t, "everything")
	first, err := bank.Set(questions.Wish{Count: 50, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	wish := questions.Wish{Count: 80, Seed: 2}
	second, err := bank.Set(wish)
	if err != nil {
		t.Fatal(err)
	}
	if n, left := told(first, second), told(first, bank.Apart(wish, first, slices.Clone(second))); n == 0 || left > n/10 {
		t.Errorf("%d had been told, now %d", n, left)
	}
}

func told(first, second []questions.Question) (n int) {
	for _, by := range questions.Told(slices.Concat(first, second))[len(first):] {
		if by >= 0 {
			n++
		}
	}
	return n
}
