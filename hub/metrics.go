package hub

import (
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"

	"fieldsign/hub/table"
)

// metrics count what the hub does. No label names a team or a game.
type metrics struct {
	registry  *prometheus.Registry
	tables    *table.Metrics
	forwarded prometheus.Gauge
}

func newMetrics(games func() float64) *metrics {
	r := prometheus.NewRegistry()
	m := &metrics{registry: r, tables: table.NewMetrics(r),
		forwarded: prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "forwarded", Help: "Open connections whose game another hub runs."})}
	r.MustRegister(m.forwarded,
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "games", Help: "Games that the hub holds."}, games),
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}
