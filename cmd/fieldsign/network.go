package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net"
	"slices"
	"strings"
	"syscall"
	"time"

	"fieldsign/hub"
)

// Where phones find this machine, and on which port.

const (
	lastPort     = 7609 // up to which a taken default port moves
	addressEvery = 5 * time.Second
)

// openPort takes the port. One that was asked for is taken or refused; the
// default one gives way to the next, so that a second start by mistake, or
// another program, is no riddle.
func (h *hosting) openPort() (net.Listener, error) {
	listener, err := net.Listen("tcp", h.listen)
	asked := h.listen
	for port := 7601; taken(err) && !h.listenGiven && port <= lastPort; port++ {
		h.listen = fmt.Sprintf(":%d", port)
		listener, err = net.Listen("tcp", h.listen)
	}
	switch {
	case taken(err):
		return nil, fmt.Errorf("the port of %s is in use, perhaps by another Fieldsign: stop that one, or pass another such as --listen :7601", h.listen)
	case err != nil:
		return nil, fmt.Errorf("can't serve on %s: %w", h.listen, err)
	case h.listen != asked:
		fmt.Fprintf(h.out, "The port of %s is in use, perhaps by another Fieldsign: this one serves on %s.\n", asked, h.listen)
	}
	return listener, nil
}

// windowsInUse is what Windows says for EADDRINUSE, which Go does not translate.
const windowsInUse = syscall.Errno(10048)

func taken(err error) bool {
	return errors.Is(err, syscall.EADDRINUSE) || errors.Is(err, windowsInUse)
}

// lan is an address of this machine, by the name of what it is connected with.
type lan struct{ name, ip string }

// networks tells how to find those that phones may be on, the best first; it is
// nil where the address was given, which holds.
func (h *hosting) networks() func() []lan {
	if h.address != "" {
		return nil
	}
	only := h.listensOn()
	return func() []lan { return ranked(served(found(), only), outward()) }
}

// listensOn is the one address that is served on, or nil for all.
func (h *hosting) listensOn() net.IP {
	name, _, _ := net.SplitHostPort(h.listen)
	if name == "localhost" {
		return net.IPv4(127, 0, 0, 1)
	}
	if ip := net.ParseIP(name); ip != nil && !ip.IsUnspecified() {
		return ip
	}
	return nil
}

// served are the addresses on which the pages are served.
func served(list []lan, only net.IP) []lan {
	return slices.DeleteFunc(list, func(n lan) bool { return only != nil && !only.Equal(net.ParseIP(n.ip)) })
}

// found are the addresses of all interfaces that are up.
func found() (list []lan) {
	interfaces, _ := net.Interfaces()
	for _, i := range interfaces {
		if i.Flags&net.FlagUp == 0 || i.Flags&net.FlagLoopback != 0 {
			continue
		}
		addresses, _ := i.Addrs()
		for _, a := range addresses {
			if ip, ok := a.(*net.IPNet); ok && ip.IP.To4() != nil && !ip.IP.IsLinkLocalUnicast() {
				list = append(list, lan{i.Name, ip.IP.String()})
			}
		}
	}
	return list
}

// outward is the address from which this machine would reach the world. Nothing
// is sent: a datagram's socket only looks up the way. The address is one that
// RFC 5737 keeps for documentation.
func outward() string {
	c, err := net.Dial("udp4", "192.0.2.1:9")
	if err != nil {
		return ""
	}
	defer c.Close()
	return c.LocalAddr().(*net.UDPAddr).IP.String()
}

// inner are beginnings of names that virtual machines, containers and private
// networks over others have: no phone in the room is on one.
var inner = []string{"docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vEthernet", "tun", "tap", "utun", "wg", "tailscale", "zt"}

// ranked puts the default route's address first, then private ones, then those
// of networks within this machine.
func ranked(list []lan, outward string) []lan {
	rank := func(n lan) int {
		switch {
		case slices.ContainsFunc(inner, func(p string) bool { return strings.HasPrefix(n.name, p) }):
			return 3
		case n.ip == outward:
			return 0
		case net.ParseIP(n.ip).IsPrivate():
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(a, b lan) int { return cmp.Or(rank(a)-rank(b), cmp.Compare(a.name, b.name)) })
	return list
}

// best is the first address, or this machine's own name where there is none.
func best(list []lan) string {
	if len(list) == 0 {
		return "localhost"
	}
	return list[0].ip
}

// at are the addresses of the pages on those networks.
func at(list []lan, port int) []hub.Address {
	var out []hub.Address
	for _, n := range list {
		out = append(out, hub.Address{Address: fmt.Sprintf("http://%s:%d", n.ip, port), Network: n.name})
	}
	if len(out) == 0 {
		out = []hub.Address{{Address: fmt.Sprintf("http://localhost:%d", port)}}
	}
	return out
}

// follower looks again and again at which networks this machine is on: a laptop
// joins the school's wi-fi late, or another one.
type follower struct {
	networks func() []lan
	port     int
	every    time.Duration
	tell     func([]hub.Address)
}

func (f follower) run(ctx context.Context) {
	ticks := time.NewTicker(f.every)
	defer ticks.Stop()
	known := at(f.networks(), f.port)
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticks.C:
			if list := at(f.networks(), f.port); !slices.Equal(list, known) {
				known = list
				f.tell(slices.Clone(list))
			}
		}
	}
}

// moved tells the hub and the terminal of other addresses.
func (h *hosting) moved(running *hub.Hub, list []hub.Address, code string) {
	running.SetAddresses(list)
	if list[0].Address == h.address {
		return
	}
	h.address = list[0].Address
	join := h.address + "/team?game=" + code
	fmt.Fprintf(h.out, "\n  This machine's address has changed.\n  Phones     %s\n%s%s", join, h.scanned(join), h.warning())
}
