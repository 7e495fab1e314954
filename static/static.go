// Package static holds the pages that browsers are served, and serves them. A
// folder is a page with its modules; lib has what knows no screen, parts what
// several screens are made of, words all that the pages say, vendor the code of
// others. There is no build step; what is here is what is sent.
package static

import (
	"embed"
	"sync"
)

// Files are the pages and assets. The gallery of screens, for those who work on
// them, is no part of the program.
//
//go:embed landing team board host plan debrief season seasonplan tournament practice
//go:embed lib parts words style vendor
var Files embed.FS

// Pages is the site of Files, made once.
var Pages = sync.OnceValue(func() *Site {
	s, err := NewSite(Files)
	if err != nil {
		panic(err) // the files are part of the program, and a test makes a site of them
	}
	return s
})
