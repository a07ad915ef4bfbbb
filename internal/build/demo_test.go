package build

import (
	"os"
	"path/filepath"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// demo reads one of the demo pieces with its shop.
func demo(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	open := func(file string) *os.File {
		f, err := os.Open(filepath.Join("..", "..", "demo", file))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, open(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, open(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

// built is a demo built, with every part by name.
func built(t testing.TB, name string) Model {
	t.Helper()
	p, s := demo(t, name)
	m, err := Make(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func find(t testing.TB, m Model, name string) Part {
	t.Helper()
	for _, p := range m.Parts {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no part %q", name)
	return Part{}
}

func wantSize(t testing.TB, what string, got unit.Length, want float64) {
	t.Helper()
	if d := got.MM() - want; d > 0.005 || d < -0.005 {
		t.Errorf("%s is %.3f mm, want %.3f", what, got.MM(), want)
	}
}

// Plain geometry from the stated inputs, worked by hand.
func TestRecordCabinet(t *testing.T) {
	m := built(t, "record-cabinet")
	shell := find(t, m, "shell")
	if shell.Count != 2 {
		t.Errorf("%d half shells share a letter, want 2", shell.Count)
	}
	wantSize(t, "half shell", shell.Length.Size, 1838.185)
	if len(shell.Kerfs) != 2 {
		t.Fatalf("%d kerf groups on a half shell, want 2", len(shell.Kerfs))
	}
	b := m.Bends[shell.Kerfs[0].Bend]
	if n := b.Design.Result.Count; n != 13 {
		t.Errorf("%d kerfs in a corner, want 13 (12.14 by the lever)", n)
	}
	wantSize(t, "zone", shell.Kerfs[0].Zone, 124.093)
	wantSize(t, "first kerf", shell.Kerfs[0].Positions[0], 670+124.093/26)
	wantSize(t, "stile", find(t, m, "outer stile").Length.Size, 410)
	wantSize(t, "leg", find(t, m, "leg").Length.Size, 152.93)
	wantSize(t, "back", find(t, m, "back").Length.Size, 1492)
	wantSize(t, "back", find(t, m, "back").Width.Size, 402)
	for _, o := range m.Openings {
		wantSize(t, o.Name, o.Width.Size, 464)
	}
}

func TestClinicCabinet(t *testing.T) {
	m := built(t, "clinic-cabinet")
	shell := find(t, m, "shell")
	wantSize(t, "U", shell.Length.Size, 1488.94)
	if n := m.Bends[0].Design.Result.Count; n != 8 {
		t.Errorf("%d kerfs, want 8: 7 close at 90.06 degrees with no margin", n)
	}
}

func TestChest(t *testing.T) {
	m := built(t, "chest")
	for i, want := range []float64{5, 6, 7, 8, 8.75} {
		o := m.Openings[i]
		wantSize(t, o.Name, o.Width.Size, 17.5*25.4)
		wantSize(t, o.Name, o.Height.Size, want*25.4)
	}
	wantSize(t, "side", find(t, m, "side").Length.Size, 40.25*25.4)
}
