package static

import (
	"bytes"
	"fmt"
	"path"
	"regexp"
	"slices"
)

var (
	// entry is where a page names its module.
	entry = regexp.MustCompile(`(<script type="module" src="/static/)([^"]+)("></script>)`)
	// imported finds what a module imports: all of it static, and by its place.
	imported = regexp.MustCompile(`((?:from|import) ')(\.\.?/[^']+)'`)
)

// Modules lists the modules that one needs in a language, itself first, those
// that it imports before what they import.
func (s *Site) Modules(language, name string) ([]string, error) {
	names := []string{name}
	for i := 0; i < len(names); i++ {
		module, err := s.asset(language, names[i])
		if err != nil {
			return nil, err
		}
		for _, name := range module.imports {
			if found := path.Join(path.Dir(names[i]), name); !slices.Contains(names, found) {
				names = append(names, found)
			}
		}
	}
	return names, nil
}

// importsOf are read once for each file: a page is written with all that its modules
// import, and most are imported by every page. They are what imported finds, which
// would take a tenth of a hub's start to read them all.
func importsOf(source []byte) (names []string) {
	for {
		before, after, found := bytes.Cut(source, []byte(" '."))
		if !found {
			return names
		}
		source = after
		if bytes.HasSuffix(before, []byte("from")) || bytes.HasSuffix(before, []byte("import")) {
			name, rest, _ := bytes.Cut(after, []byte("'"))
			names, source = append(names, "."+string(name)), rest
		}
	}
}

// Linked is a module with each import by another name, which rename gives.
func (s *Site) Linked(language, name string, rename func(string) string) ([]byte, error) {
	source, err := s.Asset(language, name)
	if err != nil {
		return nil, fmt.Errorf("a module to link: %w", err)
	}
	return imported.ReplaceAllFunc(source, func(found []byte) []byte {
		m := imported.FindSubmatch(found)
		return []byte(string(m[1]) + rename(path.Join(path.Dir(name), string(m[2]))) + "'")
	}), nil
}
