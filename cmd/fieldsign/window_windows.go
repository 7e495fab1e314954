package main

import (
	"bufio"
	"fmt"
	"os"
	"syscall"
	"unsafe"
)

var consoleProcesses = syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList")

// holdWindow keeps the window open till what is in it was read, where it goes
// with this program: it was started by a double click, so nobody else is in it.
func holdWindow() {
	var ids [2]uint32
	if n, _, _ := consoleProcesses.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids))); n != 1 {
		return
	}
	fmt.Fprint(os.Stderr, "\nPress Enter to close this window.")
	bufio.NewReader(os.Stdin).ReadString('\n')
}
