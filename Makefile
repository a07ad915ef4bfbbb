# Thin runner: every recipe is one or two commands that can be typed by hand.
OUT ?= out

.PHONY: all build run test explore lint bench wasm fuzz clean

all: build

build:
	go build -o bin/casewright ./cmd/casewright

# The main job on a demo piece: papers, drawings, tables and plan.json.
run: build
	./bin/casewright plan demo/record-cabinet.yaml --shop demo/record-cabinet.shop.yaml --out $(OUT)/record-cabinet

# Property tests draw from a fixed seed, so that a run can be repeated; "make
# explore" draws anew, and more.
SEED ?= 20261125
CHECKS ?= 1000
ALL = $(shell go list ./...)
PROPERTY = $(shell go list -f '{{.ImportPath}} {{.TestImports}} {{.XTestImports}}' ./... | grep pgregory.net/rapid | cut -d' ' -f1)

test: lint wasm
	go test $(filter-out $(PROPERTY),$(ALL))
	go test $(PROPERTY) -rapid.seed=$(SEED)

explore:
	go test $(PROPERTY) -rapid.checks=$(CHECKS)

lint:
	go vet ./...
	test -z "$$(go tool gofumpt -l cmd internal)"
	go tool staticcheck ./...

# A published plan will carry the engine into the reader's browser.
wasm:
	GOOS=js GOARCH=wasm go build ./internal/...

# All benchmarks; the open cutting instances too where INSTANCES holds them.
INSTANCES ?= ../shared/bench
SECONDS_EACH ?= 1
bench:
	GOMAXPROCS=1 go test -run '^$$' -bench . ./internal/...
	@if ls $(INSTANCES)/*.jsonl >/dev/null 2>&1; then \
		GOMAXPROCS=1 go run ./internal/cutting/benchfile/run -seconds $(SECONDS_EACH) $(INSTANCES)/*.jsonl; \
	else echo "no instances in $(INSTANCES): open cutting problems left out"; fi

# Ten minutes over all decoders, a minute or so each.
FUZZTIME ?= 60s
fuzz:
	sh scripts/fuzz.sh $(FUZZTIME)

clean:
	rm -rf bin $(OUT)
