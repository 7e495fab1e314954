package questions

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"fieldsign/questions/catalogue"
)

// textPhrases are what the text form of a set says beside its questions.
type textPhrases struct {
	shown, key             string
	drawn, marked, besides string                     // a drawing; a part that it points at; a second drawing
	drawings               map[string]string          // by their views, but for those of signs
	rests                  map[catalogue.Basis]string // what a question rests on
}

// WriteText prints questions with their keys for people to read, each in its language.
func WriteText(out io.Writer, set []Question) {
	for i, q := range set {
		w := phrasebooks[q.Language].text
		fmt.Fprintf(out, "%d. %s\n", i+1, q.Prompt)
		if q.Plate != nil {
			fmt.Fprintf(out, w.shown, w.plate(*q.Plate, q.Language, q.Options[q.Key].Text))
		}
		key := string(rune('A' + q.Key))
		if q.Typed {
			key = q.Options[q.Key].Text
		} else {
			w.options(out, q)
		}
		fmt.Fprintf(out, w.key, key, q.Reason, q.Template, q.Difficulty, w.rests[q.Rests])
	}
}

func (w textPhrases) options(out io.Writer, q Question) {
	for i, o := range q.Options {
		text := o.Text
		if o.Plate != nil {
			text += " (" + w.plate(*o.Plate, q.Language, "") + ")"
		}
		fmt.Fprintf(out, "   %c  %s\n", 'A'+i, text)
	}
}

// plate says what is drawn; key is the text of the part that a label points at.
func (w textPhrases) plate(p PlateRef, l catalogue.Language, key string) string {
	text := fmt.Sprintf(w.drawn, w.drawing(p.View, l), p.Species)
	if p.Mark != "" {
		text += fmt.Sprintf(w.marked, strings.ToLower(key))
	}
	if p.With != "" {
		text += fmt.Sprintf(w.besides, w.drawing(p.WithView, l), p.With)
	}
	return text
}

// drawing is what the view of a drawing is called. The age of a jaw would be the key.
func (w textPhrases) drawing(view string, l catalogue.Language) string {
	jaw, _, _ := strings.Cut(view, ", ")
	return cmp.Or(SignName(view, l), w.drawings[jaw])
}
