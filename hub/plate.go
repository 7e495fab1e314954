package hub

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"

	"fieldsign/game"
	"fieldsign/questions"
	"fieldsign/questions/plate"
)

// A plate is served while its question is shown, under an id that tells
// nothing and that nobody can work out beforehand.

func (h *Hub) plateID(code string, q game.Question) string {
	mac := hmac.New(sha256.New, h.plateKey)
	mac.Write([]byte(code + "\n" + q.ID))
	return hex.EncodeToString(mac.Sum(nil)[:16])
}

func (h *Hub) draw(p game.Plate) (plate.Plate, bool) {
	return questions.Draw(h.planner.catalogue, questions.PlateRef{Species: p.Species, View: p.View})
}

// plated completes the shown question with its plate's address and description.
func (t *table) plated(v state) state {
	_, q, ok := t.state.Current()
	if !ok || v.Question == nil || q.Plate == (game.Plate{}) {
		return v
	}
	drawn, ok := t.hub.draw(q.Plate)
	if !ok {
		return v
	}
	question := *v.Question
	question.Plate = "/plate.svg?" + url.Values{"game": {t.code}, "id": {t.hub.plateID(t.code, q)}}.Encode()
	question.Alt = drawn.Alt
	v.Question = &question
	return v
}

func (h *Hub) plate(w http.ResponseWriter, r *http.Request) {
	t := h.table(cleanCode(r.URL.Query().Get("game")))
	if t == nil {
		unknownCode(w)
		return
	}
	var drawn plate.Plate
	var found bool
	t.do(func() {
		_, q, ok := t.state.Current()
		shown := public(&t.state, t.now()).Question != nil
		if ok && shown && hmac.Equal([]byte(r.URL.Query().Get("id")), []byte(h.plateID(t.code, q))) {
			drawn, found = h.draw(q.Plate)
		}
	})
	if !found {
		answer(w, http.StatusNotFound, refused{"refused", "", "no_plate", "There is no such plate, or its question is not open."})
		return
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "no-store")
	w.Write([]byte(drawn.SVG))
}
