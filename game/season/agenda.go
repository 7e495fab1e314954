package season

import (
	"cmp"
	"slices"

	"fieldsign/game/memory"
)

// dueBelow is the recall under which an item is due.
const dueBelow = 0.9

// fill chooses what a meeting is for, and counts it as held as planned.
func (c *club) fill(m Meeting) Agenda {
	a := Agenda{Meeting: m, New: []Item{}, Review: []Item{}, Extra: []Item{}, Pairs: []Pair{}, Spare: 60 * m.Minutes}
	offered := c.offers(m.Day, c.turns(m))
	taken := map[Item]bool{}
	c.take(&a, offered, taken, false)
	c.take(&a, offered, taken, true)
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

// offers are all items, what is worth most first.
func (c *club) offers(day Day, turns float64) (out []offer) {
	for _, t := range c.wish.Topics {
		o := offer{item: t.Item, fresh: !c.known[t.Item].Met(), due: c.recall(t.Item, day) < dueBelow, cost: c.wish.Pace.Review}
		price := o.cost
		if o.fresh {
			o.cost = c.wish.Pace.New
		}
		if turns < 1 {
			price = o.cost // else it has to be shown later, for as much
		}
		o.worth = t.Weight * c.gain(t.Item, day, turns) / float64(price)
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b offer) int { return cmp.Compare(b.worth, a.worth) })
	return out
}

// take fills a meeting with what fits: with what is due, or with what is not.
func (c *club) take(a *Agenda, offered []offer, taken map[Item]bool, extra bool) {
	for _, o := range offered {
		switch {
		case taken[o.item] || o.cost > a.Spare:
			continue
		case o.due == extra:
			continue
		case !o.due:
			a.Extra = append(a.Extra, o.item)
		case !o.fresh:
			a.Review = append(a.Review, o.item)
		case c.meetsAlike(o.item, taken):
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

// turns are how many times an item can come up again after a meeting, on average.
func (c *club) turns(m Meeting) float64 {
	seconds := 0
	for _, other := range c.wish.Meetings {
		if other.Day > m.Day {
			seconds += 60 * other.Minutes
		}
	}
	for _, t := range c.wish.Topics {
		if !c.known[t.Item].Met() {
			seconds -= c.wish.Pace.New - c.wish.Pace.Review
		}
	}
	return max(0, float64(seconds)/float64(c.wish.Pace.Review*len(c.wish.Topics)))
}

// gain is the recall that asking an item on a day adds on the day of the
// contest, when it comes up again so many times after it.
func (c *club) gain(i Item, day Day, turns float64) float64 {
	few := int(turns)
	part := turns - float64(few)
	g := (1 - part) * c.gainWith(i, day, few)
	if part > 0 {
		g += part * c.gainWith(i, day, few+1)
	}
	return g
}

func (c *club) gainWith(i Item, day Day, turns int) float64 {
	asked := c.after(i, day, c.expected(i, day))
	return c.onTheDay(asked, 0, day, turns) - c.onTheDay(c.known[i], c.since(i, day), day, turns)
}

// onTheDay is the recall at the contest of a memory with so many evenly spaced
// turns to come.
func (c *club) onTheDay(m memory.State, since float64, day Day, turns int) float64 {
	step := float64(c.wish.Contest-day) / float64(turns+1)
	for range turns {
		since += step
		share := firstRight
		if m.Met() {
			share = m.Recall(since)
		}
		m = memory.Between(share, m.After(since, memory.Good), m.After(since, memory.Again))
		since = 0
	}
	return m.Recall(since + step)
}
