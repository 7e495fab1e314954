//go:build !linux

package bolt

// failSyncs is asked for only by TestFailedSync, which needs Linux.
func failSyncs() error { return nil }
