package gate

import "net/http"

// For is who may ask for a route. The zero value is the host alone.
type For int

const (
	Host     For = iota // who shows the host key
	OwnPages            // anyone, but no page of another site
	Anyone              // anyone, from wherever
)

// Route is what is served under a method and a path.
type Route struct {
	Method, Path string
	For          For
	Serve        http.HandlerFunc
}

// Pattern is how a ServeMux names the route.
func (r Route) Pattern() string { return r.Method + " " + r.Path }

// Handle serves routes to those whom each is for.
func (g *Gate) Handle(mux *http.ServeMux, routes []Route) {
	for _, r := range routes {
		serve := r.Serve
		switch r.For {
		case Host:
			serve = g.host(serve)
		case OwnPages:
			serve = ownPages(serve)
		}
		mux.HandleFunc(r.Pattern(), serve)
	}
}
