package hub_test

import (
	"context"
	"net"
	"net/http"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/store/redis/redistest"
)

// claimed adds a header to each request, as someone who would be another may.
type claimed struct {
	http.RoundTripper
	header string
}

func (c claimed) RoundTrip(r *http.Request) (*http.Response, error) {
	if c.header != "" {
		r.Header.Set("Fieldsign-Forwarded-For", c.header)
	}
	return c.RoundTripper.RoundTrip(r)
}

// The owner counts a phone by the address that the phone came from, also where
// another hub forwards it; and nobody but a hub may say what that is.
func TestAForwardedPhoneCountsByItsOwnAddress(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	owner, next := openMember(t, ctx, address), openMember(t, ctx, address)
	owner.create()
	owner.hub.AllowJoins(1)
	owner.hub.StopRefills()
	for _, c := range []struct {
		name, from string
		by         *member
		claims     string
		want       string
	}{
		{"Wrens", "127.0.0.2", next, "", "welcome"},
		{"Otters", "127.0.0.2", next, "", "too_many_joins"},
		{"Herons", "127.0.0.2", owner, "", "too_many_joins"}, // one count for both ways
		{"Voles", "127.0.0.3", next, "", "welcome"},          // not the hub's
		{"Shrews", "127.0.0.2", owner, "127.0.0.9:1 00", "too_many_joins"},
		{"Moles", "127.0.0.2", next, "127.0.0.9:1 00", "too_many_joins"},
		{"Hares", "127.0.0.2", owner, "127.0.0.9:1", "too_many_joins"},
	} {
		conn, err := bot.DialBy(ctx, &http.Client{Transport: claimed{comingFrom(c.from), c.claims}}, c.by.url, owner.code)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got := joined(t, ctx, conn, c.name); got != c.want {
			t.Errorf("%s from %s: %s, want %s", c.name, c.from, got, c.want)
		}
	}
}

// joined is what a team is told that wants to join: that it is welcome, or why not.
func joined(t *testing.T, ctx context.Context, conn *bot.Conn, name string) string {
	t.Helper()
	if err := conn.Send(ctx, map[string]any{"type": "join", "name": name}); err != nil {
		t.Fatal(err)
	}
	for {
		f, err := conn.Receive(ctx)
		switch {
		case err != nil:
			t.Fatal(err)
		case f.Type == "welcome":
			return f.Type
		case f.Type == "refused":
			return f.Code
		}
	}
}

// comingFrom is a way to a hub from one of the loopback's addresses.
func comingFrom(ip string) *http.Transport {
	dialer := net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(ip)}}
	return &http.Transport{DialContext: dialer.DialContext, DisableKeepAlives: true}
}
