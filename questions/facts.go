package questions

// Fact is how a species stands in a trait, as a thing to be remembered. Of a
// question about the trade's own words the species is the entry's name and the
// trait its kind.
type Fact struct{ Species, Trait string }

// Facts are what one has to know to answer the question: several questions may
// rest on the same fact.
func (q Question) Facts() []Fact {
	var out []Fact
	for _, t := range q.asks() {
		out = append(out, Fact{t.species, t.trait})
		if q.About != nil && q.About.Not != "" {
			out = append(out, Fact{q.About.Not, t.trait})
		}
	}
	return out
}
