package bolt

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"

	"go.etcd.io/bbolt"
)

// How bbolt lays out its pages, in the machine's own order of bytes:
//
//	page           id 8, flags 2, count 2, overflow 4, and then by its flags
//	  meta         magic 4, version 4, page size 4, flags 4, root 8, sequence 8,
//	               freelist 8, high water mark 8, transaction 8, checksum 8
//	  freelist     count ids of 8; where count is fullCount, their number comes first
//	  branch       count elements: position 4, key length 4, child 8; then the keys
//	  leaf         count elements: flags 4, position 4, key length 4, value length 4;
//	               then each key with its value
//	bucket, a leaf's value: root 8, sequence 8; and where root is 0 a page follows
//
// A page goes on over as many pages as its overflow says. Positions count from
// their element.
const (
	headLen    = 16
	metaLen    = 64
	elementLen = 16
	bucketLen  = 16
	idLen      = 8

	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10
	bucketFlag   = 0x01

	fullCount  = 0xffff
	noFreelist = 1<<64 - 1
)

var order = binary.NativeEndian

// pages are a file's, which bbolt itself takes for sound: one wrong number can
// send it round in a circle or have it note pages by the billion, until the
// system ends the program for want of memory.
type pages struct {
	file  io.ReaderAt
	size  uint64 // of one page, in bytes
	taken []bool // by id
}

// checkPages looks at all pages that are in use or listed as free, but not at
// what the keys and values say.
func checkPages(tx *bbolt.Tx, file *os.File) error {
	info, err := file.Stat()
	if err != nil {
		return err
	}
	if info.Size() < tx.Size() {
		return fmt.Errorf("the file has %d bytes, its content needs %d", info.Size(), tx.Size())
	}
	size := int64(tx.DB().Info().PageSize)
	p := &pages{file: file, size: uint64(size), taken: make([]bool, tx.Size()/size)}
	freelist, err := p.freelistOf(uint64(tx.ID()))
	if err != nil {
		return err
	}
	if err := p.checkFreelist(freelist); err != nil {
		return err
	}
	return p.checkTree(uint64(tx.Cursor().Bucket().Root()))
}

func (p *pages) read(at, length uint64) ([]byte, error) {
	b := make([]byte, length)
	_, err := p.file.ReadAt(b, int64(at))
	return b, err
}

// take marks the page and those that it goes on over, and returns where it is.
// It refuses what another page has taken.
func (p *pages) take(id uint64) (at, length uint64, err error) {
	high := uint64(len(p.taken))
	if id < 2 || id >= high {
		return 0, 0, fmt.Errorf("page %d is asked for, those in use are 2 to %d", id, high-1)
	}
	at = id * p.size
	head, err := p.read(at, headLen)
	if err != nil {
		return 0, 0, err
	}
	overflow := uint64(order.Uint32(head[12:]))
	if got := order.Uint64(head); got != id || overflow >= high-id {
		return 0, 0, fmt.Errorf("page %d of %d says it is page %d with %d more", id, high, got, overflow)
	}
	for i := id; i <= id+overflow; i++ {
		if err := p.mark(i); err != nil {
			return 0, 0, err
		}
	}
	return at, (1 + overflow) * p.size, nil
}

func (p *pages) mark(id uint64) error {
	if p.taken[id] {
		return fmt.Errorf("page %d is in use twice, or free as well", id)
	}
	p.taken[id] = true
	return nil
}

// freelistOf reads the freelist's id in the one of the two first pages that the
// transaction wrote.
func (p *pages) freelistOf(txid uint64) (uint64, error) {
	for id := range uint64(2) {
		meta, err := p.read(id*p.size+headLen, metaLen)
		if err != nil {
			return 0, err
		}
		sum := fnv.New64a()
		sum.Write(meta[:56])
		if order.Uint64(meta[48:]) == txid && order.Uint64(meta[56:]) == sum.Sum64() {
			return order.Uint64(meta[32:]), nil
		}
	}
	return 0, errors.New("neither of the two first pages is sound")
}

// checkFreelist takes the pages that are free, so that none may be in use.
func (p *pages) checkFreelist(id uint64) error {
	if id == noFreelist {
		return nil
	}
	at, length, err := p.take(id)
	if err != nil {
		return err
	}
	head, err := p.read(at, headLen+idLen)
	if err != nil {
		return err
	}
	start, count := uint64(headLen), uint64(order.Uint16(head[10:]))
	if count == fullCount {
		start, count = start+idLen, order.Uint64(head[headLen:])
	}
	if flags := order.Uint16(head[8:]); flags != freelistPage || count > (length-start)/idLen {
		return fmt.Errorf("page %d, the freelist, has %d entries and flags %x", id, count, flags)
	}
	list, err := p.read(at+start, count*idLen)
	if err != nil {
		return err
	}
	for ; len(list) > 0; list = list[idLen:] {
		free := order.Uint64(list)
		if free < 2 || free >= uint64(len(p.taken)) {
			return fmt.Errorf("page %d lists %d as free, of %d pages", id, free, len(p.taken))
		}
		if err := p.mark(free); err != nil {
			return err
		}
	}
	return nil
}

// checkTree looks at the page and all that it leads to.
func (p *pages) checkTree(id uint64) error {
	at, length, err := p.take(id)
	if err != nil {
		return err
	}
	return p.checkNode(id, at, length)
}

// checkNode looks at a branch or a leaf, which may lie within page id. Its keys and
// values must follow each other without a gap, as bbolt writes them.
func (p *pages) checkNode(id, at, length uint64) error {
	head, err := p.read(at, headLen)
	if err != nil {
		return err
	}
	flags, count := order.Uint16(head[8:]), uint64(order.Uint16(head[10:]))
	end := headLen + count*elementLen
	if flags != leafPage && (flags != branchPage || count == 0) || end > length {
		return fmt.Errorf("page %d: %d elements and flags %x in %d bytes", id, count, flags, length)
	}
	table, err := p.read(at+headLen, count*elementLen)
	if err != nil {
		return err
	}
	for i := range count {
		b := table[i*elementLen:]
		e := element{position: order.Uint32(b), key: order.Uint32(b[4:]), child: order.Uint64(b[8:])}
		if flags == leafPage {
			e = element{flags: order.Uint32(b), position: order.Uint32(b[4:]), key: order.Uint32(b[8:]), value: order.Uint32(b[12:])}
		}
		begins := end
		end += uint64(e.key) + uint64(e.value)
		if headLen+i*elementLen+uint64(e.position) != begins || end > length {
			return fmt.Errorf("page %d: element %d of %d is out of place", id, i, count)
		}
		switch {
		case flags == branchPage:
			err = p.checkTree(e.child)
		case e.flags&bucketFlag != 0:
			err = p.checkBucket(id, at+end-uint64(e.value), uint64(e.value))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// element is a branch's, or a leaf's.
type element struct {
	flags, position, key, value uint32
	child                       uint64
}

func (p *pages) checkBucket(id, at, length uint64) error {
	if length < bucketLen {
		return fmt.Errorf("page %d: a bucket of %d bytes", id, length)
	}
	head, err := p.read(at, bucketLen)
	if err != nil {
		return err
	}
	if root := order.Uint64(head); root != 0 {
		return p.checkTree(root)
	}
	return p.checkNode(id, at+bucketLen, length-bucketLen)
}
