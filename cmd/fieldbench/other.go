//go:build !linux

package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "fieldbench: its phones are driven by epoll, so it runs on Linux only: run it there, or in a container")
	os.Exit(1)
}
