package wire

import (
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/refusal"
)

// An error is the same over HTTP and in a frame, wherever it comes from.
func TestOneErrorIsToldInOneWay(t *testing.T) {
	for _, c := range []struct {
		err    error
		status int
		code   string
	}{
		{fmt.Errorf("game x: %w", store.ErrUnknownGame), http.StatusNotFound, "unknown_code"},
		{store.ErrUnknownSeason, http.StatusNotFound, "unknown_season"},
		{fmt.Errorf("%w: for now", store.ErrUnavailable), http.StatusServiceUnavailable, "not_stored"},
		{fmt.Errorf("event 3: %w", game.ErrMisfit), http.StatusInternalServerError, "set_aside"},
		{refusal.New(refusal.BadPlan, "why"), http.StatusUnprocessableEntity, "bad_plan"},
		{fmt.Errorf("wrapped: %w", refusal.New(refusal.NotNow, "why")), http.StatusConflict, "not_now"},
		{errors.New("the disk is on fire"), http.StatusInternalServerError, "failed"},
	} {
		w := httptest.NewRecorder()
		Fail(w, slog.New(slog.NewTextHandler(io.Discard, nil)), c.err)
		frame := AsRefused("7", c.err)
		if w.Code != c.status || frame.Code != c.code || frame.ID != "7" || !strings.Contains(w.Body.String(), `"code":"`+c.code+`"`) || strings.Contains(w.Body.String(), "fire") {
			t.Errorf("%v: %d %s, and the frame %+v", c.err, w.Code, w.Body, frame)
		}
	}
}

func TestEachKindHasAStatus(t *testing.T) {
	for kind := refusal.Conflict; kind <= refusal.Internal; kind++ {
		if statuses[kind] < 400 {
			t.Errorf("kind %d has the status %d", kind, statuses[kind])
		}
	}
}
