package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"

	"fieldsign/game/season"
)

const clubs = 200 // for each row of the page

// course is a season as many clubs have it; all are invented.
type course struct{ animals, meetings, minutes, rest int }

var courses = []course{
	{animals: 16, meetings: 12, minutes: 45, rest: 21},
	{animals: 26, meetings: 12, minutes: 45, rest: 10},
	{animals: 40, meetings: 10, minutes: 60, rest: 14},
}

func (c course) String() string {
	return fmt.Sprintf("%d animals, %d weekly meetings of %d minutes, %d days from the last to the contest", c.animals, c.meetings, c.minutes, c.rest)
}

// wish has animals with three subjects each, every second animal alike to the
// one before it, and every third counting double.
func (c course) wish() season.Wish {
	w := season.Wish{Pace: season.UsualPace, Contest: season.Day(7*(c.meetings-1) + c.rest)}
	name := func(n int) string { return fmt.Sprint("animal ", n) }
	for n := range c.animals {
		for _, subject := range []string{"skull", "track", "scat"} {
			w.Topics = append(w.Topics, season.Topic{Item: season.Item{Animal: name(n), Subject: subject}, Weight: float64(1 + n%3/2)})
			if n%2 == 1 {
				w.Alike = append(w.Alike, season.Pair{A: name(n - 1), B: name(n), Subject: subject})
			}
		}
	}
	for n := range c.meetings {
		w.Meetings = append(w.Meetings, season.Meeting{Day: season.Day(7 * n), Minutes: c.minutes})
	}
	return w
}

// known is what each club knows on the day, by one way.
func known(w season.Wish, l law, by way, clubs int, seed uint64) []float64 {
	out := make([]float64, clubs)
	for n := range out {
		c := newClub(w, l, seed+uint64(n))
		d := &diary{spent: map[season.Item]int{}, dice: rand.New(rand.NewPCG(seed+uint64(n), 2))}
		for _, m := range w.Meetings {
			c.gather()
			by.meet(c, m, d)
		}
		out[n] = c.knows()
	}
	return out
}

// percent is a mean with its 95 % confidence interval, normal for 200 clubs.
func percent(x []float64) string {
	mean, squares := 0.0, 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		squares += (v - mean) * (v - mean)
	}
	return fmt.Sprintf("%.1f ± %.1f", 100*mean, 196*math.Sqrt(squares/float64(len(x)-1)/float64(len(x))))
}

func less(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}

func tables(seed uint64) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "This is a simulation: %d invented clubs for each row, seed %d. *Known* is the share of the contest, in percent by weight, that a team of the club recalls on the day. *More by the plan* is by how many points the plan is ahead, club by club. Both have 95 %% confidence intervals.\n", clubs, seed)
	for _, l := range laws {
		for _, c := range courses {
			fmt.Fprintf(&b, "\n**%v.** Teams forget %s.\n\n| Way | What it does | Known | More by the plan |\n| --- | --- | --: | --: |\n", c, l.name)
			var byPlan []float64
			for n, by := range ways {
				got, more := known(c.wish(), l, by, clubs, seed), ""
				if n == 0 {
					byPlan = got
				} else {
					more = percent(less(byPlan, got))
				}
				fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", by.name, by.what, percent(got), more)
			}
		}
	}
	return b.Bytes()
}
