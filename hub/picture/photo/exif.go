package photo

import (
	"bytes"
	"encoding/binary"
	"iter"
)

// Markers of a JPEG file's segments.
const (
	markerProgressive = 0xc2
	markerScan        = 0xda
	markerApp1        = 0xe1
)

// segments are those before the first scan, as far as they are well formed.
func segments(data []byte) iter.Seq2[byte, []byte] {
	return func(yield func(byte, []byte) bool) {
		for at := 2; at+4 <= len(data) && data[at] == 0xff; {
			marker, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
			if marker == 0xff { // a fill byte
				at++
				continue
			}
			end := at + 2 + size
			if marker == markerScan || size < 2 || end > len(data) || !yield(marker, data[at+4:end]) {
				return
			}
			at = end
		}
	}
}

func progressive(data []byte) bool {
	for marker := range segments(data) {
		if marker == markerProgressive {
			return true
		}
	}
	return false
}

// scans counts at least the file's scans: coded pixels never hold the marker.
func scans(data []byte) int { return bytes.Count(data, []byte{0xff, markerScan}) }

// orientation is the EXIF tag of a JPEG file, 1 to 8; 1, upright, where there
// is none that can be read.
func orientation(data []byte) int {
	if !kinds[0].begins(data) {
		return 1
	}
	for marker, body := range segments(data) {
		if tiff, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00")); ok && marker == markerApp1 {
			return tagged(tiff)
		}
	}
	return 1
}

// tagged reads the orientation out of EXIF's first directory, and nothing else.
func tagged(tiff []byte) int {
	const orientationTag, short = 0x0112, 3
	var order binary.ByteOrder = binary.LittleEndian
	switch {
	case len(tiff) < 8:
		return 1
	case bytes.HasPrefix(tiff, []byte("MM\x00*")):
		order = binary.BigEndian
	case !bytes.HasPrefix(tiff, []byte("II*\x00")):
		return 1
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return 1
	}
	count, entries := int(order.Uint16(tiff[at:])), tiff[at+2:]
	for ; count > 0 && len(entries) >= 12; count-- {
		value := int(order.Uint16(entries[8:]))
		if order.Uint16(entries) == orientationTag && order.Uint16(entries[2:]) == short && value >= 1 && value <= 8 {
			return value
		}
		entries = entries[12:]
	}
	return 1
}
