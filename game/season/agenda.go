package season

import (
	"cmp"
	"slices"
)

// dueBelow is the recall under which an item is due.
const dueBelow = 0.9

// Something new gets half of a meeting while anything is due, since what is not
// gone over again is soon lost; and more where the list could not else be met
// within the first part of the meetings that are left.
const (
	newShare  = 0.5
	firstPart = 0.4
)

// forNew is how many seconds of a meeting may go to what is new.
func (c *club) forNew(m Meeting) int {
	unmet, left := 0, 0
	for _, t := range c.wish.Topics {
		if !c.known[t.Item].Met() {
			unmet++
		}
	}
	for _, other := range c.wish.Meetings {
		if other.Day >= m.Day {
			left++
		}
	}
	needed := float64(unmet*c.wish.Pace.New) / max(1, firstPart*float64(left))
	return int(max(newShare*float64(60*m.Minutes), needed))
}

// fill chooses what a meeting is for, and counts it as held as planned.
func (c *club) fill(m Meeting) Agenda {
	a := Agenda{Meeting: m, New: []Item{}, Review: []Item{}, Extra: []Item{}, Pairs: []Pair{}, Spare: 60 * m.Minutes}
	offered := c.offers(m.Day)
	taken := map[Item]bool{}
	for _, step := range []struct {
		forNew int
		extra  bool
	}{{c.forNew(m), false}, {60 * m.Minutes, false}, {0, true}} {
		c.take(&a, offered, taken, step.forNew, step.extra)
	}
	for _, p := range c.wish.Alike {
		if x, y := p.items(); taken[x] && taken[y] && c.known[x].Met() && c.known[y].Met() {
			a.Pairs = append(a.Pairs, p)
		}
	}
	for i := range taken {
		c.answer(i, m.Day, c.expected(i, m.Day))
	}
	return a
}

// offer is what a meeting could do, and what a second of it is worth.
type offer struct {
	item  Item
	fresh bool // never met
	due   bool
	cost  int
	worth float64
}

// offers are all items: what was missed first, then what is worth most.
func (c *club) offers(day Day) (out []offer) {
	for _, t := range c.wish.Topics {
		o := offer{item: t.Item, fresh: !c.known[t.Item].Met(), due: c.recall(t.Item, day) < dueBelow, cost: c.wish.Pace.Review}
		if o.fresh {
			o.cost = c.wish.Pace.New
		}
		o.worth = t.Weight * c.gain(t.Item, day) / float64(o.cost)
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b offer) int {
		if ma, mb := c.missed[a.item], c.missed[b.item]; ma != mb {
			return map[bool]int{true: -1, false: 1}[ma]
		}
		return cmp.Compare(b.worth, a.worth)
	})
	return out
}

// take fills a meeting with what fits. What is new has at most so many seconds;
// what is not due is taken as an extra alone.
func (c *club) take(a *Agenda, offered []offer, taken map[Item]bool, forNew int, extra bool) {
	for _, o := range offered {
		switch {
		case taken[o.item] || o.cost > a.Spare:
			continue
		case !o.due && !extra:
			continue
		case !o.due:
			a.Extra = append(a.Extra, o.item)
		case !o.fresh:
			a.Review = append(a.Review, o.item)
		case c.meetsAlike(o.item, taken) || (len(a.New)+1)*o.cost > forNew:
			continue
		default:
			a.New = append(a.New, o.item)
		}
		taken[o.item] = true
		a.Spare -= o.cost
	}
}

// meetsAlike tells whether a look-alike is met for the first time in this meeting.
func (c *club) meetsAlike(i Item, taken map[Item]bool) bool {
	for _, other := range c.alike[i] {
		if taken[other] && !c.known[other].Met() {
			return true
		}
	}
	return false
}

// gain is the recall that asking an item on a day adds on the day of the contest.
func (c *club) gain(i Item, day Day) float64 {
	asked := c.after(i, day, c.expected(i, day))
	return asked.Recall(float64(c.wish.Contest-day)) - c.recall(i, c.wish.Contest)
}
