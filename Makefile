# Thin runner: every recipe is a few commands that can be typed by hand.
OUT ?= out
PIECE ?= demo/record-cabinet.yaml

.PHONY: all build web run papers test go-test web-test journeys paint types explore lint bench speed load wasm fuzz clean

all: build

# The pages are built before the program that carries them.
build: web
	go build -o bin/casewright ./cmd/casewright

web: web/dist/index.html

WEB = $(shell find web/src web/public -type f 2>/dev/null) web/index.html web/vite.config.ts
web/dist/index.html: web/node_modules/.package-lock.json $(WEB)
	cd web && npx vite build --logLevel warn
	@touch web/dist/.keep

web/node_modules/.package-lock.json: web/package-lock.json
	cd web && PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 npm ci --no-audit --no-fund --loglevel=error
	@touch $@

# The workbench in the browser, with the demo pieces in it. The papers of one
# demo piece are written to out/ first.
run: papers
	./bin/casewright serve

papers: build
	./bin/casewright plan $(PIECE) --out $(OUT)/$(basename $(notdir $(PIECE)))

# Property tests draw from a fixed seed, so that a run can be repeated; "make
# explore" draws anew, and more.
SEED ?= 20261125
CHECKS ?= 1000
ALL = $(shell go list ./... | grep -v /node_modules/)
PROPERTY = $(shell go list -f '{{.ImportPath}} {{.TestImports}} {{.XTestImports}}' ./... | grep pgregory.net/rapid | cut -d' ' -f1)

test: lint wasm go-test web-test journeys

go-test:
	go test $(filter-out $(PROPERTY),$(ALL))
	go test $(PROPERTY) -rapid.seed=$(SEED)

# Types of the pages against the API's own description, then their units.
web-test: build
	./bin/casewright openapi | cmp - web/openapi.json || (echo "web/openapi.json is not current: make types" && false)
	cd web && npx openapi-typescript openapi.json -o node_modules/.types.ts >/dev/null && cmp node_modules/.types.ts src/api/schema.ts
	cd web && npx svelte-check --tsconfig ./tsconfig.json --fail-on-warnings --output machine
	cd web && npx vitest run --reporter dot
	node web/budget.mjs

# The real program in a real browser (Debian's chromium, or CHROMIUM).
journeys: build
	cd web && npx playwright test

# When pages show themselves, on this machine.
paint: build
	node web/paint.mjs

types:
	go build -o bin/casewright ./cmd/casewright
	./bin/casewright openapi > web/openapi.json
	cd web && npx openapi-typescript openapi.json -o src/api/schema.ts

explore:
	go test $(PROPERTY) -rapid.checks=$(CHECKS)
	cd web && THOROUGH=1 npx playwright test

lint:
	go vet $(ALL)
	test -z "$$(go tool gofumpt -l cmd demo internal web/web.go)"
	go tool staticcheck $(ALL)

# Fifty pages edit at one time: how long an edit with its plan takes.
load: build
	go run ./internal/server/load

# A published plan will carry the engine into the reader's browser.
ENGINE = $(shell go list ./internal/... | grep -v -e 'internal$$' -e /store -e /server -e /cli -e /app)
wasm:
	GOOS=js GOARCH=wasm go build $(ENGINE)

# The open cutting problems in INSTANCES: how the answers compare with the best
# known, with the sums that papers print, and with two packers of rectangles.
# SECONDS of processor time for each case, or MOVES, which give the same answers
# on any machine; TIER=all takes every case. A run that was stopped goes on
# where it was; a changed engine or budget begins anew.
INSTANCES ?= ../shared/bench
SECONDS ?= 1
TIER ?= core
MOVES ?=
KEPT = $(OUT)/bench/$(if $(MOVES),$(MOVES)-moves,$(SECONDS)s).jsonl
bench:
	@mkdir -p bin $(dir $(KEPT))
	@go build -trimpath -buildvcs=false -o bin/benchfile ./internal/cutting/benchfile/run
	@if ls $(INSTANCES)/*.jsonl >/dev/null 2>&1; then \
		GOMAXPROCS=1 bin/benchfile -seconds $(if $(MOVES),1e9,$(SECONDS)) $(if $(MOVES),-iterations $(MOVES)) -tier $(TIER) -keep $(KEPT) \
			-published $(INSTANCES)/published_cells.csv $(INSTANCES)/*.jsonl; \
	else echo "no instances in $(INSTANCES): open cutting problems left out"; fi
	@echo
	@TIER=$(TIER) sh scripts/packers.sh $(INSTANCES) $(KEPT)

# All benchmarks of the packages.
speed:
	GOMAXPROCS=1 go test -run '^$$' -bench . ./internal/...

# Ten minutes over all decoders, a minute or so each.
FUZZTIME ?= 60s
fuzz:
	sh scripts/fuzz.sh $(FUZZTIME)

clean:
	rm -rf bin $(OUT) web/dist/assets web/dist/*.*
