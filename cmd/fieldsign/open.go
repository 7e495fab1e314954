package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
)

// show opens the host's page in the browser of whoever sits here. It leaves it
// where nobody does: in a test, a service, a container, over a remote shell.
func (h *hosting) show(address string) {
	if why := h.unshown(os.Getenv, isTerminal(os.Stdout)); why != "" {
		fmt.Fprintf(h.out, "  No browser is opened (%s): open the host's address yourself.\n\n", why)
		return
	}
	if err := opener(address).Start(); err != nil {
		fmt.Fprintf(h.out, "  No browser could be opened (%v): open the host's address yourself.\n\n", err)
		return
	}
	fmt.Fprint(h.out, "  The host's page opens in your browser; --no-open leaves that to you.\n\n")
}

// unshown is why no browser is to be opened, or nothing.
func (h *hosting) unshown(env func(string) string, terminal bool) string {
	switch {
	case h.silent:
		return "--no-open"
	case !terminal:
		return "this is no terminal"
	case env("CI") != "":
		return "CI is set"
	case env("SSH_CONNECTION") != "":
		return "this is a remote shell"
	case runtime.GOOS == "linux" && env("DISPLAY") == "" && env("WAYLAND_DISPLAY") == "":
		return "there is no display"
	}
	return ""
}

func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// opener is the system's own way to open an address.
func opener(address string) *exec.Cmd {
	switch runtime.GOOS {
	case "windows":
		return exec.Command("rundll32", "url.dll,FileProtocolHandler", address)
	case "darwin":
		return exec.Command("open", address)
	}
	return exec.Command("xdg-open", address)
}
