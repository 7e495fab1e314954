// Package gate settles who may ask for what: whose a request is, whether a page
// of another site sent it, whether it shows the host key, and how often an address
// may guess.
package gate

import (
	"container/list"
	"context"
	"math"
	"net/http"
	"net/netip"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/time/rate"

	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// Bounds of what one address may try. A school's phones may all come from one
// address, so that nothing here counts connections, and the first joins come
// as fast as a hall of classes does.
const (
	wrongCodesPerMin    = 5
	allWrongCodesPerMin = 600 // of all addresses together
	wrongKeysPerMin     = 10
	joinsPerMin         = 60
	joinsAtOnce         = 1200 // unless configured
	mostVisitors        = 4096
	mostKnownCodes      = 8 // of a visitor
	forgetAfter         = 9 * time.Minute
	forgetEvery         = time.Minute // so that none is kept for more than ten
)

// Gate bounds guesses and floods by where they come from. It keeps addresses
// in memory alone, a bounded number of them, for ten minutes at most after
// their last try. It is safe for concurrent use.
type Gate struct {
	Joins   int            // at once
	proxies []netip.Prefix // whose X-Forwarded-For says where a request is from
	hostKey atomic.Pointer[string]
	now     func() time.Time

	mu       sync.Mutex
	codes    *rate.Limiter // wrong ones of all
	visitors map[netip.Addr]*list.Element
	order    list.List // of *visitor, the one seen last in front
}

// visitor is an address and what it has left. Its limits are counted in what
// went wrong, and in joins by game.
type visitor struct {
	addr  netip.Addr
	seen  time.Time
	codes *rate.Limiter
	keys  *rate.Limiter
	joins map[string]*rate.Limiter
	known map[string]bool // codes that it has given rightly
}

func New(joins int, key string, proxies []netip.Prefix) *Gate {
	if joins == 0 {
		joins = joinsAtOnce
	}
	g := &Gate{Joins: joins, proxies: proxies, now: time.Now, codes: perMinute(allWrongCodesPerMin, allWrongCodesPerMin), visitors: map[netip.Addr]*list.Element{}}
	g.hostKey.Store(&key)
	return g
}

// SetClock has the limits fill by another clock than the wall's.
func (g *Gate) SetClock(now func() time.Time) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.now = now
}

func perMinute(n, atOnce int) *rate.Limiter { return rate.NewLimiter(rate.Limit(n)/60, atOnce) }

// addressOf is the address in host:port. A network's worth of IPv6 addresses
// is one person's and counts as one.
func addressOf(remote string) netip.Addr {
	at, err := netip.ParseAddrPort(remote)
	if err != nil {
		return netip.Addr{} // of sockets that have none: they share a visitor
	}
	addr := at.Addr().Unmap().WithZone("")
	if addr.Is6() {
		net, _ := addr.Prefix(64)
		return net.Addr()
	}
	return addr
}

// visitor is the address's, with the lock held. The one not seen for longest
// goes where there are too many.
func (g *Gate) visitor(remote string) (*visitor, time.Time) {
	addr, now := addressOf(remote), g.now()
	e := g.visitors[addr]
	if e == nil {
		if g.order.Len() >= mostVisitors {
			g.forget(g.order.Back())
		}
		e = g.order.PushFront(&visitor{addr: addr, codes: perMinute(wrongCodesPerMin, wrongCodesPerMin), keys: perMinute(wrongKeysPerMin, wrongKeysPerMin),
			joins: map[string]*rate.Limiter{}, known: map[string]bool{}})
		g.visitors[addr] = e
	}
	g.order.MoveToFront(e)
	v := e.Value.(*visitor)
	v.seen = now
	return v, now
}

func (g *Gate) forget(e *list.Element) {
	delete(g.visitors, e.Value.(*visitor).addr)
	g.order.Remove(e)
}

// Code tells whether a join code may be answered, and if not, how long to wait.
// Only wrong ones are counted. An address that has used them up learns nothing
// of any code but those that it has given rightly before: the class that is
// playing behind it is not kept out, and a guess tells nothing.
func (g *Gate) Code(remote, code string, right bool) (wait time.Duration, ok bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	v, now := g.visitor(remote)
	if right && v.known[code] {
		return 0, true
	}
	if wait = max(until(v.codes, now), until(g.codes, now)); wait > 0 {
		return wait, false
	}
	if !right {
		v.codes.AllowN(now, 1)
		g.codes.AllowN(now, 1)
	} else if len(v.known) < mostKnownCodes {
		v.known[code] = true
	}
	return 0, true
}

// TryKey compares a host key, unless the address has used up its wrong ones: then it
// says how long to wait. Beyond the bound a right one is not looked at either, or the
// bound would bound nothing. Who shows no key has not guessed.
func (g *Gate) TryKey(remote, key string) (wait time.Duration, right bool) {
	if key == "" {
		return 0, false
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	v, now := g.visitor(remote)
	if wait = until(v.keys, now); wait > 0 {
		return wait, false
	}
	if right = g.isHostKey(key); !right {
		v.keys.AllowN(now, 1)
	}
	return 0, right
}

// Join counts a team that joins a game.
func (g *Gate) Join(remote, game string) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	v, now := g.visitor(remote)
	if v.joins[game] == nil {
		v.joins[game] = perMinute(joinsPerMin, g.Joins)
	}
	return v.joins[game].AllowN(now, 1)
}

// until is how long a limit has to fill before it allows one more.
func until(l *rate.Limiter, now time.Time) time.Duration {
	missing := 1 - l.TokensAt(now)
	if missing <= 0 {
		return 0
	}
	return time.Duration(missing / float64(l.Limit()) * float64(time.Second))
}

// Run forgets addresses until the context ends.
func (g *Gate) Run(ctx context.Context) {
	tick := time.NewTicker(forgetEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			g.sweep()
		}
	}
}

func (g *Gate) sweep() {
	g.mu.Lock()
	defer g.mu.Unlock()
	for e := g.order.Back(); e != nil && g.now().Sub(e.Value.(*visitor).seen) >= forgetAfter; e = g.order.Back() {
		g.forget(e)
	}
}

// ComeLater answers a request over a bound.
func ComeLater(w http.ResponseWriter, wait time.Duration) {
	w.Header().Set("Retry-After", strconv.Itoa(int(math.Ceil(wait.Seconds()))))
	wire.Refuse(w, refusal.New(refusal.TooManyTries, "Too many wrong tries from this network. Wait a minute, then try again."))
}
