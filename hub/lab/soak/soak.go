// Package soak tells make test from make soak, which sets FIELDSIGN_SOAK. A
// long test stays in make test as a short twin where that still shows
// something. .ci/left reads from the sources what make test leaves out.
package soak

import (
	"os"
	"testing"
)

// Long tells whether make soak is running.
func Long() bool { return os.Getenv("FIELDSIGN_SOAK") != "" }

// Only leaves a test to make soak.
func Only(t testing.TB) {
	t.Helper()
	if !Long() {
		t.Skip("it is long: left to make soak")
	}
}

// Size is how large a test is: short in make test, long in make soak.
func Size(short, long int) int {
	if Long() {
		return long
	}
	return short
}
