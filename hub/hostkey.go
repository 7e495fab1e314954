package hub

import (
	"net/http"

	"fieldsign/hub/gate"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// changeKey has the old key count for nothing from now on: consoles that came
// in with it go, and have to show the new one.
func (h *Hub) changeKey(key string) {
	h.guard.SetHostKey(key)
	for _, t := range h.register.Tables() {
		t.CloseConsole(wire.CloseWrongKey, "the host key has been changed")
	}
	h.log.Info("the host key has been changed")
}

// postKey draws a new host key and answers it, to whoever has the old one.
func (h *Hub) postKey(w http.ResponseWriter, _ *http.Request) {
	if h.shared != nil {
		wire.Refuse(w, refusal.New(refusal.SharedKey, "Several hubs share this key: restart each with another FIELDSIGN_HOST_KEY."))
		return
	}
	key := gate.NewKey()
	h.changeKey(key)
	wire.Answer(w, http.StatusOK, struct {
		Key string `json:"key"`
	}{key})
}
