package plate

import (
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestFramesOfOneScale: in frames of one size a print is as long as life, or so
// many times as is said in large type; and every frame is as large as asked for.
func TestFramesOfOneScale(t *testing.T) {
	const frame = 200
	for _, s := range catalogue.Builtin().Species {
		p, ok := own.TrackFramed(s, "front", frame)
		if !ok {
			continue
		}
		if p.Alt != mustTrack(s).Alt {
			t.Errorf("%s: framed, other words are said of it", s.Name)
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		checkEnlarged(t, s.Name, root, p, boxOf(named(elements, ofTheSize...)).h(), boxOf(named(readAlone(t, mustTrack(s)), ofTheSize...)).h())
	}
	for _, s := range catalogue.Builtin().Species {
		p, ok := own.ScatFramed(s, frame)
		if !ok {
			continue
		}
		alone, _ := Scat(s)
		elements, root := read(t, p.SVG)
		checkEnlarged(t, s.Name, root, p, boxOf(named(elements, "body")).w(), boxOf(named(readAlone(t, alone), "body")).w())
	}
}

func mustTrack(s catalogue.Species) Plate {
	p, _ := Track(s, "front")
	return p
}

func readAlone(t *testing.T, p Plate) []element {
	elements, _ := read(t, p.SVG)
	return elements
}

func checkEnlarged(t *testing.T, name string, root map[string]string, p Plate, framed, alone float64) {
	t.Helper()
	times := 1.
	if _, after, said := strings.Cut(p.SVG, ">× "); said {
		times = floats(strings.SplitN(after, "<", 2)[0])[0]
	}
	if !within(framed, times*alone, .03) {
		t.Errorf("%s: %.1f mm in its frame, %.1f alone, enlarged %g times", name, framed, alone, times)
	}
	if w := floats(strings.TrimSuffix(root["width"], "mm"))[0]; w < 200 || w > 480 {
		t.Errorf("%s: a frame of %g mm", name, w)
	}
}
