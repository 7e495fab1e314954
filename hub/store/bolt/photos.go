package bolt

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// What seals the two parts of a photo, so that one is never taken for the other.
const (
	infoSeq = 0
	jpegSeq = 1
)

// PutPhoto writes the photo.
func (s *Store) PutPhoto(ctx context.Context, p store.Photo) error {
	if p.ID == "" || len(p.ID) > bbolt.MaxKeySize {
		return fmt.Errorf("store: a photo's id must have 1 to %d bytes, this one has %d", bbolt.MaxKeySize, len(p.ID))
	}
	if len(p.JPEG) > bbolt.MaxValueSize-seal.Len {
		return fmt.Errorf("store: photo %q has %d bytes, too many to keep", p.ID, len(p.JPEG))
	}
	data, err := json.Marshal(p.PhotoInfo)
	if err != nil {
		return fmt.Errorf("store: photo %q: %w", p.ID, err)
	}
	info, jpeg := seal.Close(p.ID, infoSeq, data), seal.Close(p.ID, jpegSeq, p.JPEG)
	unchecked := func(*bbolt.Bucket) error { return nil }
	return s.submit(ctx, &write{in: photosKey, check: unchecked, change: func(photos *bbolt.Bucket) error {
		b, err := photos.CreateBucketIfNotExists([]byte(p.ID))
		if err != nil {
			return err
		}
		if err := b.Put(infoKey, info); err != nil {
			return err
		}
		return b.Put(jpegKey, jpeg)
	}})
}

// Photos lists the photos that can be read, and joins an error for each other.
func (s *Store) Photos(ctx context.Context) (list []store.PhotoInfo, err error) {
	var faults []error
	err = s.view(ctx, photosKey, func(photos *bbolt.Bucket) error {
		return eachBucket(photos, func(id []byte) error {
			info, err := photoInfo(photos.Bucket(id), string(id))
			if err != nil {
				faults = append(faults, err)
				return nil
			}
			list = append(list, info)
			return nil
		})
	})
	return list, errors.Join(append(faults, err)...)
}

// Photo returns a photo with its bytes.
func (s *Store) Photo(ctx context.Context, id string) (p store.Photo, err error) {
	err = s.view(ctx, photosKey, func(photos *bbolt.Bucket) (err error) {
		b := photos.Bucket([]byte(id))
		if b == nil {
			return fmt.Errorf("%w: %q", store.ErrUnknownPhoto, id)
		}
		if p.PhotoInfo, err = photoInfo(b, id); err != nil {
			return err
		}
		var ok bool
		if p.JPEG, ok = seal.Open(id, jpegSeq, b.Get(jpegKey)); !ok {
			return damagedPhoto(id)
		}
		return nil
	})
	if err != nil {
		return store.Photo{}, err
	}
	return p, nil
}

func photoInfo(b *bbolt.Bucket, id string) (info store.PhotoInfo, err error) {
	data, ok := seal.Open(id, infoSeq, b.Get(infoKey))
	if !ok || json.Unmarshal(data, &info) != nil {
		return info, damagedPhoto(id)
	}
	return info, nil
}

// DeletePhoto forgets the photos.
func (s *Store) DeletePhoto(ctx context.Context, ids ...string) error {
	return s.forget(ctx, photosKey, ids)
}

func damagedPhoto(id string) error {
	return fmt.Errorf("%w: photo %q; restore the file from a backup or add the photo anew", store.ErrCorrupt, id)
}
