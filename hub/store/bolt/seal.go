package bolt

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// sealLen is what a seal adds: the sequence number and the checksum.
const sealLen = 8 + 4

// standingsSeq seals the standings; records count from 1.
const standingsSeq = 0

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// seal returns seq, a CRC-32C and a copy of data, in this order. The checksum
// covers the game's id too, so that a record found in another game's log is
// taken for damaged.
func seal(game string, seq uint64, data []byte) []byte {
	value := make([]byte, 0, sealLen+len(data))
	value = binary.BigEndian.AppendUint64(value, seq)
	value = binary.BigEndian.AppendUint32(value, checksum(game, seq, data))
	return append(value, data...)
}

// unseal returns a copy of the data, or false if the value isn't as sealed.
func unseal(game string, seq uint64, value []byte) ([]byte, bool) {
	if len(value) < sealLen || binary.BigEndian.Uint64(value) != seq {
		return nil, false
	}
	data := value[sealLen:]
	if binary.BigEndian.Uint32(value[8:]) != checksum(game, seq, data) {
		return nil, false
	}
	return bytes.Clone(data), true
}

func checksum(game string, seq uint64, data []byte) uint32 {
	sum := crc32.Checksum([]byte(game), castagnoli)
	sum = crc32.Update(sum, castagnoli, seqKey(seq))
	return crc32.Update(sum, castagnoli, data)
}

// seqKey is big-endian, so that the order of keys is the order of records.
func seqKey(seq uint64) []byte {
	return binary.BigEndian.AppendUint64(nil, seq)
}
