//go:build !unix

package bolt

// limitFileSize is asked for only by TestDiskFull, which needs Unix.
func limitFileSize(string) error { return nil }
