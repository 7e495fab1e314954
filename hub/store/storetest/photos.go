package storetest

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"

	"fieldsign/hub/store"
)

// snap is a photo whose bytes are this text.
func snap(id, text string) store.Photo {
	return store.Photo{PhotoInfo: store.PhotoInfo{ID: id, Species: "Vulpes vulpes", Subject: "skull", Credit: "Öwn \"photo\" " + id}, JPEG: []byte(text)}
}

func testPhotos(t *testing.T, s store.Store) {
	wantPhotos(t, s)
	large := snap("b", "")
	large.JPEG = bytes.Repeat([]byte("0123456789abcdef"), 1<<16)
	mustPut(t, s, large)
	mustPut(t, s, snap("a", "first"))
	mustPut(t, s, snap("a", "second")) // in place of the first
	wantPhotos(t, s, snap("a", "second"), large)
	for range 2 { // an unknown one is no error
		if err := s.DeletePhoto(t.Context(), "b"); err != nil {
			t.Fatalf("DeletePhoto: %v", err)
		}
	}
	wantPhotos(t, s, snap("a", "second"))
	_, err := s.Photo(t.Context(), "b")
	wantErr(t, err, store.ErrUnknownPhoto)
	if err := s.PutPhoto(t.Context(), snap("", "x")); err == nil {
		t.Error("a photo without an id: accepted")
	}
	wantGames(t, s)
}

func testPhotosCopied(t *testing.T, s store.Store) {
	p := snap("a", "abc")
	mustPut(t, s, p)
	p.JPEG[0] = 'X'
	got, err := s.Photo(t.Context(), "a")
	if err != nil {
		t.Fatal(err)
	}
	got.JPEG[1] = 'Y' // the caller's own
	wantPhotos(t, s, snap("a", "abc"))
}

func testPhotosCancelled(t *testing.T, s store.Store) {
	mustPut(t, s, snap("a", "abc"))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	wantErr(t, s.PutPhoto(ctx, snap("b", "x")), context.Canceled)
	wantErr(t, s.DeletePhoto(ctx, "a"), context.Canceled)
	_, err := s.Photo(ctx, "a")
	wantErr(t, err, context.Canceled)
	_, err = s.Photos(ctx)
	wantErr(t, err, context.Canceled)
	wantPhotos(t, s, snap("a", "abc"))
}

// testPhotosWhilePlaying: photos come and go beside a game with the same id.
func testPhotosWhilePlaying(t *testing.T, s store.Store) {
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			id := fmt.Sprint("p", i)
			if err := s.PutPhoto(t.Context(), snap(id, id)); err != nil {
				t.Errorf("PutPhoto: %v", err)
			}
			if err := s.Append(t.Context(), batch(id, 1, "a")); err != nil {
				t.Errorf("Append: %v", err)
			}
			if err := s.Delete(t.Context(), id); err != nil {
				t.Errorf("Delete: %v", err)
			}
		})
	}
	wg.Wait()
	var want []store.Photo
	for i := range 8 {
		id := fmt.Sprint("p", i)
		want = append(want, snap(id, id))
	}
	wantPhotos(t, s, want...)
	wantGames(t, s)
}

func mustPut(t *testing.T, s store.Store, p store.Photo) {
	t.Helper()
	if err := s.PutPhoto(t.Context(), p); err != nil {
		t.Fatalf("PutPhoto %q: %v", p.ID, err)
	}
}

// wantPhotos looks at the list and at each of its photos.
func wantPhotos(t *testing.T, s store.Store, want ...store.Photo) {
	t.Helper()
	var infos []store.PhotoInfo
	for _, p := range want {
		infos = append(infos, p.PhotoInfo)
		got, err := s.Photo(t.Context(), p.ID)
		if err != nil || got.PhotoInfo != p.PhotoInfo || !bytes.Equal(got.JPEG, p.JPEG) {
			t.Errorf("Photo(%q): %+v with %d bytes, error %v", p.ID, got.PhotoInfo, len(got.JPEG), err)
		}
	}
	if list, err := s.Photos(t.Context()); err != nil || !slices.Equal(list, infos) {
		t.Errorf("Photos: %v, error %v; want %v", list, err, infos)
	}
}
