package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"fieldsign/hub/picture/photo"
	"fieldsign/refusal"
)

var (
	red  = color.RGBA{200, 20, 20, 255}
	blue = color.RGBA{20, 20, 200, 255}
)

// picture is red in its upper half and blue below.
func picture(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := blue
			if y < h/2 {
				c = red
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func encoded(t testing.TB, encode func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func jpegOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(w io.Writer) error { return jpeg.Encode(w, m, nil) })
}

func pngOf(t testing.TB, m image.Image) []byte {
	return encoded(t, func(w io.Writer) error { return png.Encode(w, m) })
}

// webpOf is a lossless WebP of one colour: each of its five prefix codes has a
// single symbol, so that its pixels take no bits at all.
func webpOf(w, h int, c color.RGBA) []byte {
	var bits, n uint64
	var body []byte
	put := func(value, count int) {
		bits |= uint64(value) << n
		for n += uint64(count); n >= 8; n -= 8 {
			body = append(body, byte(bits))
			bits >>= 8
		}
	}
	put(0x2f, 8)
	put(w-1, 14)
	put(h-1, 14)
	put(0, 1+3+3) // no alpha, version 0; no transform, cache or groups of codes
	for _, symbol := range []uint8{c.G, c.R, c.B, c.A, 0} {
		put(1|1<<2, 3) // a simple code, one symbol, of 8 bits
		put(int(symbol), 8)
	}
	put(0, 7)
	return riff(chunk("VP8L", body))
}

func chunk(name string, body []byte) []byte {
	out := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(body)))
	out = append(out, body...)
	return append(out, make([]byte, len(body)%2)...)
}

func riff(chunks ...[]byte) []byte {
	body := append([]byte("WEBP"), bytes.Join(chunks, nil)...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// exif is an APP1 segment with an orientation and a place.
func exif(order binary.AppendByteOrder, orientation uint16) []byte {
	tiff := []byte("II*\x00")
	if order.String() == binary.BigEndian.String() {
		tiff = []byte("MM\x00*")
	}
	entry := func(tag, kind uint16, count uint32) {
		tiff = order.AppendUint16(tiff, tag)
		tiff = order.AppendUint16(tiff, kind)
		tiff = order.AppendUint32(tiff, count)
	}
	tiff = order.AppendUint32(tiff, 8)
	tiff = order.AppendUint16(tiff, 2)
	entry(0x0112, 3, 1)
	tiff = order.AppendUint16(order.AppendUint16(tiff, orientation), 0)
	entry(0x8825, 4, 1) // where the GPS directory is
	tiff = order.AppendUint32(tiff, 38)
	tiff = order.AppendUint32(tiff, 0)
	tiff = append(tiff, "N 45 30 W 122 40 taken-here"...)
	body := append([]byte("Exif\x00\x00"), tiff...)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2)), body...)
}

// with puts a segment behind a JPEG's first marker.
func with(file, segment []byte) []byte {
	return append(append(bytes.Clone(file[:2]), segment...), file[2:]...)
}

func clean(t *testing.T, file []byte) (photo.Image, image.Image) {
	t.Helper()
	kept, err := photo.Clean(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(kept.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bounds() != image.Rect(0, 0, kept.Width, kept.Height) {
		t.Errorf("bounds %v, told %d × %d", m.Bounds(), kept.Width, kept.Height)
	}
	return kept, m
}

func refusedFor(t *testing.T, what string, file []byte, code refusal.Code) string {
	t.Helper()
	_, err := photo.Clean(bytes.NewReader(file))
	var r refusal.Refusal
	if !errors.As(err, &r) || r.Code != code || r.Message == "" {
		t.Errorf("%s: error %v, want a refusal with %s", what, err, code)
	}
	return r.Message
}

// near allows for what JPEG changes.
func near(got color.Color, want color.RGBA) bool {
	r, g, b, _ := got.RGBA()
	off := func(a uint32, b uint8) bool { d := int(a>>8) - int(b); return d < -20 || d > 20 }
	return !off(r, want.R) && !off(g, want.G) && !off(b, want.B)
}

func TestEveryTypeBecomesJPEG(t *testing.T) {
	for name, file := range map[string][]byte{"JPEG": jpegOf(t, picture(64, 48)), "PNG": pngOf(t, picture(64, 48)), "WebP": webpOf(64, 48, red)} {
		kept, m := clean(t, file)
		if kept.Width != 64 || kept.Height != 48 || !near(m.At(10, 5), red) {
			t.Errorf("%s: %d × %d, %v", name, kept.Width, kept.Height, m.At(10, 5))
		}
	}
}

func TestScaledDown(t *testing.T) {
	for _, c := range []struct{ w, h, wantW, wantH int }{
		{1600, 120, 1600, 120}, {1601, 10, 1600, 10}, {3200, 240, 1600, 120}, {4000, 400, 1600, 160}, {500, 4001, 200, 1600}, {6000, 1, 1600, 1},
	} {
		kept, m := clean(t, pngOf(t, picture(c.w, c.h)))
		if kept.Width != c.wantW || kept.Height != c.wantH {
			t.Errorf("%d × %d became %d × %d, want %d × %d", c.w, c.h, kept.Width, kept.Height, c.wantW, c.wantH)
		}
		if c.h > 1 && (!near(m.At(kept.Width/2, 0), red) || !near(m.At(kept.Width/2, kept.Height-1), blue)) {
			t.Errorf("%d × %d: its halves are not where they were", c.w, c.h)
		}
	}
}

func TestTransparentBecomesWhite(t *testing.T) {
	if _, m := clean(t, pngOf(t, image.NewNRGBA(image.Rect(0, 0, 20, 20)))); !near(m.At(10, 10), color.RGBA{255, 255, 255, 255}) {
		t.Errorf("it became %v", m.At(10, 10))
	}
}

// Nothing of a photo's metadata is left, the place least of all.
func TestMetadataGone(t *testing.T) {
	comment := append([]byte{0xff, 0xfe, 0, 12}, "by a pupil"...)
	file := with(with(jpegOf(t, picture(64, 48)), exif(binary.LittleEndian, 1)), comment)
	kept, _ := clean(t, file)
	for _, trace := range []string{"Exif", "taken-here", "pupil", "\xff\xfe"} {
		if !bytes.Contains(file, []byte(trace)) || bytes.Contains(kept.JPEG, []byte(trace)) {
			t.Errorf("%q: the file must have it, the kept photo not", trace)
		}
	}
	for marker := byte(0xe0); marker <= 0xef; marker++ {
		if bytes.Contains(kept.JPEG, []byte{0xff, marker}) {
			t.Errorf("the kept photo has a segment APP%d", marker-0xe0)
		}
	}
}

// Orientation is tried on a picture that tells its corners apart.
func TestTurnedUpright(t *testing.T) {
	corners := []color.RGBA{red, blue, {20, 180, 20, 255}, {240, 240, 240, 255}} // from the upper left one, in reading order
	m := image.NewRGBA(image.Rect(0, 0, 64, 32))
	for y := range 32 {
		for x := range 64 {
			m.SetRGBA(x, y, corners[y/16*2+x/32])
		}
	}
	for i, want := range [][4]int{{0, 1, 2, 3}, {1, 0, 3, 2}, {3, 2, 1, 0}, {2, 3, 0, 1}, {0, 2, 1, 3}, {2, 0, 3, 1}, {3, 1, 2, 0}, {1, 3, 0, 2}} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			kept, got := clean(t, with(jpegOf(t, m), exif(order, uint16(i+1))))
			if wide := kept.Width > kept.Height; wide != (i < 4) {
				t.Errorf("orientation %d: %d × %d", i+1, kept.Width, kept.Height)
			}
			for n, corner := range want {
				x, y := kept.Width*(1+2*(n%2))/4, kept.Height*(1+2*(n/2))/4
				if !near(got.At(x, y), corners[corner]) {
					t.Errorf("orientation %d, %v: corner %d is %v", i+1, order, n, got.At(x, y))
				}
			}
		}
	}
}

// A damaged EXIF segment turns nothing and stops nothing.
func TestDamagedExif(t *testing.T) {
	whole := exif(binary.BigEndian, 6)
	for n := 4; n <= len(whole); n++ {
		cut := bytes.Clone(whole[:n])
		binary.BigEndian.PutUint16(cut[2:], uint16(n-2))
		clean(t, with(jpegOf(t, picture(16, 16)), cut))
	}
	for at := 10; at < len(whole); at++ {
		bent := bytes.Clone(whole)
		bent[at] = 0xff
		clean(t, with(jpegOf(t, picture(16, 16)), bent))
	}
	for _, orientation := range []uint16{0, 9, 65535} {
		if kept, _ := clean(t, with(jpegOf(t, picture(64, 32)), exif(binary.LittleEndian, orientation))); kept.Width != 64 {
			t.Errorf("orientation %d turned the photo", orientation)
		}
	}
}

func TestWrongTypes(t *testing.T) {
	frame := image.NewPaletted(image.Rect(0, 0, 4, 4), color.Palette{red, blue})
	for what, file := range map[string]struct {
		data []byte
		said string
	}{
		"an empty file": {nil, "empty"},
		"a GIF":         {encoded(t, func(w io.Writer) error { return gif.Encode(w, frame, nil) }), "GIF"},
		"an SVG":        {[]byte("\xef\xbb\xbf <svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"), "SVG"},
		"HTML first":    {append([]byte("<!doctype html><script>"), jpegOf(t, picture(8, 8))...), "HTML"},
		"a HEIC":        {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), "HEIC"},
		"a ZIP":         {[]byte("PK\x03\x04\x14\x00"), "ZIP"},
		"a PDF":         {[]byte("%PDF-1.7"), "PDF"},
		"noise":         {[]byte("\x00\x01\x02\x03"), "no picture"},
	} {
		if said := refusedFor(t, what, file.data, refusal.PhotoWrongType); !strings.Contains(said, file.said) || !strings.Contains(said, "JPEG, PNG or WebP") {
			t.Errorf("%s: told %q", what, said)
		}
	}
}

func TestTooBig(t *testing.T) {
	file := append(jpegOf(t, picture(8, 8)), make([]byte, photo.MaxBytes)...)
	refusedFor(t, "9 MiB", file, refusal.PhotoTooBig)
	clean(t, file[:photo.MaxBytes])
}

// claim is a PNG that ends after a header of this size.
func claim(w, h uint32) []byte {
	header := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("IHDR"), w), h)
	header = append(header, 8, 6, 0, 0, 0)
	file := binary.BigEndian.AppendUint32([]byte("\x89PNG\r\n\x1a\n"), uint32(len(header)-4))
	return binary.BigEndian.AppendUint32(append(file, header...), crc32.ChecksumIEEE(header))
}

func TestBombs(t *testing.T) {
	before := allocated()
	for _, size := range [][2]uint32{{60000, 60000}, {6001, 1}, {1, 6001}, {5500, 5500}} {
		said := refusedFor(t, fmt.Sprint("a PNG of ", size), claim(size[0], size[1]), refusal.PhotoTooLarge)
		if !strings.Contains(said, fmt.Sprint(size[0])) || !strings.Contains(said, "24 megapixels") {
			t.Errorf("told %q", said)
		}
	}
	refusedFor(t, "a PNG without an end of its size", claim(1<<31-1, 1<<31-1), refusal.PhotoDamaged)
	refusedFor(t, "a WebP", webpOf(16000, 16000, red), refusal.PhotoTooLarge)
	small := []byte{0, 0, 0, 0, 9, 0, 0, 9, 0, 0} // VP8X says 10 × 10
	refusedFor(t, "a WebP that is larger inside", riff(chunk("VP8X", small), webpOf(16000, 16000, red)[12:]), refusal.PhotoDamaged)
	scans := append(jpegOf(t, picture(8, 8)), bytes.Repeat([]byte{0xff, 0xda}, 200)...)
	refusedFor(t, "a JPEG of many scans", scans, refusal.PhotoDamaged)
	if used := allocated() - before; used > 16<<20 {
		t.Errorf("refusing them took %d bytes", used)
	}
}

// A large, empty picture is taken in, and costs little more than its pixels.
func TestMemoryIsBounded(t *testing.T) {
	file := pngOf(t, image.NewPaletted(image.Rect(0, 0, 5000, 5000), color.Palette{red, blue}))
	before := allocated()
	kept, _ := clean(t, file)
	if used := allocated() - before; kept.Width != 1600 || used > 120<<20 {
		t.Errorf("%d bytes allocated for a file of %d; kept %d × %d", used, len(file), kept.Width, kept.Height)
	}
}

func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func TestProgressiveIsBoundedTighter(t *testing.T) {
	file := jpegOf(t, image.NewGray(image.Rect(0, 0, 4000, 3500)))
	clean(t, file)
	at := bytes.Index(file, []byte{0xff, 0xc0})
	file[at+1] = 0xc2
	refusedFor(t, "a progressive JPEG", file, refusal.PhotoTooLarge)
}

// Cut anywhere, a file is refused, and says so.
func TestTruncated(t *testing.T) {
	webp := webpOf(64, 48, red)
	for name, file := range map[string][]byte{
		"JPEG": with(jpegOf(t, picture(64, 48)), exif(binary.LittleEndian, 6)), "PNG": pngOf(t, picture(64, 48)), "WebP": webp[:len(webp)-1], // without its padding
	} {
		for n := range len(file) {
			_, err := photo.Clean(bytes.NewReader(file[:n]))
			var r refusal.Refusal
			if !errors.As(err, &r) || r.Code != refusal.PhotoDamaged && r.Code != refusal.PhotoWrongType {
				t.Errorf("%s, %d of %d bytes: %v", name, n, len(file), err)
			}
		}
	}
}

// What hangs behind a picture, to be found by another program, is gone.
func TestTailsAreGone(t *testing.T) {
	for _, tail := range []string{"<script>alert('tail')</script>", "PK\x03\x04 tail PK\x05\x06"} {
		for name, file := range map[string][]byte{"JPEG": jpegOf(t, picture(64, 48)), "PNG": pngOf(t, picture(64, 48)), "WebP": webpOf(64, 48, red)} {
			if kept, _ := clean(t, append(file, tail...)); bytes.Contains(kept.JPEG, []byte("tail")) || !bytes.HasSuffix(kept.JPEG, []byte{0xff, 0xd9}) {
				t.Errorf("%s: %q is still there", name, tail)
			}
		}
	}
	hidden := append(binary.BigEndian.AppendUint16([]byte{0xff, 0xfe}, 19), "<html>tail</html>"...)
	if kept, _ := clean(t, with(jpegOf(t, picture(64, 48)), hidden)); bytes.Contains(kept.JPEG, []byte("tail")) {
		t.Error("a page in a comment is still there")
	}
}

func TestABrokenUploadIsNoRefusal(t *testing.T) {
	cause := errors.New("gone")
	_, err := photo.Clean(iotest.ErrReader(cause))
	if !errors.Is(err, cause) || errors.As(err, new(refusal.Refusal)) {
		t.Errorf("error %v", err)
	}
}

// Whatever comes in, what is kept is a JPEG within bounds and without metadata.
func FuzzClean(f *testing.F) {
	f.Add(with(jpegOf(f, picture(24, 16)), exif(binary.BigEndian, 6)))
	f.Add(pngOf(f, picture(24, 16)))
	f.Add(webpOf(24, 16, red))
	f.Add(riff(chunk("VP8X", []byte{0, 0, 0, 0, 9, 0, 0, 9, 0, 0}), webpOf(10, 10, blue)[12:]))
	f.Add(claim(60000, 60000))
	f.Fuzz(func(t *testing.T, file []byte) {
		kept, err := photo.Clean(bytes.NewReader(file))
		if err != nil {
			if !errors.As(err, new(refusal.Refusal)) {
				t.Errorf("no refusal: %v", err)
			}
			return
		}
		m, err := jpeg.Decode(bytes.NewReader(kept.JPEG))
		if err != nil || m.Bounds().Dx() > 1600 || m.Bounds().Dy() > 1600 || bytes.Contains(kept.JPEG, []byte{0xff, 0xe1}) {
			t.Errorf("kept %d bytes: %v", len(kept.JPEG), err)
		}
	})
}
