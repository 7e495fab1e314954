package bolt

import (
	"fmt"
	"os"
	"sync"
	"testing"

	"fieldsign/hub/store"
)

// plainFile is what the benchmark compares with: a line appended and synced.
type plainFile struct {
	mu   sync.Mutex
	file *os.File
}

func (p *plainFile) append(b store.Batch) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, r := range b.Records {
		if _, err := p.file.Write(append(r.Data, '\n')); err != nil {
			return err
		}
	}
	return p.file.Sync()
}

// BenchmarkAppend writes one record at a time, each caller to its own game.
func BenchmarkAppend(b *testing.B) {
	for _, callers := range []int{1, 64} {
		b.Run(fmt.Sprint("bolt/callers=", callers), func(b *testing.B) {
			s := open(b, tempFile(b))
			defer closeStore(b, s)
			benchmarkCallers(b, callers, func(batch store.Batch) error { return s.Append(b.Context(), batch) })
		})
		b.Run(fmt.Sprint("plain/callers=", callers), func(b *testing.B) {
			file, err := os.Create(tempFile(b))
			if err != nil {
				b.Fatal(err)
			}
			defer file.Close()
			p := &plainFile{file: file}
			benchmarkCallers(b, callers, p.append)
		})
	}
}

// benchmarkCallers shares b.N calls among the callers.
func benchmarkCallers(b *testing.B, callers int, call func(store.Batch) error) {
	var wg sync.WaitGroup
	b.ResetTimer()
	for c := range callers {
		share := b.N / callers
		if c < b.N%callers {
			share++
		}
		wg.Go(func() {
			for seq := range share {
				if err := call(numbered(fmt.Sprint("game-", c), seq+1, 1)); err != nil {
					b.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
}
