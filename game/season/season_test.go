package season

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"testing"
)

// wish has so many animals with three subjects each, neighbours alike, and a
// meeting a week.
func wish(animals, meetings, minutes int) Wish {
	w := Wish{Pace: UsualPace, Contest: Day(7*meetings + 7)}
	for n := range animals {
		for _, s := range []string{"skull", "track", "scat"} {
			w.Topics = append(w.Topics, Topic{Item{fmt.Sprint(n), s}, 1})
			if n%2 == 1 {
				w.Alike = append(w.Alike, Pair{fmt.Sprint(n - 1), fmt.Sprint(n), s})
			}
		}
	}
	for n := range meetings {
		w.Meetings = append(w.Meetings, Meeting{Day(7 * n), minutes})
	}
	return w
}

func made(t *testing.T, w Wish, held ...Held) Plan {
	t.Helper()
	p, err := Make(w, held)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestMinutesAreKept(t *testing.T) {
	for _, a := range made(t, wish(26, 12, 45)).Agendas {
		used := UsualPace.New*len(a.New) + UsualPace.Review*(len(a.Review)+len(a.Extra))
		if used+a.Spare != 60*a.Minutes || a.Spare < 0 {
			t.Errorf("day %d: %d s used, %d s spare, of %d minutes", a.Day, used, a.Spare, a.Minutes)
		}
	}
}

func TestLookAlikesComeTogetherOnceEachWasMetAlone(t *testing.T) {
	w := wish(26, 12, 45)
	met := map[Item]Day{}
	pairs := 0
	for _, a := range made(t, w).Agendas {
		for _, p := range w.Alike {
			if x, y := p.items(); slices.Contains(a.New, x) && slices.Contains(a.New, y) {
				t.Errorf("day %d: %v and %v are both new", a.Day, x, y)
			}
		}
		for _, p := range a.Pairs {
			pairs++
			for _, i := range []Item{{p.A, p.Subject}, {p.B, p.Subject}} {
				if day, ok := met[i]; !ok || day >= a.Day {
					t.Errorf("day %d: %v is compared before it was met alone", a.Day, i)
				}
			}
		}
		for _, i := range a.New {
			met[i] = a.Day
		}
	}
	if pairs == 0 {
		t.Error("no pair ever comes together")
	}
}

// What is due comes back after a longer and longer time, over all items; a
// single gap may be shorter, since meetings are a week apart.
func TestGapsGrow(t *testing.T) {
	sum, count := map[int]Day{}, map[int]Day{}
	days := map[Item][]Day{}
	for _, a := range made(t, wish(30, 30, 30)).Agendas {
		for _, i := range slices.Concat(a.New, a.Review, a.Extra) {
			days[i] = append(days[i], a.Day)
		}
	}
	for _, d := range days {
		for n := 1; n < len(d); n++ {
			sum[n] += d[n] - d[n-1]
			count[n]++
		}
	}
	first, later := float64(sum[1])/float64(count[1]), float64(sum[4])/float64(count[4])
	if later < 1.5*first {
		t.Errorf("an item comes back after %.1f days at first and after %.1f at its fourth return", first, later)
	}
}

func TestWhatWasMissedComesBackSooner(t *testing.T) {
	w := wish(26, 12, 45)
	first := made(t, w).Agendas[0]
	back := func(right int) Day {
		h := Held{Day: first.Day}
		for n, i := range first.New {
			got := 8
			if n == 0 {
				got = right
			}
			h.Answers = append(h.Answers, Answer{i, got, 8})
		}
		for _, a := range made(t, w, h).Agendas {
			if slices.Contains(a.Review, first.New[0]) {
				return a.Day
			}
		}
		return w.Contest
	}
	if missed, knew := back(0), back(8); missed > knew {
		t.Errorf("missed by all it comes back on day %d, known by all on day %d", missed, knew)
	}
}

func TestResultsMoveTheForecast(t *testing.T) {
	w := wish(8, 8, 45)
	result := func(right int) Share {
		held := []Held{}
		for n := range 2 {
			h := Held{Day: Day(7 * n)}
			for _, topic := range w.Topics {
				h.Answers = append(h.Answers, Answer{topic.Item, right, 6})
			}
			held = append(held, h)
		}
		return made(t, w, held...).Known.All
	}
	weak, strong := result(2), result(6)
	if !(weak.P < strong.P && weak.Low <= weak.P && weak.P <= weak.High) {
		t.Errorf("weak %+v, strong %+v", weak, strong)
	}
	before := made(t, w).Known.All
	if strong.High-strong.Low >= before.High-before.Low {
		t.Errorf("the doubt does not shrink with results: %+v, then %+v", before, strong)
	}
}

func TestWhatDoesNotFitIsSaid(t *testing.T) {
	p := made(t, wish(30, 2, 30))
	if len(p.Left) == 0 || p.Lacking != len(p.Left)*UsualPace.New {
		t.Errorf("%d left, lacking %d s", len(p.Left), p.Lacking)
	}
}

func TestAMissedMeetingIsMadeGood(t *testing.T) {
	w := wish(10, 6, 40)
	p := made(t, w, Held{Day: 7})
	if p.Agendas[0].Day != 14 || len(p.Agendas[0].New) == 0 {
		t.Errorf("after a meeting on day 7 in which nothing was asked: %+v", p.Agendas[0])
	}
}

func TestTheSameWishGivesTheSamePlan(t *testing.T) {
	if a, b := made(t, wish(20, 8, 45)), made(t, wish(20, 8, 45)); !reflect.DeepEqual(a, b) {
		t.Error("two plans of one wish differ")
	}
}

func TestTheNextMeetingIsTheFirstOfThePlan(t *testing.T) {
	w := wish(20, 8, 45)
	held := Held{0, []Answer{{w.Topics[0].Item, 2, 6}}}
	next, err := Next(w, []Held{held})
	if want := made(t, w, held).Agendas[0]; err != nil || !reflect.DeepEqual(next, want) {
		t.Errorf("%+v (%v), in the plan %+v", next, err, want)
	}
	if _, err := Next(w, []Held{{Day: 70}}); !errors.Is(err, ErrNoMeeting) {
		t.Errorf("after the last meeting: %v", err)
	}
}

func TestBadWishesAreRefused(t *testing.T) {
	for name, tc := range map[string]struct {
		spoil func(*Wish)
		want  error
	}{
		"no topic":      {func(w *Wish) { w.Topics = nil }, ErrNoTopic},
		"no meeting":    {func(w *Wish) { w.Meetings = nil }, ErrNoMeeting},
		"no pace":       {func(w *Wish) { w.Pace.New = 0 }, ErrBadWish},
		"after the day": {func(w *Wish) { w.Contest = 3 }, ErrBadWish},
		"out of order":  {func(w *Wish) { w.Meetings[1].Day = 0 }, ErrBadWish},
		"no minutes":    {func(w *Wish) { w.Meetings[0].Minutes = 0 }, ErrBadWish},
		"twice":         {func(w *Wish) { w.Topics[1] = w.Topics[0] }, ErrBadWish},
		"no weight":     {func(w *Wish) { w.Topics[0].Weight = 0 }, ErrBadWish},
	} {
		w := wish(4, 4, 45)
		tc.spoil(&w)
		if _, err := Make(w, nil); !errors.Is(err, tc.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
