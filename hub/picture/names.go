package picture

import (
	"net/http"
	"path"
	"slices"
	"strings"
	"unicode"

	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// What a photo shows, guessed from its file's name, such as red-fox_skull_2.jpg
// or zorro rojo huella trasera.png. It is a suggestion: the host sends it back
// with the photo, as it stands or changed.

// mostNames is how many are guessed at once.
const mostNames = 500

type photoGuess struct {
	File    string `json:"file"`
	Species string `json:"species"` // by its usual name; empty where none is in the name
	Subject string `json:"subject"` // likewise
}

func (c *Cabinet) PostPhotoNames(w http.ResponseWriter, r *http.Request) {
	var wish struct{ Files []string }
	if !wire.ReadBody(w, r, &wish) {
		return
	}
	if len(wish.Files) > mostNames {
		wire.Refuse(w, refusal.New(refusal.BadPhoto, "Choose fewer files at once: at most 500."))
		return
	}
	guesses := []photoGuess{}
	for _, file := range wish.Files {
		guesses = append(guesses, c.guess(file))
	}
	wire.Answer(w, http.StatusOK, guesses)
}

// partWords are words of file names, in English and Spanish, by the kind of
// photo that they speak for. The first that fits wins.
var partWords = []struct {
	subject string
	all     [][]string // of each list one
}{
	{"skull", [][]string{strings.Fields("skull skulls craneo cráneo")}},
	{"hind print", [][]string{strings.Fields("hind rear back trasera trasero"), strings.Fields("print foot track paw huella pata")}},
	{"front print", [][]string{strings.Fields("front fore delantera delantero"), strings.Fields("print foot track paw huella pata")}},
	{"front print", [][]string{strings.Fields("print huella")}},
	{"track", [][]string{strings.Fields("track tracks prints huellas")}},
	{"scat", [][]string{strings.Fields("scat scats dropping droppings pellet pellets excreta excretas excremento")}},
	{"pelt", [][]string{strings.Fields("pelt pelts hide hides fur furs skin skins piel pieles")}},
	{"head gear", [][]string{strings.Fields("antler antlers horn horns asta astas cuerno cuernos cornamenta")}},
}

const longestAnimal = 5 // words

func (c *Cabinet) guess(file string) photoGuess {
	g := photoGuess{File: file}
	words := wordsOf(file)
	for n := min(longestAnimal, len(words)); n > 0 && g.Species == ""; n-- {
		for at := 0; at+n <= len(words) && g.Species == ""; at++ {
			g.Species = c.animalCalled(words[at : at+n])
		}
	}
	for _, p := range partWords {
		if g.Subject == "" && !slices.ContainsFunc(p.all, func(any []string) bool {
			return !slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
		}) {
			g.Subject = p.subject
		}
	}
	return g
}

// animalCalled is the one animal that has this name among all of its own, or
// none: a guess is never made between two.
func (c *Cabinet) animalCalled(words []string) string {
	said := strings.Join(words, " ")
	var found []string
	for _, s := range c.catalogue.Species {
		names := slices.Concat([]string{s.Name, s.Vernacular, s.Spanish}, s.OtherNames, s.OtherSpanish)
		if slices.ContainsFunc(names, func(name string) bool { return strings.Join(wordsOf(name), " ") == said }) {
			found = append(found, s.Vernacular)
		}
	}
	if len(found) != 1 {
		return ""
	}
	return found[0]
}

// wordsOf are a name's words in small letters, without digits and its ending.
func wordsOf(file string) []string {
	file = path.Base(strings.ReplaceAll(file, `\`, "/"))
	if end := path.Ext(file); len(end) <= len(".jpeg") {
		file = strings.TrimSuffix(file, end)
	}
	return strings.FieldsFunc(strings.ToLower(file), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' })
}
