package main

import (
	"debug/buildinfo"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	cdx "github.com/CycloneDX/cyclonedx-go"
)

// bill writes the bill of materials of a program beside it, from what the
// compiler noted in the program itself. It has no serial number and no date of
// its own, which would make each one another.
func bill(program string, found inventory) error {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return fmt.Errorf("%s: %w", program, err)
	}
	sum, err := sumOf(program)
	if err != nil {
		return err
	}
	made, err := billOf(filepath.Base(program), sum, info, found)
	if err != nil {
		return err
	}
	file, err := os.Create(program + ".cdx.json")
	if err != nil {
		return err
	}
	defer file.Close()
	if err := cdx.NewBOMEncoder(file, cdx.BOMFileFormatJSON).SetPretty(true).EncodeVersion(made, cdx.SpecVersion1_6); err != nil {
		return err
	}
	return file.Close()
}

func billOf(name, sum string, info *debug.BuildInfo, found inventory) (*cdx.BOM, error) {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	main := cdx.Component{BOMRef: "fieldsign", Type: cdx.ComponentTypeApplication, Name: "fieldsign", Version: info.Main.Version,
		Description: name, Hashes: &[]cdx.Hash{{Algorithm: cdx.HashAlgoSHA256, Value: sum}}, Licenses: spdx(found.own)}
	all := []cdx.Component{{BOMRef: "go-std", Type: cdx.ComponentTypeLibrary, Name: "std", Version: info.GoVersion,
		PackageURL: "pkg:golang/std@" + strings.TrimPrefix(info.GoVersion, "go"), Licenses: spdx("BSD-3-Clause")}}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		licence, known := found.modules[m.Path]
		if !known {
			return nil, fmt.Errorf("%s is in the program and not in the list of licences", m.Path)
		}
		c := cdx.Component{BOMRef: m.Path, Type: cdx.ComponentTypeLibrary, Name: m.Path, Version: m.Version,
			PackageURL: "pkg:golang/" + m.Path + "@" + m.Version, Licenses: spdx(licence.id), Properties: &[]cdx.Property{{Name: "go:sum", Value: m.Sum}}}
		if h, ok := hashOf(m.Sum); ok {
			c.Hashes = &[]cdx.Hash{{Algorithm: cdx.HashAlgoSHA256, Value: h}}
		}
		all = append(all, c)
	}
	for _, v := range found.vendored {
		all = append(all, cdx.Component{BOMRef: v.path, Type: cdx.ComponentTypeLibrary, Name: v.path, Version: v.version,
			PackageURL: "pkg:npm/" + strings.Replace(v.path, "@", "%40", 1) + "@" + v.version, Licenses: spdx(v.id)})
	}
	var refs []string
	for _, c := range all {
		refs = append(refs, c.BOMRef)
	}
	made := cdx.NewBOM()
	made.Metadata = &cdx.Metadata{Component: &main, Timestamp: set["vcs.time"], Properties: &[]cdx.Property{
		{Name: "vcs.revision", Value: set["vcs.revision"]}, {Name: "target", Value: set["GOOS"] + "/" + set["GOARCH"]}}}
	made.Components = &all
	made.Dependencies = &[]cdx.Dependency{{Ref: main.BOMRef, Dependencies: &refs}}
	return made, nil
}

func spdx(id string) *cdx.Licenses {
	if strings.Contains(id, " ") {
		return &cdx.Licenses{{Expression: id}}
	}
	return &cdx.Licenses{{License: &cdx.License{ID: id}}}
}

// hashOf is the SHA-256 in a line of go.sum: of the module's file list, each
// with its own.
func hashOf(sum string) (string, bool) {
	raw, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(sum, "h1:"))
	if err != nil || len(raw) != 32 {
		return "", false
	}
	return fmt.Sprintf("%x", raw), true
}
