package main

import (
	"math"
	"math/rand/v2"

	"fieldsign/game/season"
)

// club is a synthetic club: teams of uneven talent, items of uneven hardness,
// and meetings that each team now and then misses. A team has one mind, since
// teams answer, at meetings and at the contest.
type club struct {
	dice     *rand.Rand
	law      law
	wish     season.Wish
	teams    []team
	hardness map[season.Item]float64 // days pass so many times faster
}

type team struct {
	talent float64 // days pass so many times slower
	minds  map[season.Item]mind
	last   map[season.Item]season.Day
	here   bool // at this meeting
}

const (
	guess      = 0.25
	absent     = 0.15 // of meetings
	learns     = 0.7  // of the teams recall what they were just shown
	unevenMind = 0.5  // standard deviation of the logarithm of talent
	unevenItem = 0.8  // and of hardness
)

func newClub(w season.Wish, l law, seed uint64) *club {
	c := &club{dice: rand.New(rand.NewPCG(seed, 1)), law: l, wish: w, hardness: map[season.Item]float64{}}
	for range 4 + c.dice.IntN(7) {
		c.teams = append(c.teams, team{math.Exp(unevenMind * c.dice.NormFloat64()), map[season.Item]mind{}, map[season.Item]season.Day{}, true})
	}
	for _, t := range w.Topics {
		c.hardness[t.Item] = math.Exp(unevenItem * c.dice.NormFloat64())
	}
	return c
}

// gather decides who comes.
func (c *club) gather() {
	for n := range c.teams {
		c.teams[n].here = c.dice.Float64() >= absent
	}
}

// days are as many as pass for a child's memory of an item.
func (c *club) days(k *team, i season.Item, day season.Day) float64 {
	return float64(day-k.last[i]) * c.hardness[i] / k.talent
}

func (c *club) recall(k *team, i season.Item, day season.Day) float64 {
	return c.law.recall(k.minds[i], c.days(k, i, day))
}

// learn is what an answer, or the first sight of an item, leaves.
func (c *club) learn(k *team, i season.Item, day season.Day, knew bool) {
	k.minds[i], k.last[i] = c.law.after(k.minds[i], c.days(k, i, day), knew), day
}

// show is an item's first time, for who is here and has not met it.
func (c *club) show(i season.Item, day season.Day) {
	for n := range c.teams {
		if k := &c.teams[n]; k.here && !k.minds[i].met() {
			c.learn(k, i, day, c.dice.Float64() < learns)
		}
	}
}

// ask lets each team answer: right if it recalls, else by a guess. All who are
// here hear the reason. What was learned today is not learned again.
func (c *club) ask(i season.Item, day season.Day) season.Answer {
	a := season.Answer{Item: i}
	for n := range c.teams {
		k := &c.teams[n]
		if !k.here {
			continue
		}
		knew := c.dice.Float64() < c.recall(k, i, day)
		a.Of++
		if knew || c.dice.Float64() < guess {
			a.Right++
		}
		if !k.minds[i].met() || k.last[i] < day {
			c.learn(k, i, day, knew)
		}
	}
	return a
}

// knows is the share of the contest that a team of the club recalls, by weight.
func (c *club) knows() float64 {
	sum, whole := 0.0, 0.0
	for n := range c.teams {
		for _, t := range c.wish.Topics {
			sum += t.Weight * c.recall(&c.teams[n], t.Item, c.wish.Contest)
			whole += t.Weight
		}
	}
	return sum / whole
}
