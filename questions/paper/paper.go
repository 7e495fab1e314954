// Package paper brings plates and question sets onto paper: plates as SVG files
// for the teacher's own use, as sheets and as cards in a PDF that prints at life
// size; a set as quiz sheets, station cards, score sheets and their key. It knows
// the catalogue, the plates and the questions, and nothing of games. The same
// items and sets always give the same bytes.
package paper

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// Item is a plate and what the key says of it.
type Item struct {
	Number  int
	Species catalogue.Species
	Kind    string // skull, front print, hind print, print (a bird's), trail, scat, a kind of sign
	Plate   plate.Plate
}

type view struct {
	subject, kind string
	draw          func(catalogue.Species) (plate.Plate, bool)
}

var views = []view{
	{"skull", "skull", plate.Skull},
	{"track", "front print", func(s catalogue.Species) (plate.Plate, bool) { return plate.Track(s, "front") }},
	{"track", "hind print", func(s catalogue.Species) (plate.Plate, bool) { return plate.Track(s, "hind") }},
	{"track", "trail", plate.Trail},
	{"scat", "scat", plate.Scat},
}

// Subjects are those that have plates.
func Subjects() []string {
	return append(slices.Clone(catalogue.Usual), signs)
}

// signs are a subject whose plates are drawn by their kind.
const signs = "sign"

// Collect draws the plates of a roster for some subjects, of all its species
// or of the one named (scientifically), and numbers them. Undrawn says in
// words for which species in play the catalogue knows too little to draw.
func Collect(cat *catalogue.Catalogue, roster catalogue.Roster, subjects []string, only string) (items []Item, undrawn []string, err error) {
	for _, s := range subjects {
		if !slices.Contains(Subjects(), s) {
			return nil, nil, fmt.Errorf("there are no plates of %q: choose from %s", s, strings.Join(Subjects(), ", "))
		}
	}
	for _, e := range roster.Entries {
		s, ok := cat.Find(e.Species)
		if !ok || only != "" && s.Name != only {
			continue
		}
		for _, subject := range e.Subjects {
			if !slices.Contains(subjects, subject) {
				continue
			}
			drawn := plates(cat, s, subject)
			if len(drawn) == 0 {
				undrawn = append(undrawn, s.Vernacular+" "+subject)
			}
			items = append(items, drawn...)
		}
	}
	if len(items) == 0 {
		return nil, undrawn, fmt.Errorf("roster %s has no plate to draw for %s: choose other --subjects or another --species", roster.Name, strings.Join(subjects, ", "))
	}
	number(items)
	return items, undrawn, nil
}

func plates(cat *catalogue.Catalogue, s catalogue.Species, subject string) []Item {
	var items []Item
	if subject == signs {
		for _, view := range questions.SignViews(s) {
			if p, ok := questions.Draw(cat, questions.PlateRef{Species: s.Name, View: view}); ok {
				items = append(items, Item{Species: s, Kind: questions.SignName(view, catalogue.English), Plate: p.In(cat.Language)})
			}
		}
		return items
	}
	for _, v := range views {
		if v.subject != subject {
			continue
		}
		if p, ok := v.draw(s); ok {
			items = append(items, Item{Species: s, Kind: kindOf(s, v.kind), Plate: p.In(cat.Language)})
		}
	}
	return items
}

// kindOf spares birds the word "front": they have but one kind of foot.
func kindOf(s catalogue.Species, kind string) string {
	if s.Values["foot_type"].Text == "bird foot" {
		return strings.TrimPrefix(kind, "front ")
	}
	return kind
}

func number(items []Item) {
	for i := range items {
		items[i].Number = i + 1
	}
}

// Shuffled numbers the items anew in an order drawn from the seed, so that
// neighbours say nothing of each other.
func Shuffled(items []Item, seed uint64) []Item {
	items = slices.Clone(items)
	rng := rand.New(rand.NewPCG(seed, 0x7061706572))
	rng.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
	number(items)
	return items
}
