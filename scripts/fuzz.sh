#!/bin/sh
# Runs every fuzz target of the module for the time given (default 60s each).
set -eu
time=${1:-60s}
for pkg in $(go list ./...); do
	for target in $(go test -list '^Fuzz' "$pkg" | grep '^Fuzz' || true); do
		echo "== $pkg $target"
		go test -run '^$' -fuzz "^$target\$" -fuzztime "$time" "$pkg"
	done
done
