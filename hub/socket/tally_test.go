package socket

import (
	"encoding/binary"
	"testing"
)

// The count is the same however the bytes come.
func TestFramesAreCounted(t *testing.T) {
	sent, want := []byte(nil), 0
	for _, size := range []int{0, 1, 125, 126, 300, 1 << 16, 1<<16 + 1} {
		for _, head := range []byte{0x81, 0x00, 0x8a} {
			sent = append(sent, sized(head, size)...)
			want++
		}
	}
	for _, step := range []int{1, 2, 3, 288, len(sent)} {
		if got := countFrames(sent, step); got != want {
			t.Errorf("read by %d bytes: %d frames, want %d", step, got, want)
		}
	}
}

// sized is a masked frame with a payload of zeros.
func sized(head byte, size int) []byte {
	b := []byte{head}
	switch {
	case size <= mostControl:
		b = append(b, masked|byte(size))
	case size <= 0xffff:
		b = binary.BigEndian.AppendUint16(append(b, masked|in16Bits), uint16(size))
	default:
		b = binary.BigEndian.AppendUint64(append(b, masked|in64Bits), uint64(size))
	}
	return append(b, make([]byte, 4+size)...)
}

// countFrames counts the frames in bytes that come so many at a time.
func countFrames(sent []byte, step int) int {
	var t tally
	for ; len(sent) > 0; sent = sent[min(step, len(sent)):] {
		t.count(sent[:min(step, len(sent))])
	}
	return t.take()
}
