package redis

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// What seals the two parts of a photo, so that one is never taken for the other.
const (
	infoSeq = 0
	jpegSeq = 1
)

// PutPhoto writes the photo, as one hash.
func (s *shared) PutPhoto(ctx context.Context, p store.Photo) error {
	if err := checkID("a photo", p.ID); err != nil {
		return err
	}
	if len(p.JPEG) > maxPhoto {
		return fmt.Errorf("store: photo %q has %d bytes, more than %d", p.ID, len(p.JPEG), maxPhoto)
	}
	data, err := json.Marshal(p.PhotoInfo)
	if err != nil {
		return fmt.Errorf("store: photo %q: %w", p.ID, err)
	}
	if err := s.photos.mark(ctx, p.ID); err != nil {
		return err
	}
	err = s.bounded(ctx, func(ctx context.Context) error {
		return s.client.HSet(ctx, s.photoKey(p.ID),
			"info", seal.Close(p.ID, infoSeq, data),
			"jpeg", seal.Close(p.ID, jpegSeq, p.JPEG)).Err()
	})
	if err == nil {
		s.wakePhotos(ctx)
	}
	return err
}

// Photos lists the photos that can be read, and joins an error for each other.
func (s *shared) Photos(ctx context.Context) ([]store.PhotoInfo, error) {
	var list []store.PhotoInfo
	var faults []error
	err := s.photos.each(ctx, s.photoKey, []string{"info"}, func(id string, values []any) bool {
		value, ok := values[0].(string)
		if !ok {
			return false
		}
		info, err := photoInfo(id, value)
		if err != nil {
			faults = append(faults, err)
			return true
		}
		list = append(list, info)
		return true
	})
	return list, errors.Join(append(faults, err)...)
}

// Photo returns a photo with its bytes.
func (s *shared) Photo(ctx context.Context, id string) (store.Photo, error) {
	var parts []any
	err := s.bounded(ctx, func(ctx context.Context) (err error) {
		parts, err = s.client.HMGet(ctx, s.photoKey(id), "info", "jpeg").Result()
		return err
	})
	if err != nil {
		return store.Photo{}, err
	}
	info, known := parts[0].(string)
	if !known {
		return store.Photo{}, fmt.Errorf("%w: %q", store.ErrUnknownPhoto, id)
	}
	p := store.Photo{}
	if p.PhotoInfo, err = photoInfo(id, info); err != nil {
		return store.Photo{}, err
	}
	bytes, _ := parts[1].(string)
	var ok bool
	if p.JPEG, ok = seal.Open(id, jpegSeq, []byte(bytes)); !ok {
		return store.Photo{}, damagedPhoto(id)
	}
	return p, nil
}

func photoInfo(id, value string) (info store.PhotoInfo, err error) {
	data, ok := seal.Open(id, infoSeq, []byte(value))
	if !ok || json.Unmarshal(data, &info) != nil {
		return store.PhotoInfo{}, damagedPhoto(id)
	}
	return info, nil
}

// DeletePhoto forgets the photos.
func (s *shared) DeletePhoto(ctx context.Context, ids ...string) error {
	err := each(ctx, ids, s.deletePhoto)
	s.wakePhotos(ctx) // where one failed, the others are gone
	return err
}

// deletePhoto has the key go last, as in delete.
func (s *shared) deletePhoto(ctx context.Context, id string) error {
	if err := s.photos.remove(ctx, id); err != nil {
		return err
	}
	return s.bounded(ctx, func(ctx context.Context) error {
		return s.client.Del(ctx, s.photoKey(id)).Err()
	})
}

func damagedPhoto(id string) error {
	return damaged(fmt.Sprintf("photo %q", id), "restore Redis from a backup or add the photo anew")
}
