package plan

import (
	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// FactsOf collects what a game's questions are about; say puts each name into
// the words to be shown.
func FactsOf(plan game.Plan, say func(string) string) debrief.Facts {
	facts := debrief.Facts{}
	for _, r := range plan.Rounds {
		for _, q := range r.Questions {
			a := debrief.About(q.About)
			a.Species, a.Stated, a.Animals, a.Traits = each(a.Species, say), each(a.Stated, say), each(a.Animals, say), each(a.Traits, say)
			facts[q.ID] = a
		}
	}
	return facts
}

func each(names []string, say func(string) string) []string {
	var out []string
	for _, n := range names {
		out = append(out, say(n))
	}
	return out
}

// Called gives, in a language, a species' usual name or a trait's label; other
// names stay.
func (p *Planner) Called(language string) func(name string) string {
	words := p.Words(catalogue.Language(language))
	return func(name string) string {
		if s, ok := words.Find(name); ok {
			return s.Vernacular
		}
		if t, ok := words.Trait(name); ok {
			return t.Label
		}
		return questions.Called(words, name)
	}
}

// Words is the catalogue in a language, or in English where a game's language
// is no longer there.
func (p *Planner) Words(l catalogue.Language) *catalogue.Catalogue {
	if words, err := p.Catalogue.In(l); err == nil {
		return words
	}
	return p.Catalogue
}

func Translations(c *catalogue.Catalogue) map[string]map[string]string {
	spanish := map[string]string{}
	for _, s := range c.Species {
		if s.Spanish != "" {
			spanish[s.Vernacular] = s.Spanish
		}
	}
	return map[string]map[string]string{"es": spanish}
}
