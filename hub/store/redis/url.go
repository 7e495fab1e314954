package redis

import (
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/redis/go-redis/v9"
	"github.com/redis/go-redis/v9/maintnotifications"
)

// Forms are the addresses that Open takes.
const Forms = `redis://[user:password@]host[:port][/database]
redis+cluster://[user:password@]host:port[?addr=host:port...]
redis+sentinel://[user:password@]sentinel:port[/database]?primary=name[&addr=sentinel:port...][&sentinel_password=...]
or rediss instead of redis, for TLS`

// parse never repeats the address in an error: it may hold a password.
func parse(address string) (*redis.UniversalOptions, error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, wrong("it is no URL")
	}
	scheme, mode, _ := strings.Cut(u.Scheme, "+")
	query := u.Query()
	o := &redis.UniversalOptions{
		Addrs:                 []string{withPort(u, mode)},
		Username:              u.User.Username(),
		DialTimeout:           reaction,
		ReadTimeout:           reaction,
		WriteTimeout:          reaction,
		PoolTimeout:           reaction,
		ContextTimeoutEnabled: true,
		Protocol:              2,
		DisableIdentity:       true,
		// Servers from before 8.2 know no such notices.
		MaintNotificationsConfig: &maintnotifications.Config{Mode: maintnotifications.ModeDisabled},
	}
	o.Password, _ = u.User.Password()
	switch scheme {
	case "redis":
	case "rediss":
		o.TLSConfig = &tls.Config{MinVersion: tls.VersionTLS12}
	default:
		return nil, wrong("it begins with neither redis nor rediss")
	}
	if u.Hostname() == "" {
		return nil, wrong("it names no host")
	}
	switch mode {
	case "":
		err = only(query)
	case "cluster":
		o.IsClusterMode = true
		o.Addrs = append(o.Addrs, query["addr"]...)
		err = only(query, "addr")
	case "sentinel":
		o.MasterName, o.SentinelPassword = query.Get("primary"), query.Get("sentinel_password")
		o.Addrs = append(o.Addrs, query["addr"]...)
		if o.MasterName == "" {
			return nil, wrong("it lacks ?primary=, the name that the sentinels have for the server")
		}
		err = only(query, "addr", "primary", "sentinel_password")
	default:
		return nil, wrong("after the + it has neither cluster nor sentinel")
	}
	if err != nil {
		return nil, err
	}
	return o, database(o, strings.Trim(u.Path, "/"))
}

func withPort(u *url.URL, mode string) string {
	port := u.Port()
	switch {
	case port != "":
	case mode == "sentinel":
		port = "26379"
	default:
		port = "6379"
	}
	return net.JoinHostPort(u.Hostname(), port)
}

func database(o *redis.UniversalOptions, path string) (err error) {
	if path == "" {
		return nil
	}
	if o.IsClusterMode {
		return wrong("a cluster has no numbered databases")
	}
	if o.DB, err = strconv.Atoi(path); err != nil || o.DB < 0 {
		return wrong("its path is not the number of a database")
	}
	return nil
}

func only(query url.Values, known ...string) error {
	for name := range query {
		if !slices.Contains(known, name) {
			return wrong(fmt.Sprintf("it has ?%s=, which means nothing here", name))
		}
	}
	return nil
}

func wrong(why string) error {
	return errors.New("the address of Redis can't be used: " + why + ". It has one of these forms:\n" + Forms)
}
