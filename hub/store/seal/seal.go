// Package seal guards what a store keeps against damage: a value is kept with
// its number and a checksum over both and over whose it is. It knows no
// adapter; each of them seals with it.
package seal

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// Len is what a seal adds: the sequence number and the checksum.
const Len = 8 + 4

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Close returns seq, a CRC-32C and a copy of data, in this order. The checksum
// covers the owner's id too, so that a record found in another game's log is
// taken for damaged.
func Close(owner string, seq uint64, data []byte) []byte {
	value := make([]byte, 0, Len+len(data))
	value = binary.BigEndian.AppendUint64(value, seq)
	value = binary.BigEndian.AppendUint32(value, checksum(owner, seq, data))
	return append(value, data...)
}

// Open returns a copy of the data, or false if the value isn't as sealed.
func Open(owner string, seq uint64, value []byte) ([]byte, bool) {
	if len(value) < Len || binary.BigEndian.Uint64(value) != seq {
		return nil, false
	}
	data := value[Len:]
	if binary.BigEndian.Uint32(value[8:]) != checksum(owner, seq, data) {
		return nil, false
	}
	return bytes.Clone(data), true
}

func checksum(owner string, seq uint64, data []byte) uint32 {
	sum := crc32.Checksum([]byte(owner), castagnoli)
	sum = crc32.Update(sum, castagnoli, binary.BigEndian.AppendUint64(nil, seq))
	return crc32.Update(sum, castagnoli, data)
}
