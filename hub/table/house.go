package table

import (
	"context"
	"log/slog"
	"time"

	"github.com/prometheus/client_golang/prometheus"

	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/store"
)

// House is what the tables of a hub share. None of its functions waits.
type House struct {
	Context  context.Context      // ends when the hub stops
	Clock    func() time.Duration // monotonic
	Store    store.Store
	Leases   *Leases // where hubs share the store
	Planner  *plan.Planner
	Pictures *picture.Cabinet
	Gate     *gate.Gate
	Refused  *names.List // that no team may have
	Metrics  *Metrics
	Log      *slog.Logger

	JoinAt  func() string            // the host name and port that phones reach
	JoinURL func(code string) string // where a phone joins a game
	Later   func(func())             // runs what takes a while beside the table
	Begun   func(game.State)         // is told of a game once that has begun, and Ended once it has ended: each as it is stored
	Ended   func(game.State)
}

// Leases are how a hub holds games in a store that several hubs share.
type Leases struct {
	Store  store.Shared
	Hub    string        // this hub's name in them: the address at which the others reach it
	Length time.Duration // of each, from its last renewal
}

// Metrics count what tables do. No label names a team or a game.
type Metrics struct {
	clients *audience.Metrics
	fanOut  prometheus.Histogram
	buzz    prometheus.Histogram
	append  prometheus.Histogram
}

// NewMetrics makes them and has a registry collect them.
func NewMetrics(r prometheus.Registerer) *Metrics {
	seconds := func(name, help string) prometheus.Histogram {
		return prometheus.NewHistogram(prometheus.HistogramOpts{Namespace: "fieldsign", Name: name, Help: help, Buckets: prometheus.ExponentialBuckets(50e-6, 2, 18)})
	}
	m := &Metrics{
		clients: audience.NewMetrics(r),
		fanOut:  seconds("fanout_seconds", "From the start of a broadcast until its last write was handed over."),
		buzz:    seconds("buzz_seconds", "From the receipt of the first press until all have been sent who holds the buzz."),
		append:  seconds("store_append_seconds", "How long the store took to keep a batch of events."),
	}
	r.MustRegister(m.fanOut, m.buzz, m.append)
	return m
}
