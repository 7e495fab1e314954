package hub

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/plate"
)

// A plate, drawing or photo, is served while its question is shown, under an id
// that tells nothing and that nobody can work out beforehand. Both have the same
// address, so that it doesn't tell either which of them is coming.

func (h *Hub) plateID(code string, q game.Question) string {
	mac := hmac.New(sha256.New, h.plateKey)
	mac.Write([]byte(code + "\n" + q.ID))
	return hex.EncodeToString(mac.Sum(nil)[:16])
}

// drawing is a plate as the table last drew it.
type drawing struct {
	of    game.Plate
	plate plate.Plate
	drawn bool
}

// draw draws a plate once for all that show it or ask for it in turn.
func (t *table) draw(p game.Plate) (plate.Plate, bool) {
	if t.drawing.of != p {
		drawn, ok := questions.Draw(t.hub.planner.catalogue, questions.PlateRef{Species: p.Species, View: p.View, Mark: p.Mark})
		t.drawing = drawing{p, drawn, ok}
	}
	return t.drawing.plate, t.drawing.drawn
}

// plated completes the shown question with its plate's address and description.
func (t *table) plated(v state) state {
	_, q, ok := t.state.Current()
	if !ok || v.Question == nil || q.Plate == (game.Plate{}) {
		return v
	}
	question := *v.Question
	if taken, found := t.hub.photos.of(q); found {
		question.Alt = photoAlt[taken.Subject]
		if v.Phase == game.Revealed {
			question.Credit = taken.Credit
		}
	} else if drawn, found := t.draw(q.Plate); found {
		question.Alt = drawn.Alt
	} else {
		return v
	}
	question.Plate = "/plate?" + url.Values{"game": {t.code}, "id": {t.hub.plateID(t.code, q)}}.Encode()
	v.Question = &question
	return v
}

func (h *Hub) plate(w http.ResponseWriter, r *http.Request) {
	t := h.table(cleanCode(r.URL.Query().Get("game")))
	if t == nil {
		unknownCode(w)
		return
	}
	var asked game.Question
	var drawn plate.Plate
	var found, ok bool
	t.do(func() {
		_, q, current := t.state.Current()
		shown := public(&t.state, t.now()).Question != nil
		if current && shown && hmac.Equal([]byte(r.URL.Query().Get("id")), []byte(h.plateID(t.code, q))) {
			asked, found = q, true
			drawn, ok = t.draw(q.Plate)
		}
	})
	if taken, ok := h.photos.of(asked); found && ok && h.servePhoto(w, r, taken) {
		return
	}
	if !ok {
		answer(w, http.StatusNotFound, refused{"refused", "", "no_plate", "There is no such plate, or its question is not open."})
		return
	}
	servePlate(w, "image/svg+xml", []byte(drawn.SVG))
}

// servePhoto tells whether it could: the drawing stands in for a photo that is
// damaged, or was deleted a moment ago.
func (h *Hub) servePhoto(w http.ResponseWriter, r *http.Request, info store.PhotoInfo) bool {
	taken, err := h.store.Photo(r.Context(), info.ID)
	if err != nil {
		h.log.Warn("a photo can't be shown", "photo", info.ID, "error", err)
		return false
	}
	servePlate(w, "image/jpeg", taken.JPEG)
	return true
}

func servePlate(w http.ResponseWriter, kind string, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-store")
	w.Write(data)
}
