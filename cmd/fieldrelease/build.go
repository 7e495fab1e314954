package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// system is what a program is for.
type system struct{ os, arch string }

var systems = []system{{"darwin", "amd64"}, {"darwin", "arm64"}, {"linux", "amd64"}, {"linux", "arm64"}, {"windows", "amd64"}, {"windows", "arm64"}}

func (s system) file() string {
	name := fmt.Sprintf("fieldsign-%s-%s", s.os, s.arch)
	if s.os == "windows" {
		name += ".exe"
	}
	return name
}

// release fills the folder. Nothing in it depends on when, where or by whom it
// is made: the same source and the same Go give the same bytes.
func release(ctx context.Context, source, out string, list []system, found inventory) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	out, err := filepath.Abs(out)
	if err != nil {
		return err
	}
	var files []string
	for _, s := range list {
		program := filepath.Join(out, s.file())
		if err := build(ctx, source, program, s); err != nil {
			return err
		}
		if err := bill(program, found); err != nil {
			return err
		}
		files = append(files, s.file(), s.file()+".cdx.json")
	}
	texts := "licences.txt"
	if err := os.WriteFile(filepath.Join(out, texts), []byte(found.texts()), 0o644); err != nil {
		return err
	}
	return checksums(out, append(files, texts))
}

func build(ctx context.Context, source, to string, s system) error {
	c := command(ctx, source, "go", "build", "-trimpath", "-buildvcs=auto", "-ldflags=-s -w -buildid=", "-o", to, "./cmd/fieldsign")
	c.Env = append(c.Env, "CGO_ENABLED=0", "GOOS="+s.os, "GOARCH="+s.arch, "GOAMD64=v1", "GOARM64=v8.0")
	if said, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("building for %s/%s: %w\n%s", s.os, s.arch, err, said)
	}
	return nil
}

// command is one whose outcome no setting of the user's has a part in.
func command(ctx context.Context, dir, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir = dir
	for _, set := range os.Environ() {
		if !strings.HasPrefix(set, "GOFLAGS=") && !strings.HasPrefix(set, "GOEXPERIMENT=") && !strings.HasPrefix(set, "GOWORK=") {
			c.Env = append(c.Env, set)
		}
	}
	c.Env = append(c.Env, "GOFLAGS=-mod=readonly", "GOWORK=off")
	return c
}

// checksums writes a file that sha256sum -c reads.
func checksums(dir string, files []string) error {
	slices.Sort(files)
	var b strings.Builder
	for _, name := range files {
		sum, err := sumOf(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%s  %s\n", sum, name)
	}
	return os.WriteFile(filepath.Join(dir, "SHA256SUMS"), []byte(b.String()), 0o644)
}

func sumOf(name string) (string, error) {
	file, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x", sum.Sum(nil)), nil
}
