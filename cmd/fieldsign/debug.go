package main

import (
	"fmt"
	"net"
	"net/http"
	"net/http/pprof"
	"net/url"
	"time"
)

// listenDebug opens the port for the figures and profiles, which are nobody's
// business but this machine's.
func listenDebug(address string) (net.Listener, error) {
	name, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, fmt.Errorf("--debug takes an address and a port, such as 127.0.0.1:6060: %w", err)
	}
	if !isThisMachine(name) {
		return nil, fmt.Errorf("--debug shows the hub's inside, so it takes only an address of this machine itself, such as 127.0.0.1:6060, not %q", address)
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, fmt.Errorf("can't serve --debug on %s: %w", address, err)
	}
	return listener, nil
}

// isThisMachine holds for the names and addresses that lead nowhere else.
func isThisMachine(name string) bool {
	ip := net.ParseIP(name)
	return name == "localhost" || ip != nil && ip.IsLoopback()
}

// byOwnName lets in who asks for this machine by such a name. A page whose own
// name was made to lead here (DNS rebinding) asks for that one.
func byOwnName(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		asked := url.URL{Host: r.Host}
		if !isThisMachine(asked.Hostname()) {
			http.Error(w, "--debug answers to this machine's own names alone: ask for localhost or 127.0.0.1", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// debugServer serves /metrics and /debug/pprof/.
func debugServer(metrics http.Handler) *http.Server {
	mux := http.NewServeMux()
	mux.Handle("GET /metrics", metrics)
	mux.HandleFunc("GET /debug/pprof/", pprof.Index)
	mux.HandleFunc("GET /debug/pprof/cmdline", pprof.Cmdline)
	mux.HandleFunc("GET /debug/pprof/profile", pprof.Profile)
	mux.HandleFunc("GET /debug/pprof/symbol", pprof.Symbol)
	mux.HandleFunc("GET /debug/pprof/trace", pprof.Trace)
	return &http.Server{Handler: byOwnName(mux), ReadHeaderTimeout: 5 * time.Second}
}
