package practice

import (
	"encoding/json"

	"fieldsign/hub/picture"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// exerciseLesson is what an answer teaches; its plates are of the file.
type exerciseLesson struct {
	Parts    []string       `json:"parts,omitempty"`
	Lines    bool           `json:"lines,omitempty"`
	Recalled bool           `json:"recalled,omitempty"`
	Sides    []exerciseSide `json:"sides"`
}

type exerciseSide struct {
	Animal string `json:"animal"`
	Latin  string `json:"latin"`
	Says   string `json:"says,omitempty"`
	Plate  *int   `json:"plate,omitempty"`
}

// teach adds what the answers teach, by the drawings that are in the file and
// those for which there is room besides. Each lesson is in the file once.
func (a *Practice) teach(file *exerciseFile, words *catalogue.Catalogue, asked []questions.Question, drawings *picture.Folder) {
	places := map[string]int{}
	sheets := map[questions.PlateRef]*int{}
	for i, q := range asked {
		for option := range q.Options {
			taken := option
			if option == q.Key {
				taken = -1
			}
			found, ok := questions.Teach(words, q, taken)
			if !ok {
				break
			}
			text, _ := json.Marshal(a.lesson(found, words.Language, sheets, drawings)) // strings and numbers
			place, known := places[string(text)]
			if !known {
				place = len(file.Lessons)
				places[string(text)] = place
				file.Lessons = append(file.Lessons, text)
			}
			file.Questions[i].Lessons = append(file.Questions[i].Lessons, place)
		}
	}
}

// lesson takes a drawing in where there is room for it; sheets are those that
// were asked for before.
func (a *Practice) lesson(found questions.Lesson, language catalogue.Language, sheets map[questions.PlateRef]*int, drawings *picture.Folder) exerciseLesson {
	out := exerciseLesson{Parts: found.Parts, Lines: found.Lines, Recalled: found.Recalled}
	for _, s := range found.Sides {
		side := exerciseSide{Animal: s.Species.Vernacular, Latin: s.Species.Name, Says: s.Says}
		if s.Plate != nil {
			at, known := sheets[*s.Plate]
			if !known {
				drawn, _ := questions.Draw(a.planner.Catalogue, *s.Plate)
				if places, ok := drawings.Put([]picture.Sheet{picture.SheetOf(drawn, language)}); ok {
					at = &places[0]
				}
				sheets[*s.Plate] = at
			}
			side.Plate = at
		}
		out.Sides = append(out.Sides, side)
	}
	return out
}
