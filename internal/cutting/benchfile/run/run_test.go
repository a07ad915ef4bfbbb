package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A run that was stopped goes on from what is kept; another budget begins anew.
func TestKept(t *testing.T) {
	name := filepath.Join(t.TempDir(), "kept.jsonl")
	b := budget{"engine", 1, 1000, 1}
	k, err := openKept(name, b)
	if err != nil {
		t.Fatal(err)
	}
	one := answer{caseKey: caseKey{"f", "a", "O"}, Valid: true, Value: 3, Bound: 3, Proven: true, Seconds: 0.5}
	if err := k.add(one); err != nil {
		t.Fatal(err)
	}
	if _, err := k.f.WriteString(`{"file":"f","inst`); err != nil { // broken off
		t.Fatal(err)
	}
	k.Close()
	for range 2 {
		if k, err = openKept(name, b); err != nil {
			t.Fatal(err)
		}
		got, ok := k.find(one.caseKey)
		if _, two := k.find(caseKey{"f", "a", "R"}); !ok || got != one || two || len(k.done) != 1 {
			t.Fatalf("%+v %t %d", got, ok, len(k.done))
		}
		k.Close()
	}
	b.Seconds = 10
	if k, err = openKept(name, b); err != nil {
		t.Fatal(err)
	}
	if len(k.done) != 0 {
		t.Error("answers of another budget were kept")
	}
	k.Close()
	if text, err := os.ReadFile(name); err != nil || strings.Count(string(text), "\n") != 1 {
		t.Errorf("%s %v", text, err)
	}
}

// Sums are told for cells that were run whole only.
func TestPublishedSums(t *testing.T) {
	name := filepath.Join(t.TempDir(), "cells.csv")
	const table = "cell,case,instances,area_lower,lower,best,one\na,O,2,3,4,5,6\nb,O,1,1,2,2,\nc,O,3,1,1,1,1\na,R,2,3,4,5,6\n"
	if err := os.WriteFile(name, []byte(table), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := readPublished(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"a", "a", "b", "c"} {
		p.add(k, "O", answer{Valid: k != "b", Value: 3, Bound: 2})
	}
	p.add("", "O", answer{})
	var b strings.Builder
	p.write(&b)
	const want = `
cells, case O    ours  bound  lower   best    one
a                   6      4      4      5      6
b                   3      2      2      2      -  not all laid out
all                 9      6      6      7      -  not all laid out
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
	if p.has("") || !p.has("c") || (*published)(nil).has("c") {
		t.Error("which cells are known")
	}
}
