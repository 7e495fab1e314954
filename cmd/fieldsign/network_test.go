package main

import (
	"bytes"
	"fmt"
	"net"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"fieldsign/hub"
)

func TestAddressesAreRanked(t *testing.T) {
	list := []lan{{"docker0", "172.17.0.1"}, {"eth0", "203.0.113.9"}, {"eth1", "10.0.0.5"}, {"tun0", "10.8.0.2"}, {"wlan0", "192.168.1.20"}}
	for _, tc := range []struct{ outward, want string }{
		{"192.168.1.20", "wlan0 eth1 eth0 docker0 tun0"},
		{"203.0.113.9", "eth0 eth1 wlan0 docker0 tun0"},
		{"10.8.0.2", "eth1 wlan0 eth0 docker0 tun0"}, // no phone is in a tunnel
		{"", "eth1 wlan0 eth0 docker0 tun0"},
	} {
		var names []string
		for _, n := range ranked(slices.Clone(list), tc.outward) {
			names = append(names, n.name)
		}
		if got := strings.Join(names, " "); got != tc.want {
			t.Errorf("outward by %q: %s, want %s", tc.outward, got, tc.want)
		}
	}
	if best(nil) != "localhost" {
		t.Errorf("without a network: %s", best(nil))
	}
}

func TestPhonesAreToldWhatIsServed(t *testing.T) {
	list := []lan{{"eth0", "203.0.113.9"}, {"wlan0", "192.168.1.20"}}
	for _, tc := range []struct{ listen, want string }{
		{":7600", "eth0 wlan0"}, {"0.0.0.0:7600", "eth0 wlan0"}, {"[::]:7600", "eth0 wlan0"},
		{"192.168.1.20:7600", "wlan0"}, {"127.0.0.1:7600", ""}, {"localhost:7600", ""},
	} {
		h := &hosting{listen: tc.listen, address: "http://localhost:7600"}
		var names []string
		for _, n := range served(slices.Clone(list), h.listensOn()) {
			names = append(names, n.name)
		}
		if got := strings.Join(names, " "); got != tc.want {
			t.Errorf("--listen %s: phones are told of %q, want %q", tc.listen, got, tc.want)
		}
		if alone := strings.Contains(h.warning(), "serves this machine alone"); alone != (tc.want == "") {
			t.Errorf("--listen %s: %s", tc.listen, h.warning())
		}
	}
}

func TestANetworkThatComesIsNoticed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var now []lan
		var told [][]hub.Address
		f := follower{networks: func() []lan { return now }, port: 7600, every: addressEvery, tell: func(list []hub.Address) { told = append(told, list) }}
		go f.run(t.Context())
		time.Sleep(3 * addressEvery)
		if len(told) > 0 {
			t.Errorf("nothing has changed, and it tells %v", told)
		}
		now = []lan{{"wlan0", "192.168.1.20"}}
		time.Sleep(2 * addressEvery)
		if len(told) != 1 || told[0][0] != (hub.Address{Address: "http://192.168.1.20:7600", Network: "wlan0"}) {
			t.Errorf("told %v", told)
		}
	})
}

func TestATakenPort(t *testing.T) {
	holder, err := net.Listen("tcp", ":0")
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close()
	port := holder.Addr().(*net.TCPAddr).Port
	var said bytes.Buffer
	h := &hosting{listen: fmt.Sprintf(":%d", port), out: &said}
	moved, err := h.openPort()
	if err != nil {
		t.Skipf("all of 7601 to %d are taken here: %v", lastPort, err)
	}
	defer moved.Close()
	if got := moved.Addr().(*net.TCPAddr).Port; got < 7601 || got > lastPort || !strings.Contains(said.String(), fmt.Sprintf("serves on :%d", got)) {
		t.Errorf("it moved to %d and said %q", got, said.String())
	}
	h = &hosting{listen: fmt.Sprintf(":%d", port), listenGiven: true, out: &said}
	if _, err := h.openPort(); err == nil || !strings.Contains(err.Error(), "in use") {
		t.Errorf("a port that was asked for is taken: %v", err)
	}
	if h, err := parseHosting([]string{"--listen", ":7600"}, &said); err != nil || !h.listenGiven {
		t.Errorf("the port was asked for: %v", err)
	}
	t.Setenv("FIELDSIGN_LISTEN", ":7600")
	if h, err := parseHosting(nil, &said); err != nil || !h.listenGiven {
		t.Errorf("the environment asks for the port: %v", err)
	}
}

func TestWhatIsAnnounced(t *testing.T) {
	var said bytes.Buffer
	h := &hosting{address: "http://192.168.1.20:7600", key: testKey, data: "fieldsign.db", out: &said}
	h.announce("otter-burrow-42", "http://localhost:7600", []hub.Address{{Address: "http://10.0.0.5:7600", Network: "eth1"}})
	for _, want := range []string{"http://192.168.1.20:7600/team?game=otter-burrow-42", "http://10.0.0.5:7600   if they are on eth1", "▀"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("no %q in\n%s", want, said.String())
		}
	}
	said.Reset()
	h.address = "http://localhost:7600"
	h.announce("otter-burrow-42", "http://localhost:7600", nil)
	if text := said.String(); strings.Contains(text, "▀") || !strings.Contains(text, "No network was found") {
		t.Errorf("a code leads to this machine alone:\n%s", text)
	}
}

// A browser opens for somebody who sits here, and for nobody else.
func TestWhenABrowserOpens(t *testing.T) {
	for _, tc := range []struct {
		env      string
		silent   bool
		terminal bool
		opens    bool
	}{
		{"DISPLAY", false, true, true},
		{"DISPLAY", true, true, false},
		{"DISPLAY", false, false, false},
		{"DISPLAY CI", false, true, false},
		{"DISPLAY SSH_CONNECTION", false, true, false},
	} {
		h := &hosting{silent: tc.silent}
		env := func(name string) string {
			if slices.Contains(strings.Fields(tc.env), name) {
				return "x"
			}
			return ""
		}
		if why := h.unshown(env, tc.terminal); (why == "") != tc.opens {
			t.Errorf("%+v: %q", tc, why)
		}
	}
}
