// Package static holds the pages that browsers are served: landing, team,
// board, host, practice and gallery, with their modules, design sheet and vendored code.
// There is no build step; what is here is what is sent. It knows nothing of
// routes or headers, which are the hub's.
package static

import "embed"

// Files are the pages and assets by name. Pages ask for assets as /static/NAME,
// and the hub puts their version between.
//
//go:embed *.html *.css *.mjs *.svg vendor words
var Files embed.FS
