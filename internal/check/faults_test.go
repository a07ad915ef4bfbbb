package check_test

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

// good is a piece that can be spoilt, before and after it is built.
type good struct {
	t testing.TB
	p piece.Piece
	s shop.Shop
	r record.Record
}

func (g *good) build() check.Input {
	g.t.Helper()
	m, err := build.Make(g.p, g.s, g.r)
	if err != nil {
		g.t.Fatalf("it cannot be built: %v", err)
	}
	units := g.p.Units
	return check.Input{Piece: g.p, Shop: g.s, Record: g.r, Model: m, Show: func(l unit.Length) string {
		if units == unit.Imperial {
			return l.Format(unit.Inch64ths)
		}
		return l.Format(unit.TenthMM)
	}}
}

func part(in check.Input, name string) *build.Part {
	for i := range in.Model.Parts {
		if in.Model.Parts[i].Name == name {
			return &in.Model.Parts[i]
		}
	}
	panic("no " + name)
}

func use(in check.Input, where string) *build.ScrewUse {
	for i := range in.Model.Screws {
		if in.Model.Screws[i].Where == where {
			return &in.Model.Screws[i]
		}
	}
	panic("no screws for " + where)
}

func feature(p *build.Part, f string) *build.Feature {
	for i := range p.Features {
		if p.Features[i].For == f {
			return &p.Features[i]
		}
	}
	panic("nothing for " + f)
}

// hardware changes one entry of the shop.
func (g *good) hardware(key string, change func(*shop.Hardware)) {
	h := g.s.Hardware[key]
	change(&h)
	g.s.Hardware[key] = h
}

func (g *good) panel(key string, change func(*shop.Panel)) {
	h := g.s.Panels[key]
	change(&h)
	g.s.Panels[key] = h
}

// weight is a part's mass from its outline and a density, in kilograms.
func weight(in check.Input, p build.Part) float64 {
	density := map[string]float64{"cherry": 560, "maple": 605, "birch-1/4": 680, "birch-15": 680, "birch-6": 680, "birch-12": 680, "oak-18": 600, "oak-6": 600, "cherry-ply-1/4": 600, "white-oak": 762}[p.Material]
	return float64(p.Outline.Area()) * p.Thickness.Size.Metres() * density
}

// fault is a way to spoil a demo piece: which check must find it, how grave it
// is, and the figure worked out apart from the check.
type fault struct {
	name, demo, id string
	level          finding.Level
	spoil          func(g *good, r *rand.Rand) (check.Input, string)
}

// faults are all of them; the tables stand by what is spoilt.
var faults = slices.Concat(screwFaults, woodFaults, jointFaults, loadFaults, fitFaults)

// seed is the same for a fault wherever it stands in its table.
func (f fault) seed() uint64 {
	h := fnv.New64a()
	h.Write([]byte(f.name))
	return h.Sum64()
}

// Every fault is seeded three times with figures of its own; the good piece
// does not have the finding, the spoilt one does.
func TestFaults(t *testing.T) {
	seeded := 0
	before := map[string][]finding.Finding{}
	for _, f := range faults {
		for seed := range 3 {
			t.Run(fmt.Sprintf("%s %d", f.name, seed), func(t *testing.T) {
				seeded++
				p, s := demo(t, f.demo)
				g := &good{t: t, p: p, s: s}
				if before[f.demo] == nil {
					before[f.demo] = check.All(g.build())
				}
				in, want := f.spoil(g, rand.New(rand.NewPCG(f.seed(), uint64(seed))))
				w := finding.Finding{ID: f.id, Level: f.level}
				var got []string
				for _, x := range check.All(in) {
					if x.ID != f.id {
						continue
					}
					got = append(got, x.Level.String()+" "+x.Figure)
					if x.Level >= f.level && x.Figure == want {
						w = x
					}
				}
				if w.Says == "" {
					t.Fatalf("%s says %q, want %v %s", f.id, got, f.level, want)
				}
				for _, x := range before[f.demo] {
					if x == w {
						t.Errorf("the good piece has it too: %+v", x)
					}
				}
				if w.Source == "" || w.Advice == "" || !strings.HasSuffix(w.Says, ".") {
					t.Errorf("it lacks source, advice or a full stop: %+v", w)
				}
			})
		}
	}
	if seeded < 100 {
		t.Errorf("%d faults seeded, want 100", seeded)
	}
}
