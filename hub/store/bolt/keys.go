package bolt

import "encoding/binary"

// standingsSeq seals the standings; records count from 1.
const standingsSeq = 0

// seqKey is big-endian, so that the order of keys is the order of records.
func seqKey(seq uint64) []byte {
	return binary.BigEndian.AppendUint64(nil, seq)
}
