package bolt

import (
	"encoding/binary"
	"time"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store/seal"
)

// What seals the standings, and the time of the last batch; records count from 1.
const (
	standingsSeq = 0
	writtenSeq   = 0
)

// seqKey is big-endian, so that the order of keys is the order of records.
func seqKey(seq uint64) []byte {
	return binary.BigEndian.AppendUint64(nil, seq)
}

// stamp notes when a game was written last.
func stamp(g *bbolt.Bucket, game string, at time.Time) error {
	return g.Put(writtenKey, seal.Close(game+" written", writtenSeq, seqKey(uint64(at.Unix()))))
}

// writtenOf is when a game was written last, or zero where that is damaged.
func writtenOf(g *bbolt.Bucket, game string) time.Time {
	at, ok := seal.Open(game+" written", writtenSeq, g.Get(writtenKey))
	if !ok || len(at) != 8 {
		return time.Time{}
	}
	return time.Unix(int64(binary.BigEndian.Uint64(at)), 0)
}
