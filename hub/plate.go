package hub

import (
	"crypto/hmac"
	"net/http"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
	"fieldsign/refusal"
	"fieldsign/static"
)

// A plate, drawing or photo, is served while its question is shown, under an id
// that tells nothing and that nobody can work out beforehand. Both have the same
// address, so that it doesn't tell either which of them is coming. A drawing is
// by a hand of its own too, so that nobody finds it by its bytes among those of
// the practice page, or of another question.

// drawAhead draws for the next question while the table has time for it, so
// that its opening doesn't wait for the pencil.
func (t *table) drawAhead() {
	if t.state.Phase == game.Asking || t.state.Phase == game.Buzzed || len(t.inbox) > 0 {
		return
	}
	if t.state.Turn == 0 { // of a station round: all stations open at once
		for _, q := range t.ofStations() {
			t.drawn(q, 0)
		}
	}
	if q, ok := nextQuestion(&t.state); ok {
		for i := range picture.PlatesOf(q) {
			t.drawn(q, i)
		}
	}
}

// drawn is a plate of a question, as it is shown in this game.
func (t *table) drawn(q game.Question, place int) (plate.Plate, bool) {
	_, hand := t.hub.pictures.Sealed(t.code, q, place)
	return t.hub.pictures.Draw(picture.PlatesOf(q)[place], hand)
}

// plated completes the shown question with its plates' addresses and descriptions.
func (t *table) plated(v wire.State) wire.State {
	_, q, ok := t.state.Current()
	if !ok || v.Question == nil {
		return v
	}
	v.Reveal = t.taught(v.Reveal, *q)
	if len(picture.PlatesOf(*q)) == 0 {
		return v
	}
	question := *v.Question
	if len(q.Plates) > 0 {
		question.Plates = t.options(*q)
	} else {
		question.Plate, question.Alt, question.Credit = t.picture(*q)
	}
	if v.Phase != game.Revealed {
		question.Credit = ""
	}
	v.Question = &question
	return v
}

// picture is a question's photo or drawing: where it is, what is seen on it,
// and whose photo it is, which may tell the key. All are empty where there is none.
func (t *table) picture(q game.Question) (address, alt, credit string) {
	if len(picture.PlatesOf(q)) == 0 {
		return "", "", ""
	}
	if taken, photographed := t.hub.pictures.PhotoOf(q); photographed {
		return t.address(q, 0), plate.Said(picture.AltOf(taken), t.language()), taken.Credit
	}
	if drawn, found := t.drawn(q, 0); found {
		return t.address(q, 0), drawn.AltIn(t.language()), ""
	}
	return "", "", ""
}

// options are the drawings that stand for options. No photo stands in for one
// of them: among drawings it would stand out.
func (t *table) options(q game.Question) []wire.PlateView {
	views := make([]wire.PlateView, len(q.Plates))
	for i := range q.Plates {
		if drawn, found := t.drawn(q, i); found {
			views[i] = wire.PlateView{Plate: t.address(q, i), Alt: drawn.AltIn(t.language())}
		}
	}
	return views
}

// language is that of the game's questions.
func (t *table) language() catalogue.Language { return catalogue.Language(t.state.Plan.Language) }

func (t *table) address(q game.Question, place int) string {
	id, _ := t.hub.pictures.Sealed(t.code, q, place)
	return "/plate?game=" + t.code + "&id=" + id // neither needs escaping
}

func (h *Hub) plate(w http.ResponseWriter, r *http.Request) {
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table) { h.servePlateOf(t, w, r) })
}

func (h *Hub) servePlateOf(t *table, w http.ResponseWriter, r *http.Request) {
	if t == nil {
		wire.Refuse(w, store.ErrUnknownGame)
		return
	}
	var asked game.Question
	var drawn plate.Plate
	var found bool
	t.do(func() { asked, drawn, found = t.shownPlate(r.URL.Query().Get("id")) })
	if taken, ok := h.pictures.PhotoOf(asked); found && ok && h.pictures.ServePhoto(w, r, taken) {
		return
	}
	if !found {
		wire.Refuse(w, refusal.New(refusal.NoPlate, "There is no such plate, or its question is not open."))
		return
	}
	picture.ServePlate(w, static.SVG, []byte(drawn.SVG))
}

// shownPlate finds a plate of the question that is shown now, or of a station.
func (t *table) shownPlate(id string) (game.Question, plate.Plate, bool) {
	for _, q := range t.ofStations() {
		if t.isAt(id, q, 0) {
			drawn, ok := t.drawn(q, 0)
			return q, drawn, ok
		}
	}
	_, q, current := t.state.Current()
	if !current || t.public().Question == nil {
		return *q, plate.Plate{}, false
	}
	if drawn, ok := t.lessonPlate(*q, id); ok {
		return game.Question{}, drawn, true
	}
	for i := range picture.PlatesOf(*q) {
		if t.isAt(id, *q, i) {
			drawn, ok := t.drawn(*q, i)
			return *q, drawn, ok
		}
	}
	return *q, plate.Plate{}, false
}

func (t *table) isAt(id string, q game.Question, place int) bool {
	want, _ := t.hub.pictures.Sealed(t.code, q, place)
	return hmac.Equal([]byte(id), []byte(want))
}
