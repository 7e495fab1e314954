// Package bolt keeps the hub's games in one file, with the embedded database
// bbolt. It is the store of a hub that runs alone on one machine, and it needs
// no server. It knows nothing of the rules: records are opaque bytes.
//
// # Layout
//
//	meta/format             the version of this layout
//	games/<id>/log/<seq>    a record, keyed by its big-endian sequence number
//	games/<id>/standings    the leaderboard, as JSON
//	games/<id>/ended        present once the game has finished
//	games/<id>/written      when its last batch was, to the second
//	photos/<id>/info        a photo's species, subject and credit, as JSON
//	photos/<id>/jpeg        its bytes, apart so that a list reads none
//	seasons/<id>/info       how a season is shown, as JSON
//	seasons/<id>/results/<game>   what a game's teams take to it, as JSON
//
// Records, standings, photos and results are sealed with a checksum (see
// package seal), because bbolt itself checks only the two pages it starts from.
// How the other pages hang together is checked when the file is opened, see
// pages.go. The log's bucket sequence holds the last record's number, so that a
// lost tail is noticed as well. One damage can't be noticed: with the newer of
// the two starting pages unreadable bbolt takes up the state before the last
// commit, as after a power cut.
//
// # Commits
//
// One goroutine, the committer, owns all writing. It takes the writes that
// wait, up to maxGroup of them, puts them in one transaction, syncs the file
// and only then answers each caller. See committer.go. What is deleted stays in
// the file's free pages, so the committer then copies the rest into a new file
// that takes the old one's place. See compact.go.
package bolt

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"fieldsign/hub/store"
)

var (
	// ErrInUse: another process holds the file.
	ErrInUse = errors.New("another Fieldsign is running with this file; stop it or pass another --data")
	// ErrNotStore: the file is of another kind, or damaged beyond opening.
	ErrNotStore = errors.New("not a Fieldsign store, or a damaged one; restore it from a backup or pass another --data")
	// ErrReadOnly: an earlier commit failed, so the store takes no more writes.
	ErrReadOnly = errors.New("store: read-only since a write to the disk failed; mend the disk or make room on it, then restart")
	// ErrClosed: the store has been closed.
	ErrClosed = errors.New("store: closed")
)

// lockWait is how long Open waits for another process to let go of the file.
const lockWait = time.Second

// format is the version of the layout; another one is refused.
const format = "1"

var (
	metaKey      = []byte("meta")
	formatKey    = []byte("format")
	gamesKey     = []byte("games")
	logKey       = []byte("log")
	standingsKey = []byte("standings")
	endedKey     = []byte("ended")
	writtenKey   = []byte("written")
	photosKey    = []byte("photos")
	infoKey      = []byte("info")
	jpegKey      = []byte("jpeg")
	seasonsKey   = []byte("seasons")
	resultsKey   = []byte("results")
)

var (
	_ store.Store   = (*Store)(nil)
	_ store.Lasting = (*Store)(nil)
)

// Store is a store.Store in one file. It is safe for concurrent use.
type Store struct {
	path string

	swap sync.RWMutex // held by readers; the committer changes what is below under it
	db   *bbolt.DB
	file *os.File // bbolt's own handle

	queue   chan *write   // unbuffered: a write taken is a write answered
	closing chan struct{} // closed by Close
	done    chan struct{} // closed when the committer has ended

	closeOnce sync.Once
	closeErr  error

	failed atomic.Pointer[error] // why the store is read-only; set by the committer
	crowd  int                   // the size of the last group; the committer's own
	stale  bool                  // the free pages hold what was deleted; likewise
}

// Open opens the store in the file at path, which it creates if need be. The
// folder must exist. The error wraps ErrInUse or ErrNotStore where they apply.
// A file with damaged pages is left as it is.
func Open(path string) (*Store, error) {
	s := &Store{
		path:    path,
		queue:   make(chan *write),
		closing: make(chan struct{}),
		done:    make(chan struct{}),
	}
	err := guard(s.check)
	if err == nil {
		err = guard(s.open)
	}
	if err != nil {
		return nil, s.explain(err)
	}
	if err := s.clearAway(); err != nil {
		return nil, errors.Join(err, s.db.Close())
	}
	go s.commitAll()
	return s, nil
}

// openFile maps and locks the file.
func (s *Store) openFile(readOnly bool) (*bbolt.DB, error) {
	return bbolt.Open(s.path, 0o600, &bbolt.Options{
		Timeout:      lockWait,
		ReadOnly:     readOnly,
		FreelistType: bbolt.FreelistMapType,
		OpenFile: func(name string, flag int, mode os.FileMode) (f *os.File, err error) {
			f, err = os.OpenFile(name, flag, mode)
			s.file = f
			return f, err
		},
	})
}

// check looks at an old file's pages. Opened for reading only, bbolt itself
// follows none of them.
func (s *Store) check() error {
	info, err := os.Stat(s.path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && info.Size() == 0 {
		return nil // a new one
	}
	if err != nil {
		return err
	}
	db, err := s.openFile(true)
	if err != nil {
		return err
	}
	err = db.View(func(tx *bbolt.Tx) error { return checkPages(tx, s.file) })
	return errors.Join(err, db.Close())
}

func (s *Store) open() error {
	db, err := s.openFile(false)
	if err != nil {
		return err
	}
	s.db = db
	err = db.Update(s.prepare)
	if err == nil {
		err = syncFolder(filepath.Dir(s.path))
	}
	if err != nil {
		return errors.Join(err, db.Close())
	}
	return nil
}

// prepare lays out a new file and refuses a foreign one.
func (s *Store) prepare(tx *bbolt.Tx) error {
	if first, _ := tx.Cursor().First(); first == nil {
		return layOut(tx)
	}
	meta := tx.Bucket(metaKey)
	if meta == nil || tx.Bucket(gamesKey) == nil {
		return errors.New("another program's database")
	}
	if got := meta.Get(formatKey); string(got) != format {
		return fmt.Errorf("format %.20q, this version of Fieldsign reads %q", got, format)
	}
	// Files from before there were photos or seasons go on as they are.
	for _, key := range [][]byte{photosKey, seasonsKey} {
		if _, err := tx.CreateBucketIfNotExists(key); err != nil {
			return err
		}
	}
	return stampAll(tx.Bucket(gamesKey))
}

// stampAll has games from before their time was kept count from now on.
func stampAll(games *bbolt.Bucket) error {
	var old [][]byte
	err := eachBucket(games, func(id []byte) error {
		if games.Bucket(id).Get(writtenKey) == nil {
			old = append(old, bytes.Clone(id))
		}
		return nil
	})
	for _, id := range old {
		if err == nil {
			err = stamp(games.Bucket(id), string(id), time.Now())
		}
	}
	return err
}

func layOut(tx *bbolt.Tx) error {
	for _, key := range [][]byte{gamesKey, photosKey, seasonsKey} {
		if _, err := tx.CreateBucket(key); err != nil {
			return err
		}
	}
	meta, err := tx.CreateBucket(metaKey)
	if err != nil {
		return err
	}
	return meta.Put(formatKey, []byte(format))
}

// syncFolder makes a new file's name as durable as its content.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" { // which has no such call
		return nil
	}
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer folder.Close()
	return folder.Sync()
}

// explain says in words why the file can't be opened.
func (s *Store) explain(err error) error {
	var pathErr *fs.PathError
	var errno syscall.Errno
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return fmt.Errorf("opening %s: %w", s.path, ErrInUse)
	case errors.As(err, &pathErr), errors.As(err, &errno):
		return fmt.Errorf("opening %s: %w; check the folder, its permissions and the disk", s.path, err)
	}
	return fmt.Errorf("opening %s: %w (%w)", s.path, ErrNotStore, err)
}

// guard runs fn and makes an error of what bbolt does on a damaged page: it
// panics, or reads beyond the mapped file, which would end the program.
func guard(fn func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if cause := recover(); cause != nil {
			err = damagedPage{cause}
		}
	}()
	return fn()
}

// damagedPage is what bbolt said of a page of its own, which may hold records
// of any game.
type damagedPage struct{ cause any }

func (d damagedPage) Error() string {
	return fmt.Sprintf("store: a page of the file is damaged (%v); restore the file from a backup", d.cause)
}

func (d damagedPage) Unwrap() error { return store.ErrCorrupt }

// Writable says why the store takes no writes any more, or nil.
func (s *Store) Writable() error {
	if failed := s.failed.Load(); failed != nil {
		return *failed
	}
	return nil
}

// Close waits for the commit under way and for the readers, then lets go of
// the file. Writes that still wait for their turn get ErrClosed.
func (s *Store) Close() error {
	s.closeOnce.Do(func() {
		close(s.closing)
		<-s.done
		s.closeErr = s.db.Close()
	})
	return s.closeErr
}
