package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
)

func runVersion(_ context.Context, _ []string, out io.Writer) error {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	_, err := fmt.Fprint(out, versionOf(info))
	return err
}

// versionOf says which source made the program, and with what.
func versionOf(info *debug.BuildInfo) string {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	version := info.Main.Version
	if version == "" {
		version = "(unknown)"
	}
	text := fmt.Sprintf("fieldsign %s\n", version)
	if set["vcs.revision"] != "" {
		text += fmt.Sprintf("revision %s, of %s", set["vcs.revision"], set["vcs.time"])
		if set["vcs.modified"] == "true" {
			text += ", with changes"
		}
		text += "\n"
	}
	return text + fmt.Sprintf("%s %s/%s\n", runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
