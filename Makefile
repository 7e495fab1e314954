# make run   hosts a game        make test  installs what the tests need, and runs everything
.PHONY: run sheets test check race controls fmt lint audit bench bench-peers bench-redis takeover flood soak release licences tools clean

GO ?= go

run:
	$(GO) run ./cmd/fieldsign

# The tests of cmd/fieldsign take longest, so what they need is compiled before all else. The linters run beside the
# tests and not before: go vet and go test know nothing of each other, and would compile the same twice.
test: tools
	GOGC=400 $(TESTS) -run '^$$' ./cmd/fieldsign
	$(MAKE) -j 2 lint check
	@.ci/left

# Vet is lint's; and nobody debugs a test program of make test.
TESTS = $(GO) test -vet=off -ldflags=-w

# What takes longest begins first, so that the end is many short ones, which keep both processors at work.
LONGEST = ./cmd/fieldsign ./hub ./questions ./questions/plate ./questions/paper ./hub/plan

# All tests; under FIELDSIGN_ALL nothing may be skipped but what is long. Tests that run beside each other mostly wait,
# so more of them do than there are processors. Garbage is collected later than usual, which takes a fifth less of the
# processor.
check: export FIELDSIGN_ALL = 1
check: export FIELDSIGN_ARTIFACTS = $(CURDIR)/artifacts
check: export GOGC = 400
check:
	mkdir -p artifacts
	$(TESTS) -timeout 25m -p 3 -parallel 4 $(LONGEST) ./...

# Packages in which nothing runs beside anything else; and cmd/fieldsign, whose tests start the program as it is
# shipped, built without the race detector, which makes it up to ten times slower.
UNRACED = . ./cmd/... ./game/... ./hub/lab/fair ./hub/picture/photo ./questions/...

# All that goroutines run in, under the race detector: run it when you start one. Tests that only compute, or measure
# memory, have the build tag !race.
race:
	$(GO) test -count=1 -race -p 1 -parallel 4 -timeout 1h $$($(GO) list ./... | grep -vxF "$$($(GO) list $(UNRACED))")

# What the tests need beyond Go, from Debian; nothing is done where it is there.
tools:
	@sh .ci/tools

# What of the linters takes no compiler of its own.
lint:
	@test -z "$$(gofmt -l .)" || { echo "not gofmt'ed:"; gofmt -l .; exit 1; }
	$(GO) vet ./...
	$(GO) mod tidy -diff
	$(GO) mod verify

# The linters that are compiled first, and the modules of the benchmark and the release: two minutes.
audit:
	cd cmd/fieldbench && $(GO) vet ./...
	cd cmd/fieldrelease && $(GO) vet ./... && $(GO) test -run TestTheListOfLicences .
	$(GO) tool staticcheck ./...
	@out=$$($(GO) tool govulncheck ./... 2>&1) || case "$$out" in \
		*"fetching vulnerabilities"*) echo "govulncheck left out: its database can't be reached" ;; \
		*) echo "$$out"; exit 1 ;; esac

# Takes each control of docs/threats.md out, and says whether its test notices: half an hour.
controls:
	@.ci/controls

fmt:
	gofmt -w .

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

# The hub against a raw TCP writer and other libraries: half an hour, on a machine with nothing else to do.
bench-peers:
	cd cmd/fieldbench && $(GO) run . -out ../../docs/bench.md

# Honest phones timed beside fifty hostile clients.
flood:
	cd cmd/fieldbench && $(GO) run . -flood -phones 500 -games 10

# Redis against the file, and two hubs against one: a quarter of an hour, likewise.
bench-redis:
	cd cmd/fieldbench && $(GO) run . -against fieldsign-bolt -servers fieldsign-bolt,fieldsign-redis,fieldsign-redis-two,fieldsign-redis-forwarded \
		-phones 1000 -games 1,20 -rounds 30 -stalled 0 -out ../../docs/bench-redis.md

# How long phones are without their game when its hub is killed: 30 kills for each of two leases.
takeover:
	FIELDSIGN_TAKEOVER=30 $(GO) test -count=1 -run TestTakeOverTimes -v ./cmd/fieldsign

# What make test leaves out, or does on a small scale: a school's worth of phones for ten minutes, the fault suite 20
# times over, a thousand histories, a hundred kills, every cut and flip of the file, every seed of 24 bits tried out on
# a game, every screen by keys and in both languages, all that goroutines run in under the race detector: two hours.
soak: audit race
	cd cmd/fieldbench && $(GO) test ./...
	cd cmd/fieldrelease && $(GO) test -timeout 20m ./...
	cd cmd/fieldbench && $(GO) run . -soak 10m -phones 5000 -games 100
	FIELDSIGN_SOAK=20 FIELDSIGN_ALL=1 $(GO) test -count=1 -p 1 -timeout 2h -v -run "$$(.ci/left --run)" ./...

# The pictures of docs/guide.md, docs/tour.md and the README, of an evening that is played in Chromium; needs ImageMagick to make them small.
.PHONY: guide
guide: tools
	@command -v convert >/dev/null || { echo "make guide needs ImageMagick: install it first"; exit 1; }
	rm -rf artifacts/guide && mkdir -p artifacts/guide docs/guide
	FIELDSIGN_SOAK=1 FIELDSIGN_ALL=1 FIELDSIGN_ARTIFACTS=$(CURDIR)/artifacts/guide $(GO) test -count=1 -run TestTheGuideInPictures ./cmd/fieldsign
	rm -f docs/guide/*.png
	cd artifacts/guide && for p in guide-*.png; do convert "$$p" -resize '800x>' +dither -colors 40 -strip -define png:compression-level=9 "png8:../../docs/guide/$${p#guide-}"; done

# The contact sheets in docs, of all drawings that there are; needs ImageMagick too. A sheet is NAME:SCALE.
sheets: tools
	@command -v convert >/dev/null || { echo "make sheets needs ImageMagick: install it first"; exit 1; }
	rm -rf artifacts/sheets && mkdir -p artifacts/sheets
	FIELDSIGN_ARTIFACTS=$(CURDIR)/artifacts/sheets $(GO) test -count=1 -run TestContactSheet ./questions/plate
	cd artifacts/sheets && for s in skulls:1 skulls-side:1 deer-jaws:1.6 plates-prints:1 plates-scat:1 plates-trails:1 plates-signs:1.2; do \
		name=$${s%%:*}; \
		size=$$(head -c 200 $$name.svg | sed -n '1s/^<svg xmlns="[^"]*" width="\([0-9]*\)" height="\([0-9]*\)".*/\1,\2/p'); \
		chromium-headless-shell --no-sandbox --disable-gpu --hide-scrollbars --force-device-scale-factor=$${s##*:} --window-size=$$size --screenshot=$$name.png "file://$$PWD/$$name.svg"; \
		convert $$name.png -resize '1920x>' +dither -colors 48 -strip -define png:compression-level=9 "png8:../../docs/$$name.png"; done

# The programs for six systems with checksums, bills of materials and licence texts, in dist/.
release:
	cd cmd/fieldrelease && $(GO) run . -root ../.. -out ../../dist

# The list of dependencies and their licences; the tests fail when it is not up to date.
licences:
	cd cmd/fieldrelease && $(GO) run . -root ../.. -licences ../../docs/licences.md

clean:
	rm -rf artifacts bin dist
