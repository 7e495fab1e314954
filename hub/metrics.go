package hub

import (
	"net/http"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// metrics count what the hub does. No label names a team or a game.
type metrics struct {
	registry    *prometheus.Registry
	connections *prometheus.GaugeVec   // by role
	drops       *prometheus.CounterVec // connections that the hub has ended, by reason
	refused     *prometheus.CounterVec // frames, by the refusal's code
	fanOut      prometheus.Histogram
	buzz        prometheus.Histogram
	append      prometheus.Histogram
	forwarded   prometheus.Gauge
}

func newMetrics(games func() float64) *metrics {
	counter := func(name, help, label string) *prometheus.CounterVec {
		return prometheus.NewCounterVec(prometheus.CounterOpts{Namespace: "fieldsign", Name: name, Help: help}, []string{label})
	}
	seconds := func(name, help string) prometheus.Histogram {
		return prometheus.NewHistogram(prometheus.HistogramOpts{Namespace: "fieldsign", Name: name, Help: help, Buckets: prometheus.ExponentialBuckets(50e-6, 2, 18)})
	}
	m := &metrics{
		registry:    prometheus.NewRegistry(),
		connections: prometheus.NewGaugeVec(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "connections", Help: "Open connections by role."}, []string{"role"}),
		drops:       counter("drops_total", "Connections that the hub has ended, by reason.", "reason"),
		refused:     counter("frames_refused_total", "Frames from clients that had no effect, by code.", "code"),
		fanOut:      seconds("fanout_seconds", "From the start of a broadcast until its last write was handed over."),
		buzz:        seconds("buzz_seconds", "From the receipt of the first press until all have been sent who holds the buzz."),
		append:      seconds("store_append_seconds", "How long the store took to keep a batch of events."),
		forwarded:   prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "forwarded", Help: "Open connections whose game another hub runs."}),
	}
	m.registry.MustRegister(m.connections, m.drops, m.refused, m.fanOut, m.buzz, m.append, m.forwarded,
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "games", Help: "Games that the hub holds."}, games),
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

// Metrics serves the hub's figures to Prometheus. It is for the loopback only.
func (h *Hub) Metrics() http.Handler {
	return promhttp.HandlerFor(h.metrics.registry, promhttp.HandlerOpts{})
}
