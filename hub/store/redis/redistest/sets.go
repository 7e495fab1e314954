//go:build unix

package redistest

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/lab/ports"
)

// Cluster is a set of primaries that share the keys.
type Cluster struct{ Nodes []*Server }

// StartCluster starts three primaries, each with as many replicas.
func StartCluster(t testing.TB, replicas int, settings ...string) *Cluster {
	t.Helper()
	c := &Cluster{}
	args := []string{"--cluster", "create"}
	for range 3 * (1 + replicas) {
		own := []string{"--cluster-enabled", "yes", "--cluster-port", strconv.Itoa(ports.Free(t)), "--cluster-node-timeout", "2000", "--repl-diskless-sync-delay", "0"}
		n := Start(t, append(own, settings...)...)
		c.Nodes = append(c.Nodes, n)
		args = append(args, n.Addr())
	}
	args = append(args, "--cluster-replicas", strconv.Itoa(replicas), "--cluster-yes")
	if out, err := exec.Command(Need(t, "redis-cli"), args...).CombinedOutput(); err != nil {
		t.Fatalf("redis-cli --cluster create: %v: %s", err, out)
	}
	Eventually(t, "cluster that is ready", func() error {
		for _, n := range c.Nodes {
			if info := n.Do("cluster", "info"); !strings.Contains(info, "cluster_state:ok") {
				return errors.New(info)
			}
			// A replica that never had all of its primary's keys can't replace it.
			if info := n.Do("info", "replication"); strings.Contains(info, "master_link_status:down") {
				return errors.New(info)
			}
		}
		return nil
	})
	return c
}

// Primaries are the nodes that live and are one.
func (c *Cluster) Primaries() (list []*Server) {
	for _, n := range c.Nodes {
		if role, err := n.CLI("role"); err == nil && strings.HasPrefix(role, "master") {
			list = append(list, n)
		}
	}
	return list
}

// Whole has nothing to say where all nodes agree, and each replica follows its primary.
func (c *Cluster) Whole() error {
	for _, n := range c.Nodes {
		info, err := n.CLI("cluster", "info")
		if err != nil || !strings.Contains(info, "cluster_state:ok") {
			return fmt.Errorf("%s: %s %v", n.Addr(), info, err)
		}
		if info, err = n.CLI("info", "replication"); err != nil || strings.Contains(info, "master_link_status:down") {
			return fmt.Errorf("%s: %s %v", n.Addr(), info, err)
		}
	}
	if n := len(c.Primaries()); n != 3 {
		return fmt.Errorf("%d primaries", n)
	}
	return nil
}

// URL is the cluster's address for the store.
func (c *Cluster) URL() string {
	return "redis+cluster://" + c.Nodes[0].Addr() + "?addr=" + c.Nodes[1].Addr() + "&addr=" + c.Nodes[2].Addr()
}

// Owner is the node whose log has the key, as the first node sees it.
func (c *Cluster) Owner(key string) *Server {
	slot := c.Nodes[0].Do("cluster", "keyslot", key)
	for _, n := range c.Nodes {
		if n.Do("cluster", "countkeysinslot", slot) != "0" && strings.HasPrefix(n.Do("role"), "master") {
			return n
		}
	}
	return nil
}

// HandOver has a replica take over from its primary, which goes on as a replica.
func (c *Cluster) HandOver(t testing.TB, primary *Server) {
	t.Helper()
	Eventually(t, "primary that is a replica", func() error {
		for _, n := range c.Nodes {
			if strings.HasPrefix(n.Do("role"), "slave\n127.0.0.1\n"+strconv.Itoa(primary.Port)) {
				n.CLI("cluster", "failover") // the others may refuse for a moment: asked again
			}
		}
		time.Sleep(500 * time.Millisecond)
		if role := primary.Do("role"); !strings.HasPrefix(role, "slave") {
			return errors.New(role)
		}
		return nil
	})
}

// Watched is a primary with replicas, watched by sentinels.
type Watched struct {
	Servers   []*Server // the first is the primary at the start
	Sentinels []*Server
}

// primaryName is what the sentinels call the primary.
const primaryName = "games"

// StartWatched starts a primary, two replicas and three sentinels that take a
// server for dead after a second.
func StartWatched(t testing.TB, settings ...string) *Watched {
	t.Helper()
	w := &Watched{}
	settings = append([]string{"--repl-diskless-sync-delay", "0"}, settings...)
	primary := Start(t, settings...)
	w.Servers = append(w.Servers, primary)
	for range 2 {
		own := append([]string{"--replicaof", "127.0.0.1 " + strconv.Itoa(primary.Port)}, settings...)
		w.Servers = append(w.Servers, Start(t, own...))
	}
	Eventually(t, "primary with two replicas", func() error {
		if info := primary.Do("info", "replication"); strings.Count(info, "state=online") != 2 {
			return errors.New(info)
		}
		return nil
	})
	for range 3 {
		w.Sentinels = append(w.Sentinels, startSentinel(t, primary.Port))
	}
	Eventually(t, "sentinels that know each other", w.ready)
	return w
}

// startSentinel writes the file that a sentinel keeps its state in.
func startSentinel(t testing.TB, primary int) *Server {
	t.Helper()
	s := prepare(t)
	config := fmt.Sprintf(`port %d
bind 127.0.0.1
dir %s
logfile log
sentinel monitor %[3]s 127.0.0.1 %d 2
sentinel down-after-milliseconds %[3]s 1000
sentinel failover-timeout %[3]s 6000
`, s.Port, s.Dir, primaryName, primary)
	path := filepath.Join(s.Dir, "sentinel.conf")
	if err := os.WriteFile(path, []byte(config), 0o600); err != nil {
		t.Fatal(err)
	}
	s.args = []string{path, "--sentinel"}
	s.Restart()
	return s
}

func (w *Watched) ready() error {
	for _, s := range w.Sentinels {
		lines := strings.Fields(s.Do("sentinel", "master", primaryName))
		for name, want := range map[string]string{"num-other-sentinels": "2", "num-slaves": "2"} {
			if i := slices.Index(lines, name); i < 0 || lines[i+1] != want {
				return fmt.Errorf("%s is not %s yet", name, want)
			}
		}
	}
	return nil
}

// Whole has nothing to say where the primary has both its replicas again.
func (w *Watched) Whole() error {
	info, err := w.Primary().CLI("info", "replication")
	if err == nil && strings.Count(info, "state=online") != 2 {
		err = errors.New(info)
	}
	return err
}

// Primary is the server that the first sentinel names.
func (w *Watched) Primary() *Server {
	lines := strings.Fields(w.Sentinels[0].Do("sentinel", "get-master-addr-by-name", primaryName))
	for _, s := range w.Servers {
		if len(lines) == 2 && lines[1] == strconv.Itoa(s.Port) {
			return s
		}
	}
	return nil
}

// URL is the set's address for the store.
func (w *Watched) URL() string {
	address := "redis+sentinel://" + w.Sentinels[0].Addr() + "?primary=" + primaryName
	for _, s := range w.Sentinels[1:] {
		address += "&addr=" + s.Addr()
	}
	return address
}
