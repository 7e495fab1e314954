package picture

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fieldsign/hub/codes"
	"fieldsign/hub/picture/photo"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/refusal"
)

const (
	uploadTime = 2 * time.Minute
	mostCredit = 80 // letters
)

type photoList struct {
	Photos  []photoView   `json:"photos"`
	Species []speciesView `json:"species"` // that a photo can be of
}

type photoView struct {
	store.PhotoInfo
	Vernacular string `json:"vernacular"`
}

type speciesView struct {
	Name       string `json:"name"`
	Vernacular string `json:"vernacular"`
}

// PostPhoto takes the file in the body; what it shows is in the query.
func (c *Cabinet) PostPhoto(w http.ResponseWriter, r *http.Request) {
	said := r.URL.Query() // never FormValue, which may read the body
	info, err := c.described(said.Get("species"), said.Get("subject"), said.Get("credit"))
	if err != nil {
		wire.Fail(w, c.log, err)
		return
	}
	image, err := received(w, r)
	if err == nil {
		err = c.add(r.Context(), store.Photo{PhotoInfo: info, JPEG: image.JPEG})
	}
	if err != nil {
		wire.Fail(w, c.log, err)
		return
	}
	wire.Answer(w, http.StatusCreated, c.viewed(info))
}

// received cleans the body. One that trickles in must not hold the connection
// for ever.
func received(w http.ResponseWriter, r *http.Request) (photo.Image, error) {
	http.NewResponseController(w).SetReadDeadline(time.Now().Add(uploadTime))
	image, err := photo.Clean(http.MaxBytesReader(w, r.Body, photo.MaxBytes+1))
	var file refusal.Refusal
	if err != nil && !errors.As(err, &file) {
		return image, refusal.New(refusal.NotArrived, fmt.Sprintf("The photo did not arrive whole within %.0f minutes: send it again, nearer to the hub or as a smaller file.", uploadTime.Minutes()))
	}
	return image, err
}

func (c *Cabinet) GetPhotos(w http.ResponseWriter, _ *http.Request) {
	list := photoList{[]photoView{}, []speciesView{}}
	for _, p := range c.photos() {
		list.Photos = append(list.Photos, c.viewed(p))
	}
	slices.SortStableFunc(list.Photos, func(a, b photoView) int {
		return cmp.Or(cmp.Compare(a.Vernacular, b.Vernacular), cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.Credit, b.Credit))
	})
	for _, s := range c.catalogue.Species {
		list.Species = append(list.Species, speciesView{s.Name, s.Vernacular})
	}
	wire.Answer(w, http.StatusOK, list)
}

func (c *Cabinet) DeletePhoto(w http.ResponseWriter, r *http.Request) {
	if err := c.remove(r.Context(), r.PathValue("id")); err != nil {
		wire.Fail(w, c.log, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

func (c *Cabinet) viewed(p store.PhotoInfo) photoView {
	s, _ := c.catalogue.Find(p.Species)
	return photoView{p, cmp.Or(s.Vernacular, p.Species)}
}

// described checks what the host says of a photo, and gives it an id.
func (c *Cabinet) described(species, subject, credit string) (store.PhotoInfo, error) {
	s, ok := c.named(strings.TrimSpace(species))
	if !ok {
		return store.PhotoInfo{}, refusal.New(refusal.BadPhoto, fmt.Sprintf("No animal of the catalogue is called %s: choose one from the list.", refusal.Quote(species)))
	}
	kind, known := photoKinds[subject]
	if !known || !s.Has(kind.subject) {
		return store.PhotoInfo{}, refusal.New(refusal.BadPhoto, fmt.Sprintf("For %s the catalogue has: %s. No question would show a photo of anything else.", s.Vernacular, strings.Join(s.Subjects, ", ")))
	}
	drawn := func(view string) bool {
		_, ok := questions.Draw(c.catalogue, questions.PlateRef{Species: s.Name, View: view})
		return ok
	}
	if !slices.ContainsFunc(kind.views, drawn) {
		return store.PhotoInfo{}, refusal.New(refusal.BadPhoto, fmt.Sprintf("No question is asked on the %s of %s: it has none, or the catalogue knows too little of it. Choose another subject.", subject, s.Vernacular))
	}
	credit = strings.TrimSpace(credit)
	if n := utf8.RuneCountInString(credit); n < 1 || n > mostCredit || !utf8.ValidString(credit) || strings.ContainsFunc(credit, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return store.PhotoInfo{}, refusal.New(refusal.BadPhoto, fmt.Sprintf("The credit says who took the photo, in 1 to %d letters on one line; \"own photo\" will do.", mostCredit))
	}
	return store.PhotoInfo{ID: codes.Token(), Species: s.Name, Subject: subject, Credit: credit}, nil
}

// named finds a species by its scientific or its usual name, in English or Spanish.
func (c *Cabinet) named(name string) (catalogue.Species, bool) {
	for _, s := range c.catalogue.Species {
		if strings.EqualFold(name, s.Name) || strings.EqualFold(name, s.Vernacular) || s.Spanish != "" && strings.EqualFold(name, s.Spanish) {
			return s, true
		}
	}
	return catalogue.Species{}, false
}
