package main

import (
	"math/rand/v2"
	"slices"

	"fieldsign/game/season"
)

// A way decides what a meeting does. It is told what was found before.
type way struct {
	name string
	what string
	meet func(*club, season.Meeting, *diary) []season.Answer
}

// diary is what a coach remembers of a season.
type diary struct {
	held  []season.Held
	spent map[season.Item]int // seconds
	next  int                 // in the list of topics
	dice  *rand.Rand          // of the coach
}

var ways = []way{
	{"plan", "as Fieldsign plans it, with each debrief taken over", planned},
	{"equal time", "always the item that had the least time so far", equalTime},
	{"random review", "half of each meeting new in the list's order, the rest drawn from what was met", randomReview},
	{"list in order", "each item shown and asked twice before the next, then from the start again", inOrder},
}

func planned(c *club, m season.Meeting, d *diary) (answers []season.Answer) {
	a, err := season.Next(c.wish, d.held)
	if err != nil {
		panic(err) // the settings are ours
	}
	for _, i := range a.New {
		c.show(i, m.Day)
		answers = append(answers, c.ask(i, m.Day))
	}
	for _, i := range slices.Concat(a.Review, a.Extra) {
		answers = append(answers, c.ask(i, m.Day))
	}
	d.held = append(d.held, season.Held{Day: m.Day, Answers: answers})
	return answers
}

// spend shows or asks an item, and gives the seconds it took.
func (d *diary) spend(c *club, i season.Item, m season.Meeting) int {
	cost := c.wish.Pace.Review
	if d.spent[i] == 0 {
		cost = c.wish.Pace.New
		c.show(i, m.Day)
	}
	c.ask(i, m.Day)
	d.spent[i] += cost
	return cost
}

func equalTime(c *club, m season.Meeting, d *diary) []season.Answer {
	for left := 60 * m.Minutes; left > 0; {
		least := c.wish.Topics[0].Item
		for _, t := range c.wish.Topics {
			if d.spent[t.Item] < d.spent[least] {
				least = t.Item
			}
		}
		left -= d.spend(c, least, m)
	}
	return nil
}

func randomReview(c *club, m season.Meeting, d *diary) []season.Answer {
	topics := c.wish.Topics
	left := 60 * m.Minutes
	for half := left / 2; left > half && d.next < len(topics); d.next++ {
		left -= d.spend(c, topics[d.next].Item, m)
	}
	for left > 0 {
		left -= d.spend(c, topics[d.dice.IntN(d.next)].Item, m)
	}
	return nil
}

func inOrder(c *club, m season.Meeting, d *diary) []season.Answer {
	topics := c.wish.Topics
	for left := 60 * m.Minutes; left > 0; d.next++ {
		i := topics[d.next%len(topics)].Item
		for range 3 {
			left -= d.spend(c, i, m)
		}
	}
	return nil
}
