package photo

import (
	"image"

	"golang.org/x/image/draw"
)

// shownSide is the longest side of a photo that is kept, in pixels: as much as
// a board shows.
const shownSide = 1600

// shrink scales down to shownSide, on white where the picture is transparent.
// It halves first: between neighbours the plain scaler then leaves nothing
// out, and unlike the finer ones it needs no memory but its result.
func shrink(src image.Image) *image.RGBA {
	for {
		w, h := smaller(src.Bounds().Dx(), src.Bounds().Dy())
		dst := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(dst, dst.Rect, image.White, image.Point{}, draw.Src)
		draw.ApproxBiLinear.Scale(dst, dst.Rect, src, src.Bounds(), draw.Over, nil)
		if max(w, h) <= shownSide {
			return dst
		}
		src = dst
	}
}

// smaller is the size of the next step.
func smaller(w, h int) (int, int) {
	longest := max(w, h)
	switch {
	case longest <= shownSide:
		return w, h
	case longest <= 2*shownSide:
		part := func(side int) int { return max((side*shownSide+longest/2)/longest, 1) }
		return part(w), part(h)
	}
	return (w + 1) / 2, (h + 1) / 2
}

// upright turns and mirrors a picture as its EXIF orientation asks for.
func upright(src *image.RGBA, orientation int) *image.RGBA {
	if orientation == 1 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	dst := image.NewRGBA(src.Rect)
	if orientation >= 5 {
		dst = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range dst.Rect.Dy() {
		for x := range dst.Rect.Dx() {
			sx, sy := x, y
			if orientation >= 5 {
				sx, sy = y, x
			}
			switch orientation {
			case 2, 3, 7, 8:
				sx = w - 1 - sx
			}
			switch orientation {
			case 3, 4, 6, 7:
				sy = h - 1 - sy
			}
			copy(dst.Pix[dst.PixOffset(x, y):][:4], src.Pix[src.PixOffset(sx, sy):])
		}
	}
	return dst
}
