package main

import (
	"context"
	"crypto/tls"
	"flag"
	"fmt"
	"io"
	"log/slog"
	mathrand "math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	qr "github.com/piglig/go-qr"

	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/store/redis"
	"fieldsign/questions/catalogue"
)

// hosting is what the bare command does.
type hosting struct {
	listen, address, data, sheets, roster, key string
	code, debug                                string
	tls, tlsCert, tlsKey, refused              string
	redis, hubAddress                          string
	proxies                                    prefixes
	rehearse, joins                            int
	lease                                      time.Duration
	fresh, silent, listenGiven                 bool
	keep                                       keeping
	logs                                       string
	out                                        io.Writer
}

func parseHosting(args []string, out io.Writer) (*hosting, error) {
	h := &hosting{out: out, keep: keeping{days: 30}}
	f := flags("", help, out)
	f.StringVar(&h.listen, "listen", ":7600", "address and port to serve on; where it is not given and taken, the next free port up to 7609")
	f.StringVar(&h.address, "address", "", "the address that phones reach, such as http://192.168.1.20:7600 (default: this machine's on its network)")
	f.StringVar(&h.data, "data", "fieldsign.db", "the file that keeps the games")
	f.StringVar(&h.redis, "redis", "", "keep the games on Redis in place of a file, such as redis://10.0.0.9:6379: then several hubs share them")
	f.StringVar(&h.hubAddress, "hub-address", "", "with --redis: where the other hubs reach this one, such as http://10.0.0.5:7600 (default: the address it listens on, or this machine's on its network)")
	f.DurationVar(&h.lease, "lease", 6*time.Second, "with --redis: how long a hub that is gone keeps its games from the others; the same for all")
	f.StringVar(&h.sheets, "catalogue", "", "a folder with sheets of your own in place of the built-in catalogue")
	f.StringVar(&h.roster, "roster", "everything", "the animals in play: "+strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	f.IntVar(&h.rehearse, "rehearse", 0, "add so many bot teams (at most 60)")
	codeVar(f, &h.code, "game", "the join code of the unfinished game to go on with (default: the one begun last)")
	f.StringVar(&h.debug, "debug", "", "serve metrics and profiles on an address of this machine alone, such as 127.0.0.1:6060")
	f.StringVar(&h.tlsCert, "tls-cert", "", "serve over TLS with this certificate (PEM, with its chain); takes --tls-key too")
	f.StringVar(&h.tlsKey, "tls-key", "", "the key of --tls-cert (PEM)")
	f.StringVar(&h.tls, "tls", "", "self: serve over TLS with a self-made certificate, of which browsers warn")
	f.StringVar(&h.refused, "names-refused", "", "a file with the words that no team may be named with (default: the built-in list)")
	f.IntVar(&h.joins, "joins", 0, "how many teams may join a game from one address at once; then it is one a second (default 1200)")
	f.Var(&h.proxies, "trusted-proxy", "the addresses of a proxy in front, such as 10.0.0.4 or 10.76.0.0/24, with commas between: what it says in X-Forwarded-For is where a phone is")
	f.BoolVar(&h.fresh, "new", false, "begin a new game even if one is unfinished")
	f.Var(&h.keep, "keep", "how many days a game is kept after the last that happened in it; 0: until the hub stops after its end; or forever")
	f.BoolVar(&h.silent, "no-open", false, "don't open the host's page in a browser")
	f.StringVar(&h.logs, "log", "text", "how the log is written: text or json")
	if err := parseWithEnvironment(f, args, anyFlag); err != nil {
		return nil, err
	}
	f.Visit(func(fl *flag.Flag) { h.listenGiven = h.listenGiven || fl.Name == "listen" })
	if err := noWords(f); err != nil {
		return nil, err
	}
	if h.rehearse < 0 || h.rehearse > 60 {
		return nil, fmt.Errorf("--rehearse takes 0 to 60 teams, not %d", h.rehearse)
	}
	if h.joins < 0 {
		return nil, fmt.Errorf("--joins takes a number of teams, not %d", h.joins)
	}
	if h.logs != "text" && h.logs != "json" {
		return nil, fmt.Errorf("--log is text or json, not %q", h.logs)
	}
	if h.lease < time.Second || h.lease > time.Minute {
		return nil, fmt.Errorf("--lease takes 1s to 1m, not %v", h.lease)
	}
	if h.redis != "" && (h.tls != "" || h.tlsCert != "") {
		return nil, fmt.Errorf("hubs that share games on Redis speak plain HTTP to each other: leave TLS to the balancer in front of them")
	}
	var err error
	h.key, err = hostKey(os.Getenv("FIELDSIGN_HOST_KEY"))
	return h, err
}

const shortestKey = 15 // characters

// hostKey is the given one, or without one a drawn one. Pages send it in a
// header, which carries no more than this.
func hostKey(given string) (string, error) {
	odd := func(r rune) bool { return r < ' ' || r > '~' }
	switch {
	case given == "":
		return gate.NewKey(), nil
	case len(given) < shortestKey || strings.ContainsFunc(given, odd) || given != strings.TrimSpace(given):
		return "", fmt.Errorf("FIELDSIGN_HOST_KEY takes at least %d letters, digits and signs of ASCII, without a space at either end; leave it out to have a key drawn", shortestKey)
	}
	return given, nil
}

// run serves until the context ends. It holds the port before it opens the
// data, so that a second start by mistake touches nothing.
func (h *hosting) run(ctx context.Context) error {
	cat, err := openCatalogue(h.sheets)
	if err != nil {
		return err
	}
	if _, err := cat.Roster(h.roster); err != nil { // before there is a file of games
		return err
	}
	refused, err := openNames(h.refused)
	if err != nil {
		return err
	}
	listener, err := h.openPort()
	if err != nil {
		return err
	}
	defer listener.Close()
	var debugging net.Listener
	if h.debug != "" {
		if debugging, err = listenDebug(h.debug); err != nil {
			return err
		}
		defer debugging.Close()
	}
	games, err := h.open()
	if err != nil {
		return err
	}
	defer games.Close()
	port := listener.Addr().(*net.TCPAddr).Port
	networks := h.networks()
	var here []lan
	if networks != nil {
		here = networks()
	}
	own, local, err := h.locate(port, here)
	if err != nil {
		return err
	}
	if h.hubAddress == "" {
		h.hubAddress = "http://" + reached(listener.Addr().(*net.TCPAddr))
	}
	running, err := hub.New(hub.Config{Store: games, Catalogue: cat, HostKey: h.key, Roster: h.roster, Address: h.address, HubAddress: h.hubAddress, Lease: h.lease,
		Names: refused, Joins: h.joins, Proxies: h.proxies, Keep: h.keep.ofFile(), Log: h.logger()})
	if err != nil {
		return err
	}
	defer running.Close()
	if debugging != nil {
		debug := debugServer(running.Metrics())
		defer debug.Close()
		go debug.Serve(debugging)
	}
	code, err := h.game(ctx, running)
	if err != nil {
		return err
	}
	var others []hub.Address
	if own == nil && networks != nil {
		others = at(here, port)[1:]
		running.SetAddresses(at(here, port))
		follower := follower{networks: networks, port: port, every: addressEvery, tell: func(list []hub.Address) { h.moved(running, list, code) }}
		go follower.run(ctx)
	}
	h.announce(code, local, others)
	h.show(local + "/host?game=" + code + "#key=" + h.key)
	return h.serve(ctx, running, listener, code, own)
}

// locate settles the address of the pages for phones, and returns that for this
// machine and the certificate, if they are served over TLS.
func (h *hosting) locate(port int, networks []lan) (own *tls.Certificate, local string, err error) {
	name, scheme := best(networks), "http"
	if h.address != "" {
		at, err := url.Parse(h.address)
		if err != nil || at.Hostname() == "" {
			return nil, "", fmt.Errorf("--address takes an address such as http://192.168.1.20:7600, not %q", h.address)
		}
		name = at.Hostname()
	}
	if own, err = h.certificate(name); err != nil {
		return nil, "", err
	}
	here := "localhost"
	if own != nil {
		scheme, name, here = "https", nameOf(own, name), nameOf(own, here)
	}
	if h.address == "" {
		h.address = fmt.Sprintf("%s://%s:%d", scheme, name, port)
	} else if own != nil && strings.HasPrefix(h.address, "http://") {
		h.address = "https" + strings.TrimPrefix(h.address, "http")
	}
	return own, fmt.Sprintf("%s://%s:%d", scheme, here, port), nil
}

// openNames reads a list of refused names; without a file it is the built-in one.
func openNames(file string) (*names.List, error) {
	if file == "" {
		return names.Builtin(), nil
	}
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("the list of refused names can't be read: %w", err)
	}
	list, err := names.Parse(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return list, nil
}

// open opens the store: Redis where one is named, or else the file.
func (h *hosting) open() (store.Store, error) {
	if h.redis == "" {
		return bolt.Open(h.data)
	}
	idle, ended := h.keep.onRedis()
	return redis.Open(h.redis, redis.Options{KeepIdle: idle, KeepEnded: ended})
}

// logger writes to standard error, a line for each entry.
func (h *hosting) logger() *slog.Logger {
	if h.logs == "json" {
		return slog.New(slog.NewJSONHandler(os.Stderr, nil))
	}
	return slog.New(slog.NewTextHandler(os.Stderr, nil))
}

// kept is where the games are, without the password of an address.
func (h *hosting) kept() string {
	if h.redis != "" {
		return "Redis"
	}
	return h.data
}

// game is the unfinished game to go on with, or a new one.
func (h *hosting) game(ctx context.Context, running *hub.Hub) (string, error) {
	if codes := running.Unfinished(); len(codes) > 0 && !h.fresh {
		return h.goOn(codes)
	}
	return running.CreateGame(ctx)
}

// goOn picks the game named, or the one begun last.
func (h *hosting) goOn(codes []string) (string, error) {
	code := codes[0]
	if h.code != "" {
		code = h.code
	}
	if !slices.Contains(codes, code) {
		return "", fmt.Errorf("no unfinished game %s in %s: there are %s", code, h.kept(), strings.Join(codes, ", "))
	}
	fmt.Fprintf(h.out, "Going on with the unfinished game %s. For a new one, start with --new.\n", code)
	if len(codes) > 1 {
		fmt.Fprintf(h.out, "Others are unfinished too: start with --game and one of %s.\n", strings.Join(codes, ", "))
	}
	return code, nil
}

func (h *hosting) serve(ctx context.Context, running *hub.Hub, listener net.Listener, code string, own *tls.Certificate) error {
	scheme, pages := "http", running.Handler()
	var client *http.Client // the bots'
	if own != nil {
		scheme, client = "https", trusting(own)
		if h.tls != selfMade {
			pages = onlyTLS(pages)
		}
		listener = tls.NewListener(listener, tlsConfig(own))
	}
	botsAddress := fmt.Sprintf("%s://localhost:%d", scheme, listener.Addr().(*net.TCPAddr).Port)
	server := newServer(pages, logged{h.logger()}, usual)
	served := make(chan error, 1)
	go func() { served <- server.Serve(listener) }()
	var bots sync.WaitGroup
	botsCtx, stopBots := context.WithCancel(ctx)
	defer bots.Wait()
	defer stopBots()
	for i := range h.rehearse {
		p := &bot.Player{Hub: botsAddress, Client: client, Code: code, Name: fmt.Sprintf("%s (bot %d)", botNames[i%len(botNames)], i+1), Think: 8 * time.Second,
			Dice: mathrand.New(mathrand.NewPCG(uint64(i), uint64(time.Now().UnixNano())))}
		bots.Go(func() { p.Play(botsCtx) })
	}
	select {
	case err := <-served:
		return err
	case <-ctx.Done():
		fmt.Fprintln(h.out, "Stopping. The game is kept: the next start goes on with it.")
		running.Close()
		return server.Close()
	}
}

var botNames = []string{"Marsh Wrens", "Pine Martens", "Wood Ducks", "Red Efts", "Night Herons", "Flying Squirrels", "Bog Lemmings", "Kingfishers"}

func (h *hosting) announce(code, local string, others []hub.Address) {
	join := h.address + "/team?game=" + code
	fmt.Fprintf(h.out, `
  Host       %s/host?game=%s#key=%s
  Board      %s/board?game=%s
  Join code  %s
  Phones     %s   (or scan)
%s%s
%s  Keep the host's address to yourself. Ctrl-C stops; the game is kept in %s.
`, local, code, h.key, local, code, code, join, otherwise(others), h.scanned(join), h.warning(), h.kept())
}

// otherwise lists where phones may try if the first address does not answer.
func otherwise(others []hub.Address) string {
	var b strings.Builder
	for _, a := range others {
		fmt.Fprintf(&b, "             %s   if they are on %s\n", a.Address, a.Network)
	}
	return b.String()
}

// alone says that only this machine finds the address.
func (h *hosting) alone() bool { return strings.Contains(h.address, "//localhost") }

// warning says when phones can't come.
func (h *hosting) warning() string {
	if !h.alone() {
		return ""
	}
	if only := h.listensOn(); only != nil && only.IsLoopback() {
		return "  --listen " + h.listen + " serves this machine alone, so there is no code to scan. Leave it\n  out, and phones on its network reach it.\n"
	}
	return "  No network was found, so phones can't reach this machine and there is no code to\n  scan. Join a network: the address then appears here and in the console. Or pass\n  the address that phones reach with --address.\n"
}

// scanned is what phones scan; nothing where it would lead to this machine alone.
func (h *hosting) scanned(join string) string {
	if h.alone() {
		return ""
	}
	return terminalQR(join)
}

// terminalQR draws a QR code with half blocks, two modules a character, dark
// on light whatever the terminal's colours.
func terminalQR(text string) string {
	symbol, err := qr.EncodeText(text, qr.Low)
	if err != nil {
		return ""
	}
	const quiet = 2
	size := symbol.Size()
	dark := func(x, y int) bool { return x >= 0 && y >= 0 && x < size && y < size && symbol.Module(x, y) }
	var b strings.Builder
	for y := -quiet; y < size+quiet; y += 2 {
		b.WriteString("  \x1b[30;107m")
		for x := -quiet; x < size+quiet; x++ {
			b.WriteString(map[[2]bool]string{{false, false}: " ", {true, false}: "▀", {false, true}: "▄", {true, true}: "█"}[[2]bool{dark(x, y), dark(x, y+1)}])
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String()
}

// reached is where other machines find what listens there.
func reached(at *net.TCPAddr) string {
	if at.IP.IsUnspecified() {
		return fmt.Sprintf("%s:%d", best(ranked(found(), outward())), at.Port)
	}
	return at.String()
}
