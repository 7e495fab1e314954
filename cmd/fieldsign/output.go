package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"fieldsign/game"
	"fieldsign/questions/guide/onepage"
)

// output is a file that a command writes. It takes the place of an older one of
// its kind, and of nothing else.
type output struct {
	path  string
	kind  outputKind
	force bool
}

// outputKind tells a file that the same command wrote before from others, by
// what is in it.
type outputKind struct {
	name string
	own  func(data []byte) bool
}

// The kinds of output.
var (
	pdfOutput = outputKind{"a PDF of Fieldsign", func(data []byte) bool {
		return bytes.HasPrefix(data, []byte("%PDF-")) && bytes.Contains(data, []byte("/Producer (Fieldsign)"))
	}}
	qtiOutput   = outputKind{"a QTI package", func(data []byte) bool { return zipWith(data, "imsmanifest.xml") }}
	dwcOutput   = outputKind{"a Darwin Core archive", func(data []byte) bool { return zipWith(data, "meta.xml", "eml.xml") }}
	pageOutput  = outputKind{"a page of Fieldsign", func(data []byte) bool { return bytes.HasPrefix(data, []byte(onepage.Head)) }}
	nexusOutput = outputKind{"a matrix of Fieldsign", func(data []byte) bool { return bytes.HasPrefix(data, []byte("#NEXUS\n[Fieldsign ")) }}
	jsonlOutput = outputKind{"a game's events", func(data []byte) bool {
		line, _, _ := bytes.Cut(data, []byte("\n"))
		var e game.Event
		return json.Unmarshal(line, &e) == nil && e.Type == game.Created
	}}
)

func zipWith(data []byte, names ...string) bool {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	return err == nil && !slices.ContainsFunc(names, func(name string) bool {
		return !slices.ContainsFunc(z.File, func(f *zip.File) bool { return f.Name == name })
	})
}

// flags are those of every command that writes a file.
func (o *output) flags(f *flag.FlagSet, name, about string) {
	f.StringVar(&o.path, name, "", about)
	f.BoolVar(&o.force, "force", false, "write over a file of any kind, but never over the games")
}

// mostOld is the largest file that is looked into; no output is larger.
const mostOld = 256 << 20

// write puts the file in its place in one step: a failed write leaves the old one.
func (o output) write(data []byte) error {
	path, err := filepath.EvalSymlinks(o.path)
	if errors.Is(err, fs.ErrNotExist) {
		path, err = o.path, nil
	}
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !info.Mode().IsRegular(): // a pipe, say
		return os.WriteFile(path, data, 0o644)
	case info.Size() > 0:
		if err := o.mayReplace(path, info.Size()); err != nil {
			return err
		}
	}
	return replaceFile(path, data)
}

// mayReplace looks at what is there.
func (o output) mayReplace(path string, size int64) error {
	old, err := os.Open(path)
	if err != nil {
		return err
	}
	defer old.Close()
	data, err := io.ReadAll(io.LimitReader(old, mostOld))
	switch {
	case err != nil:
		return err
	case isGames(data):
		return fmt.Errorf("%s is a file of games, which nothing is written over: give another name", o.path)
	case o.force || size < mostOld && o.kind.own(data):
		return nil
	}
	return fmt.Errorf("there is a file %s already, which is not %s: give another name, or --force to lose it", o.path, o.kind.name)
}

// isGames knows the first page of the embedded store.
func isGames(data []byte) bool {
	const magic, at = 0xED0CDAED, 16
	return len(data) >= at+4 && binary.NativeEndian.Uint32(data[at:]) == magic
}

func replaceFile(path string, data []byte) error {
	part := fmt.Sprintf("%s.part-%08x", path, rand.Uint32())
	f, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	defer os.Remove(part) // nothing, once it has its name
	_, err = f.Write(data)
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(part, path)
}
