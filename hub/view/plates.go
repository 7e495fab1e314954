package view

import (
	"crypto/hmac"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// A plate, drawing or photo, is served from when its question is shown until the next
// is revealed: a phone on a slow network asks late. Its id tells nothing, and nobody
// can work it out beforehand. Both have the same address, so that it doesn't tell
// either which of them is coming. A drawing is by a hand of its own too, so that
// nobody finds it by its bytes among those of the practice page, or of another
// question.

// DrawAhead draws for the next question, so that its opening doesn't wait for the
// pencil.
func (g *Game) DrawAhead() {
	if g.state.Turn == 0 { // of a station round: all stations open at once
		for _, q := range g.ofStations() {
			g.drawn(q)
		}
	}
	if q, ok := nextQuestion(g.state); ok {
		g.drawn(q)
	}
}

// drawn are the plates of a question, as they are shown in this game: options in boxes
// of one size. It is false where one can't be drawn.
func (g *Game) drawn(q game.Question) ([]plate.Plate, bool) {
	return g.pictures.DrawOf(q, func(place int) plate.Hand {
		_, hand := g.pictures.Sealed(g.state.Code, q, place)
		return hand
	})
}

// plated completes the shown question with its plates' addresses and descriptions.
func (g *Game) plated(v wire.State) wire.State {
	_, q, ok := g.state.Current()
	if !ok || v.Question == nil {
		return v
	}
	v.Reveal = g.taught(v.Reveal, *q)
	if len(picture.PlatesOf(*q)) == 0 {
		return v
	}
	question := *v.Question
	if len(q.Plates) > 0 {
		question.Plates = g.options(*q)
	} else {
		question.Plate, question.Alt, question.Credit = g.picture(*q)
	}
	if v.Phase != game.Revealed {
		question.Credit = ""
	}
	v.Question = &question
	return v
}

// picture is a question's photo or drawing: where it is, what is seen on it,
// and whose photo it is, which may tell the key. All are empty where there is none.
func (g *Game) picture(q game.Question) (address, alt, credit string) {
	if len(picture.PlatesOf(q)) == 0 {
		return "", "", ""
	}
	if taken, photographed := g.pictures.PhotoOf(q); photographed {
		return g.address(q, 0), plate.Said(picture.AltOf(taken), g.language()), taken.Credit
	}
	if drawn, found := g.drawn(q); found {
		return g.address(q, 0), drawn[0].AltIn(g.language()), ""
	}
	return "", "", ""
}

// options are the drawings that stand for options. No photo stands in for one
// of them: among drawings it would stand out.
func (g *Game) options(q game.Question) []wire.PlateView {
	views := make([]wire.PlateView, len(q.Plates))
	drawn, _ := g.drawn(q)
	for i, p := range drawn {
		views[i] = wire.PlateView{Plate: g.address(q, i), Alt: p.AltIn(g.language())}
	}
	return views
}

// language is that of the game's questions.
func (g *Game) language() catalogue.Language { return catalogue.Language(g.state.Plan.Language) }

func (g *Game) address(q game.Question, place int) string {
	id, _ := g.pictures.Sealed(g.state.Code, q, place)
	return "/plate?game=" + g.state.Code + "&id=" + id // neither needs escaping
}

// Plate finds a plate of the question that is shown now or was revealed last, or of a
// station, with its words in the game's language. Where it is the question's own, a
// photo may stand in for it.
func (g *Game) Plate(id string) (game.Question, plate.Plate, bool) {
	q, drawn, found := g.find(id)
	return q, drawn.In(g.language()), found
}

func (g *Game) find(id string) (game.Question, plate.Plate, bool) {
	for _, q := range g.ofStations() {
		if g.isAt(id, q, 0) {
			return g.at(q, 0)
		}
	}
	if drawn, ok := g.lessonPlate(id); ok {
		return game.Question{}, drawn, true
	}
	shown := []game.Question{g.lesson.of}
	if _, q, current := g.state.Current(); current && isOpen(g.state.Phase) {
		shown = append(shown, *q)
	}
	for _, q := range shown {
		for i := range picture.PlatesOf(q) {
			if g.isAt(id, q, i) {
				return g.at(q, i)
			}
		}
	}
	return game.Question{}, plate.Plate{}, false
}

func (g *Game) at(q game.Question, place int) (game.Question, plate.Plate, bool) {
	drawn, ok := g.drawn(q)
	if !ok {
		return q, plate.Plate{}, false
	}
	return q, drawn[place], true
}

func (g *Game) isAt(id string, q game.Question, place int) bool {
	want, _ := g.pictures.Sealed(g.state.Code, q, place)
	return hmac.Equal([]byte(id), []byte(want))
}
