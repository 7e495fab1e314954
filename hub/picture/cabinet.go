// Package picture has what is shown with a question: the catalogue's drawings and
// the teacher's photos, each under an address that tells nothing.
package picture

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"log/slog"
	"net/http"
	"sync"

	"fieldsign/game"
	"fieldsign/hub/codes"
	"fieldsign/hub/once"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// Sealed says under which id a plate is served, and whose hand draws it.
func (c *Cabinet) Sealed(code string, q game.Question, place int) (id string, hand plate.Hand) {
	mac := c.mac.Get().(hash.Hash)
	defer c.mac.Put(mac)
	mac.Reset()
	fmt.Fprintf(mac, "%s\n%s\n%d", code, q.ID, place)
	sum := mac.Sum(nil)
	return hex.EncodeToString(sum[:16]), plate.Hand(binary.BigEndian.Uint64(sum[16:]))
}

// Cabinet has the pictures of a hub: its drawings, and the teacher's photos.
// It is safe for concurrent use.
type Cabinet struct {
	*album
	*drawings
	mac sync.Pool // of hash.Hash: one keyed for the ids is dear to make
	log *slog.Logger
}

func New(s store.Store, c *catalogue.Catalogue, log *slog.Logger) *Cabinet {
	key := []byte(codes.Token())
	return &Cabinet{album: newAlbum(s, log), drawings: newDrawings(c), log: log, mac: sync.Pool{New: func() any { return hmac.New(sha256.New, key) }}}
}

// mostDrawings is how many the hub keeps, of some 15 kB each: a hundred games
// have as many on show and drawn ahead.
const mostDrawings = 1024

// drawings keeps plates, so that each is drawn once for all phones that show
// it. It is safe for concurrent use.
type drawings struct {
	catalogue *catalogue.Catalogue
	kept      once.Map[handed, drawing]
}

// handed is a plate as one question's hand draws it.
type handed struct {
	game.Plate
	hand plate.Hand
}

// drawing is a plate, if there is one.
type drawing struct {
	plate.Plate
	ok bool
}

func newDrawings(c *catalogue.Catalogue) *drawings {
	return &drawings{catalogue: c, kept: once.Map[handed, drawing]{Most: mostDrawings}}
}

func (d *drawings) Draw(p game.Plate, hand plate.Hand) (plate.Plate, bool) {
	kept, _ := d.kept.Get(handed{p, hand}, func() (drawing, error) {
		sheet, ok := questions.DrawBy(hand, d.catalogue, questions.PlateRef{Species: p.Species, View: p.View, Mark: p.Mark, Frame: p.Frame, With: p.With, WithView: p.WithView})
		return drawing{sheet, ok}, nil
	})
	return kept.Plate, kept.ok
}

// DrawOf draws the plates of a question, each by the hand for its place; options stand in
// boxes of one size. It is false where one can't be drawn.
func (d *drawings) DrawOf(q game.Question, hand func(place int) plate.Hand) ([]plate.Plate, bool) {
	var all []plate.Plate
	for i, p := range PlatesOf(q) {
		drawn, ok := d.Draw(p, hand(i))
		if !ok {
			return nil, false
		}
		all = append(all, drawn)
	}
	if len(q.Plates) > 0 {
		all = plate.InOneBox(all)
	}
	return all, true
}

// PlatesOf are the plates of a question: its own, or its options'.
func PlatesOf(q game.Question) []game.Plate {
	if len(q.Plates) == 0 && q.Plate != (game.Plate{}) {
		return []game.Plate{q.Plate}
	}
	return q.Plates
}

// ServePhoto tells whether it could: the drawing stands in for a photo that is
// damaged, or was deleted a moment ago.
func (c *Cabinet) ServePhoto(w http.ResponseWriter, r *http.Request, info store.PhotoInfo) bool {
	taken, err := c.store.Photo(r.Context(), info.ID)
	if err != nil {
		c.log.Warn("a photo can't be shown", "photo", info.ID, "error", err)
		return false
	}
	ServePlate(w, "image/jpeg", taken.JPEG)
	return true
}

func ServePlate(w http.ResponseWriter, kind string, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-store")
	w.Write(data)
}
