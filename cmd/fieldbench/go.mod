module fieldsign/cmd/fieldbench

go 1.26.0

require (
	fieldsign v0.0.0
	github.com/gorilla/websocket v1.5.3
)

require (
	codeberg.org/go-pdf/fpdf v0.12.0 // indirect
	github.com/arran4/golang-ical v0.3.4 // indirect
	github.com/beorn7/perks v1.0.1 // indirect
	github.com/cespare/xxhash/v2 v2.3.0 // indirect
	github.com/mtibben/confusables v0.0.0-20210201002637-9d1b0723b659 // indirect
	github.com/munnerz/goautoneg v0.0.0-20191010083416-a7dc8b61c822 // indirect
	github.com/piglig/go-qr v1.1.0 // indirect
	github.com/prometheus/client_golang v1.25.0 // indirect
	github.com/prometheus/client_model v0.6.3 // indirect
	github.com/prometheus/common v0.72.1 // indirect
	github.com/prometheus/procfs v0.22.0 // indirect
	github.com/redis/go-redis/v9 v9.23.0 // indirect
	go.etcd.io/bbolt v1.5.0 // indirect
	go.uber.org/atomic v1.12.0 // indirect
	golang.org/x/image v0.48.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/text v0.44.0 // indirect
	golang.org/x/time v0.16.0 // indirect
	google.golang.org/protobuf v1.36.12 // indirect
)

replace fieldsign => ../..
