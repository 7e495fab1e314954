//go:build race

package main

// racing: the race detector makes what one goroutine computes ten times slower, and looks for nothing there.
const racing = true
