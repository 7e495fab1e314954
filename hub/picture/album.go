package picture

import (
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"log/slog"
	"slices"
	"sync"
	"time"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/refusal"
)

// mostPhotos bounds the file: 500 photos of some 500 kB each.
const mostPhotos = 500

// photosEvery is how soon a photo that another hub has taken in is seen here
// where no wake-up tells of it.
const photosEvery = 30 * time.Second

// photoKind is what a photo may be of.
type photoKind struct {
	subject string   // of the catalogue
	views   []string // that it may stand in for
	alt     string   // says no more than the prompt does, and that all along
}

// photoKinds by their names in the store. A track shows a front and a hind
// print, so it serves for both; a photo of the one print comes before it. A
// trail has none. Pelts and head gear have no drawing: photos alone show them.
var photoKinds = map[string]photoKind{
	"skull":       {"skull", []string{"skull"}, "Photograph of a skull"},
	"front print": {"track", []string{"front print"}, "Photograph of a print"},
	"hind print":  {"track", []string{"hind print"}, "Photograph of a print"},
	"track":       {"track", []string{"front print", "hind print"}, "Photograph of a track"},
	"scat":        {"scat", []string{"scat"}, "Photograph of scat"},
	"pelt":        {"animal", []string{"pelt"}, "Photograph of a pelt"},
	"head gear":   {"animal", []string{"head gear"}, "Photograph of antlers or horns"},
}

// AltOf is what a photo is described as, in English.
func AltOf(p store.PhotoInfo) string { return photoKinds[p.Subject].alt }

// album is the list of the photos in the store, so that a table need not wait
// for the disk to know what it shows. It is safe for concurrent use.
type album struct {
	store  store.Store
	change sync.Mutex // held over a change of the store and of the list

	mu   sync.Mutex
	list []store.PhotoInfo
}

func newAlbum(s store.Store, log *slog.Logger) *album {
	list, err := s.Photos(context.Background())
	if err != nil {
		// Drawings stand in: no game has to wait for this.
		log.Error("stored photos are left out", "error", err)
	}
	return &album{store: s, list: list}
}

// Follow takes notice of what other hubs add and delete, until the context ends.
func (a *album) Follow(ctx context.Context, changes <-chan struct{}) {
	for {
		select {
		case <-ctx.Done():
			return
		case _, open := <-changes:
			if !open {
				changes = nil
			}
		case <-time.After(photosEvery):
		}
		a.Refresh(ctx)
	}
}

func (a *album) Refresh(ctx context.Context) {
	a.change.Lock()
	defer a.change.Unlock()
	if list, err := a.store.Photos(ctx); err == nil || errors.Is(err, store.ErrCorrupt) {
		a.replace(list)
	}
}

// PhotoOf is the photo to show with a question: always the same one of several. None
// stands in for a drawing that bears a mark, is of two prints at one scale, or is
// an option among others.
func (a *album) PhotoOf(q game.Question) (store.PhotoInfo, bool) {
	if q.Plate.Mark != "" || q.Plate.With != "" || len(q.Plates) > 0 {
		return store.PhotoInfo{}, false
	}
	var fit, exact []store.PhotoInfo
	for _, p := range a.photos() {
		if views := photoKinds[p.Subject].views; p.Species == q.Plate.Species && slices.Contains(views, q.Plate.View) {
			fit = append(fit, p)
			if len(views) == 1 {
				exact = append(exact, p)
			}
		}
	}
	if len(exact) > 0 {
		fit = exact
	}
	if len(fit) == 0 {
		return store.PhotoInfo{}, false
	}
	return fit[crc32.ChecksumIEEE([]byte(q.ID))%uint32(len(fit))], true
}

// Specimens are the pelts and head gear that there are photos of.
func (a *album) Specimens() []questions.PlateRef {
	refs := []questions.PlateRef{}
	for _, p := range a.photos() {
		if ref := (questions.PlateRef{Species: p.Species, View: p.Subject}); slices.Contains(questions.Specimens(), p.Subject) && !slices.Contains(refs, ref) {
			refs = append(refs, ref)
		}
	}
	return refs
}

func (a *album) photos() []store.PhotoInfo {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.list
}

// replace never touches a list that was handed out.
func (a *album) replace(list []store.PhotoInfo) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.list = list
}

func (a *album) add(ctx context.Context, p store.Photo) error {
	a.change.Lock()
	defer a.change.Unlock()
	list := a.photos()
	if len(list) >= mostPhotos {
		return refusal.New(refusal.TooManyPhotos, fmt.Sprintf("This hub keeps at most %d photos: delete one first.", mostPhotos))
	}
	if err := a.store.PutPhoto(ctx, p); err != nil {
		return err
	}
	a.replace(append(slices.Clone(list), p.PhotoInfo))
	return nil
}

func (a *album) remove(ctx context.Context, id string) error {
	a.change.Lock()
	defer a.change.Unlock()
	list := a.photos()
	i := slices.IndexFunc(list, func(p store.PhotoInfo) bool { return p.ID == id })
	if i < 0 {
		return refusal.New(refusal.NoPhoto, "There is no such photo; perhaps it has been deleted already.")
	}
	if err := a.store.DeletePhoto(ctx, id); err != nil {
		return err
	}
	a.replace(slices.Delete(slices.Clone(list), i, i+1))
	return nil
}
