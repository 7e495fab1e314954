package questions

import (
	"slices"

	"fieldsign/questions/catalogue"
)

// Resting counts the values of a trait that are known, or vary within bounds, by
// what they rest on.
type Resting struct {
	Trait    catalogue.Trait
	By       map[catalogue.Basis]int
	Recalled []catalogue.Species // whose value is still memory
}

// Known is how many values there are, and Read how many rest on a source that
// was read.
func (r Resting) Known() (known, read int) {
	for b, n := range r.By {
		known += n
		if b.Read() {
			read += n
		}
	}
	return known, read
}

// RestCount goes through the sheets' own columns, for the species of a roster.
// What is computed from them follows.
func RestCount(c *catalogue.Catalogue, roster catalogue.Roster) []Resting {
	var out []Resting
	for _, t := range c.Traits {
		if !t.Column() {
			continue
		}
		r := Resting{Trait: t, By: map[catalogue.Basis]int{}}
		for _, name := range roster.Of(t.Subject) {
			s, _ := c.Find(name)
			if v := s.Values[t.ID]; v.Says() {
				r.By[v.Basis]++
				if v.Basis == catalogue.Memory {
					r.Recalled = append(r.Recalled, s)
				}
			}
		}
		out = append(out, r)
	}
	return out
}

// OnlyRecalled lists, for a subject, the species that nothing can be asked about
// unless what is only recalled may decide.
func (b *Bank) OnlyRecalled(subject string) []catalogue.Species {
	return slices.DeleteFunc(slices.Clone(b.index(subject).species), func(s catalogue.Species) bool {
		p := newPlanner(b, Wish{Subjects: []string{subject}, Count: 1, NoMemory: true})
		p.ask(s.Name)
		return len(p.set) > 0
	})
}
