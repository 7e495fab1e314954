package wire

import (
	"errors"
	"log/slog"
	"net/http"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/refusal"
)

// The one place where an error becomes what people are known, over HTTP or in a frame.

var setAside = refusal.New(refusal.SetAside, "What is stored of this is damaged or of another version, so it is set aside. All else goes on: see the hub's log.")

// known are the errors of the store and of the rules as people are told of them.
var known = []struct {
	err error
	as  refusal.Refusal
}{
	{game.ErrMisfit, setAside},
	{store.ErrCorrupt, setAside},
	{store.ErrUnknownGame, refusal.New(refusal.UnknownCode, "No game has that join code. It is two words and two digits, as on the board.")},
	{store.ErrUnknownSeason, refusal.New(refusal.UnknownSeason, "No season has that name, or it is not open.")},
	{store.ErrUnavailable, refusal.New(refusal.NotStored, "The hub can't reach its store, so this may not have been kept. Play goes on by itself: then try again.")},
}

func refusalOf(err error) refusal.Refusal {
	for _, t := range known {
		if errors.Is(err, t.err) {
			return t.as
		}
	}
	var r refusal.Refusal
	if errors.As(err, &r) {
		return r
	}
	return refusal.New(refusal.Failed, "The hub could not do this, so nothing was changed. Try again; if it goes on, look at the hub's log.")
}

// AsRefused is the frame that says why something sent under an id had no effect.
func AsRefused(id string, err error) Refused {
	r := refusalOf(err)
	return Refused{"refused", id, string(r.Code), r.Message}
}

// statuses are the kinds of refusals in HTTP.
var statuses = map[refusal.Kind]int{
	refusal.Conflict:    http.StatusConflict,
	refusal.Malformed:   http.StatusBadRequest,
	refusal.Invalid:     http.StatusUnprocessableEntity,
	refusal.TooLarge:    http.StatusRequestEntityTooLarge,
	refusal.WrongType:   http.StatusUnsupportedMediaType,
	refusal.Forbidden:   http.StatusForbidden,
	refusal.Missing:     http.StatusNotFound,
	refusal.Late:        http.StatusRequestTimeout,
	refusal.TooMany:     http.StatusTooManyRequests,
	refusal.Unavailable: http.StatusServiceUnavailable,
	refusal.Internal:    http.StatusInternalServerError,
}

// Refuse answers a request with an error, as the frame of a socket would say it.
func Refuse(w http.ResponseWriter, err error) {
	Answer(w, statuses[refusalOf(err).Kind], AsRefused("", err))
}

// Fail refuses, and logs what is the hub's own fault.
func Fail(w http.ResponseWriter, log *slog.Logger, err error) {
	if r := refusalOf(err); r.Kind == refusal.Internal || r.Kind == refusal.Unavailable {
		log.Error("a request failed", "error", err)
	}
	Refuse(w, err)
}
