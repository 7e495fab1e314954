package redis

import (
	"slices"
	"strings"
	"testing"
)

func TestAddress(t *testing.T) {
	t.Parallel()
	for address, want := range map[string]struct {
		addrs   []string
		cluster bool
		primary string
		tls     bool
		db      int
	}{
		"redis://localhost":                                {addrs: []string{"localhost:6379"}},
		"redis://u:p@[::1]:7000/3":                         {addrs: []string{"[::1]:7000"}, db: 3},
		"rediss://redis.example/":                          {addrs: []string{"redis.example:6379"}, tls: true},
		"redis+cluster://a:1?addr=b:2&addr=c:3":            {addrs: []string{"a:1", "b:2", "c:3"}, cluster: true},
		"rediss+sentinel://a/2?primary=g&addr=b:2":         {addrs: []string{"a:26379", "b:2"}, primary: "g", tls: true, db: 2},
		"redis+sentinel://u:p@a:1?primary=g":               {addrs: []string{"a:1"}, primary: "g"},
		"redis+sentinel://a?primary=g&sentinel_password=x": {addrs: []string{"a:26379"}, primary: "g"},
	} {
		o, err := parse(address)
		if err != nil {
			t.Errorf("%s: %v", address, err)
			continue
		}
		if !slices.Equal(o.Addrs, want.addrs) || o.IsClusterMode != want.cluster || o.MasterName != want.primary || (o.TLSConfig != nil) != want.tls || o.DB != want.db {
			t.Errorf("%s: %+v", address, o)
		}
		if strings.Contains(address, "u:p@") && (o.Username != "u" || o.Password != "p") {
			t.Errorf("%s: user %q, password %q", address, o.Username, o.Password)
		}
	}
	for address, want := range map[string]string{
		"localhost:6379":                 "neither redis nor rediss",
		"http://localhost":               "neither redis nor rediss",
		"redis://":                       "no host",
		"redis+ring://a":                 "neither cluster nor sentinel",
		"redis+sentinel://a":             "?primary=",
		"redis+cluster://a/1":            "numbered databases",
		"redis://u:hunter2@a/games":      "number of a database",
		"redis://u:hunter2@a?protocol=3": "?protocol=",
		"redis://u:hunter2@a b":          "no URL",
	} {
		_, err := Open(address, Options{})
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), Forms) {
			t.Errorf("%s: %v, want it to say %q", address, err, want)
		}
		if err != nil && strings.Contains(err.Error(), "hunter2") {
			t.Errorf("%s: the error shows the password: %v", address, err)
		}
	}
}
