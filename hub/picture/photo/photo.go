// Package photo makes an uploaded picture fit to be kept and shown: bounded
// before it is decoded, turned upright, scaled down, and encoded anew, so that
// nothing but its pixels is left of the file. It knows nothing of species,
// storage or HTTP.
package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"strings"
	"sync"

	"golang.org/x/image/webp"

	"fieldsign/refusal"
)

// Bounds of what is taken in.
const (
	MaxBytes  = 8 << 20
	MaxSide   = 6000
	MaxPixels = 24 << 20
	// A progressive JPEG keeps its coefficients until its last scan, four times
	// the memory of its pixels, and each scan passes over all of them.
	maxProgressive = 12 << 20
	mostScans      = 100
)

const quality = 85 // of the JPEG that is kept

// Image is a photo as it is kept, with no metadata.
type Image struct {
	JPEG          []byte
	Width, Height int
}

// one decode at a time bounds the memory, whoever sends what together.
var one sync.Mutex

// Clean takes a JPEG, PNG or WebP file in. It is safe for concurrent use. What
// is wrong with the file is a refusal; any other error is the reader's.
func Clean(r io.Reader) (Image, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return Image{}, fmt.Errorf("the photo did not arrive whole: %w", err)
	}
	if len(data) > MaxBytes {
		return Image{}, refusal.New(refusal.PhotoTooBig, fmt.Sprintf("This file has more than %d MiB, the most that a photo may have. Save it smaller and send it again.", MaxBytes>>20))
	}
	k, err := kindOf(data)
	if err != nil {
		return Image{}, err
	}
	if err := k.bounded(data); err != nil {
		return Image{}, err
	}
	one.Lock()
	defer one.Unlock()
	decoded, err := k.decode(bytes.NewReader(data))
	if err != nil {
		return Image{}, k.damaged(err)
	}
	return encode(upright(shrink(decoded), orientation(data)))
}

func encode(m *image.RGBA) (Image, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		return Image{}, fmt.Errorf("the photo could not be encoded: %w", err)
	}
	return Image{out.Bytes(), m.Rect.Dx(), m.Rect.Dy()}, nil
}

// kind is a type of file, known by its first bytes; ? stands for any byte.
type kind struct {
	name, magic string
	config      func(io.Reader) (image.Config, error)
	decode      func(io.Reader) (image.Image, error)
}

var kinds = []kind{
	{"JPEG", "\xff\xd8\xff", jpeg.DecodeConfig, jpeg.Decode},
	{"PNG", "\x89PNG\r\n\x1a\n", png.DecodeConfig, png.Decode},
	{"WebP", "RIFF????WEBP", webp.DecodeConfig, webp.Decode},
}

// others are named, so that the teacher knows what the file is.
var others = []kind{
	{name: "GIF", magic: "GIF8"}, {name: "BMP", magic: "BM"}, {name: "TIFF", magic: "II*\x00"}, {name: "TIFF", magic: "MM\x00*"},
	{name: "HEIC, AVIF or video", magic: "????ftyp"}, {name: "PDF", magic: "%PDF"}, {name: "ZIP", magic: "PK\x03\x04"},
}

func (k kind) begins(data []byte) bool {
	if len(data) < len(k.magic) {
		return false
	}
	for i := range len(k.magic) {
		if k.magic[i] != '?' && k.magic[i] != data[i] {
			return false
		}
	}
	return true
}

// kindOf goes by the bytes alone: a name or a declared type proves nothing.
func kindOf(data []byte) (kind, error) {
	for _, k := range kinds {
		if k.begins(data) {
			return k, nil
		}
	}
	return kind{}, refusal.New(refusal.PhotoWrongType, "This file is "+described(data)+". A photo is a JPEG, PNG or WebP file: save it as one of these and send it again.")
}

func described(data []byte) string {
	for _, k := range others {
		if k.begins(data) {
			return "of the type " + k.name
		}
	}
	switch text := bytes.TrimLeft(data[:min(len(data), 512)], "\xef\xbb\xbf \t\r\n"); {
	case len(data) == 0:
		return "empty"
	case bytes.HasPrefix(text, []byte("<")):
		return "text with markup, such as SVG or HTML"
	}
	return "no picture that is known here"
}

// bounded looks at what the file says of itself, before any pixel is decoded.
func (k kind) bounded(data []byte) error {
	c, err := k.config(bytes.NewReader(data))
	switch {
	case err != nil:
		return k.damaged(err)
	case c.Width < 1 || c.Height < 1:
		return k.damaged(fmt.Errorf("it is %d × %d pixels", c.Width, c.Height))
	case c.Width > MaxSide || c.Height > MaxSide || c.Width*c.Height > MaxPixels:
		return refusal.New(refusal.PhotoTooLarge, fmt.Sprintf("This photo is %d × %d pixels. At most %d a side and %d megapixels are allowed: scale it down and send it again.", c.Width, c.Height, MaxSide, MaxPixels>>20))
	case k.name == "JPEG" && progressive(data) && c.Width*c.Height > maxProgressive:
		return refusal.New(refusal.PhotoTooLarge, fmt.Sprintf("This photo is a progressive JPEG of %d × %d pixels; of that sort at most %d megapixels are allowed: scale it down, or save it without \"progressive\".", c.Width, c.Height, maxProgressive>>20))
	case k.name == "JPEG" && scans(data) > mostScans:
		return refusal.New(refusal.PhotoDamaged, fmt.Sprintf("This JPEG file is cut into more than %d scans, as no camera does: save it anew and send it again.", mostScans))
	}
	return nil
}

func (k kind) damaged(err error) error {
	why := strings.TrimPrefix(strings.TrimPrefix(err.Error(), strings.ToLower(k.name)+": "), "invalid format: ")
	return refusal.New(refusal.PhotoDamaged, fmt.Sprintf("This %s file is cut short or damaged (%s): copy it anew from the camera, or save it anew, and send it again.", k.name, why))
}
