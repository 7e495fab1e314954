package questions

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fieldsign/questions/catalogue"
)

// phrasebook is all that questions say in one language, beside the words of the
// catalogue. The texts are formats, and say in the English book what they take.
type phrasebook struct {
	language catalogue.Language

	the    func(catalogue.Species) string                     // "the red fox"
	part   func(catalogue.Species, catalogue.Trait) string    // what of it a trait looks at: "skull"; or nothing
	its    string                                             // a part of an animal, by its names
	gear   map[string]string                                  // what heads bear; "": either
	own    func(part string) string                           // of an animal named before: "its skull", "it"
	all    func(part string) string                           // of any of them: "the skull", "the animal"
	which  func(part, adjective, phrase string) string        // asks for the animal whose part does as the phrase says
	series func(clauses []string) string                      // "a, b, and c"
	alike  func(animals []string, part, phrase string) string // some of whose parts do as the phrase says
	each   func(part string) string                           // of several: "each skull"
	verbs  []string                                           // of several words
	again  []string                                           // words that the next phrase says, too
	and    string                                             // before the last of clauses that are series themselves
	unname func(prompt, the string) string                    // leaves an animal's name out
	finish func(text string) string                           // what a whole text still needs

	only, onlyFits, whichIsThis, itIs           string
	noneDoes                                    string
	separates, separatesReason                  string
	trueOf, notTrueOf, notTrueOfRest, fitsPlate string
	members                                     map[string]string // by set trait
	compoundReason                              string
	compared                                    string
	others                                      func(part, phrase string) string // of each of the other animals
	oddOne                                      string
	oddLevel                                    map[string]string // by the level that all but one feed at
	formula, teeth, byComparison                string
	lacks, formulaIs                            string
	name, nameReason                            string
	atLeast, atMost, under, notAsAbove          string // of a key's leads

	views                   map[string]viewPhrases // by the drawing's name, and by subject
	plate, plateIs, plateOf string
	byScale                 string // after a question on a drawing that size decides

	pair, pairYes, pairSame, pairApart string
	differ                             map[string]string // by trait: why two prints are not of one kind

	whichFoot     string // asks which foot left a print
	feetAlike     string
	feetByNumber  string // what follows where both show as many
	separatesFeet string
	foot          map[string]string // by the drawing: which foot

	web  webPhrases
	text textPhrases

	sums   map[string]sumPhrases // by method
	madeUp string                // after what works one out

	label, termReason string
	whatSign          string
	signReason        string            // kind of sign, clause
	specimenReason    string            // animal, its scientific name
	freshReason       string            // of a sign's age: what is seen, in what
	ageEstimate       string            // the caution after an adult deer's age by its teeth
	lore              map[string]string // by template
	that              string            // leads what a structure tells
}

// webPhrases are of the food web.
type webPhrases struct {
	labels                       map[string]string // by trait, or set of traits
	kinds, short                 map[string]string // of food; in a drawing
	preys, eats, lives, competes [2]string         // does, does not
	level, noLevel               string            // patterns by the value
	chain, otherwise, plantsEat  string
	levelIn, soItIs, otherFood   string
	pictured                     string
	level4                       map[string]string // of a chain

	herd             func(catalogue.Species) string // an animal as something there is more or less of
	plants           map[string]string              // plant food, likewise
	turns            map[string][2]string           // more or fewer of an animal, of plants
	besides          string                         // between two of these
	changes, follows map[string]string              // what happens in a chain, and why what follows does, by the trait and its place
}

// viewPhrases ask about a drawing, or about four of them.
type viewPhrases struct{ whose, which, shows string }

var phrasebooks = map[catalogue.Language]*phrasebook{catalogue.English: &english, catalogue.Spanish: &spanish}

// about says what of the species a trait looks at: "the red fox's skull", or
// the animal itself.
func (b *phrasebook) about(s catalogue.Species, t catalogue.Trait) string {
	return b.of(s, b.part(s, t))
}

// of is a part of a species, or the species where it is none.
func (b *phrasebook) of(s catalogue.Species, part string) string {
	if part == "" {
		return b.the(s)
	}
	return fmt.Sprintf(b.its, part, b.the(s))
}

// kind is the word of a name that says what kind of animal it is: "fox", "zorro".
func (b *phrasebook) kind(name string) string {
	words := strings.Fields(name)
	if len(words) == 0 {
		return name
	}
	if b.language == catalogue.Spanish {
		return words[0]
	}
	return words[len(words)-1]
}

// stated is a clause on a species: "the red fox's skull has …".
func (b *phrasebook) stated(s catalogue.Species, t catalogue.Trait, phrase string) string {
	return b.about(s, t) + " " + b.bears(phrase, s)
}

// bears is a phrase that speaks of antlers or horns, put for animals all of which have one
// of them.
func (b *phrasebook) bears(phrase string, all ...catalogue.Species) string {
	gear := all[0].Values["head_gear"].Typical().Text
	other := func(s catalogue.Species) bool { return s.Values["head_gear"].Typical().Text != gear }
	if own := b.gear[gear]; own != "" && !slices.ContainsFunc(all, other) {
		return strings.Replace(phrase, b.gear[""], own, 1)
	}
	return phrase
}

// clause is one on a species named before: "its skull has …".
func (b *phrasebook) clause(s catalogue.Species, t catalogue.Trait, phrase string) string {
	return strings.TrimSpace(b.own(b.part(s, t)) + " " + b.bears(phrase, s))
}

// view are the phrases of a drawing; a bird has but one kind of print.
func (b *phrasebook) view(name string, s catalogue.Species) viewPhrases {
	if isBird(s) {
		name = strings.TrimPrefix(name, "front ")
	}
	if strings.HasPrefix(name, signView) {
		name = "sign"
	}
	return b.views[name]
}

// scaled sends to the scale of a drawing where size is among what decides.
func (b *phrasebook) scaled(deciding []*fact) string {
	if slices.ContainsFunc(deciding, func(f *fact) bool { return f.trait.Kind == catalogue.Range }) {
		return b.byScale
	}
	return ""
}

func isBird(s catalogue.Species) bool { return s.Values["class"].Text == "bird" }

// actual puts in words what the species shows for the trait.
func actual(s catalogue.Species, t catalogue.Trait) string { return shownAs(t, s.Values[t.ID]) }

// shownAs puts in words that an animal shows a value.
func shownAs(t catalogue.Trait, v catalogue.Value) string {
	if t.Kind == catalogue.YesNo && v.Text == "no" {
		return t.Wording.Denies
	}
	return t.Say(v)
}

// Shows is a sentence on what a species shows for a trait: "Its skull has …".
func Shows(c *catalogue.Catalogue, s catalogue.Species, t catalogue.Trait) string {
	book := phrasebooks[c.Language]
	return book.finish(sentence(book.clause(s, t, actual(s, t))))
}

// Phrase is the same without what the trait looks at: "Has …".
func Phrase(c *catalogue.Catalogue, s catalogue.Species, t catalogue.Trait) string {
	return phrasebooks[c.Language].finish(sentence(actual(s, t)))
}

// describe says facts of a species, those of one part together: "its skull has
// … and …, and its front print shows …".
func (b *phrasebook) describe(s catalogue.Species, facts []*fact) string {
	var parts []string
	phrases := map[string][]string{}
	for _, f := range facts {
		said := func(o *fact) bool { return o.trait.ID == related[f.trait.ID].finer }
		if slices.ContainsFunc(facts, said) {
			continue
		}
		p := b.own(b.part(s, f.trait))
		if phrases[p] == nil {
			parts = append(parts, p)
		}
		phrases[p] = append(phrases[p], f.holds)
	}
	var clauses []string
	for _, p := range parts {
		clauses = append(clauses, strings.TrimSpace(p+" "+b.oneVerb(phrases[p])))
	}
	return listed(clauses, b.and, b.and)
}

// oneVerb says a verb once for all phrases in a row that have it: "has a long rostrum and a
// flat profile, and lacks a crest". What is denied stands last, for a "no" would seem to
// hold for all that follows.
func (b *phrasebook) oneVerb(phrases []string) string {
	verb := func(p string) string {
		for _, v := range b.verbs {
			if strings.HasPrefix(p, v+" ") {
				return v
			}
		}
		v, _, _ := strings.Cut(p, " ")
		return v
	}
	denied := func(p string) int {
		if verb(p) == "no" || strings.HasPrefix(p, verb(p)+" no ") {
			return 1
		}
		return 0
	}
	ordered := slices.SortedStableFunc(slices.Values(phrases), func(a, b string) int { return denied(a) - denied(b) })
	var groups []string
	several := false
	for len(ordered) > 0 {
		v, n := verb(ordered[0]), 1
		for n < len(ordered) && verb(ordered[n]) == v && !slices.Contains(b.again, v) {
			ordered[n] = strings.TrimPrefix(ordered[n], v+" ")
			n++
		}
		groups, ordered, several = append(groups, b.series(ordered[:n])), ordered[n:], several || n > 1
	}
	if several {
		return listed(groups, b.and, b.and)
	}
	return b.series(groups)
}

// finished is the question as it is read, marked with its language.
func (b *phrasebook) finished(q Question) Question {
	q.Language = b.language
	q.Prompt, q.Reason = b.finish(q.Prompt), b.finish(q.Reason)
	for i := range q.Options {
		q.Options[i].Text = b.finish(q.Options[i].Text)
	}
	return q
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}

// listed joins clauses by commas, the last by a word.
func listed(clauses []string, two, last string) string {
	switch n := len(clauses); n {
	case 0:
		return ""
	case 1:
		return clauses[0]
	case 2:
		return clauses[0] + two + clauses[1]
	default:
		return strings.Join(clauses[:n-1], ", ") + last + clauses[n-1]
	}
}
