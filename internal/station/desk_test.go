package station

import (
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// TestDesk: the numbers of the desk are those of the plan, each sum adds up,
// and every path it names is a field that can be changed.
func TestDesk(t *testing.T) {
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "chest"} {
		t.Run(name, func(t *testing.T) {
			p := demo(t, name, "")
			d := DeskPage(p)
			if len(d.Parts) != len(p.Model.Parts) || len(d.Openings) != len(p.Model.Openings) || len(d.Findings) != len(p.Findings) {
				t.Fatalf("%d parts, %d openings, %d findings", len(d.Parts), len(d.Openings), len(d.Findings))
			}
			text := p.Piece.Marshal()
			can := func(path, do, value string) {
				t.Helper()
				if _, err := document.Edit("", piece.Doc, piece.Piece{}, text, []document.Change{{Path: path, Do: do, Value: value}}); err != nil {
					t.Error(err)
				}
			}
			for _, f := range d.Follows {
				can(f.Path, "set", f.Own)
			}
			for _, f := range d.Findings {
				if f.Fix == nil {
					continue
				}
				for _, c := range f.Fix.Changes {
					can(c.Path, c.Do, c.Value)
				}
			}
			for i, q := range d.Parts {
				if q.Path == "" {
					t.Errorf("part %s comes from nowhere", q.Letter)
				}
				sum(t, q.Letter+" length", p.Model.Parts[i].Length.Size, q.Length)
				sum(t, q.Letter+" width", p.Model.Parts[i].Width.Size, q.Width)
			}
		})
	}
}

// sum adds up what a sum shows, in the rounding it is shown in.
func sum(t *testing.T, what string, want unit.Length, d DeskSize) {
	t.Helper()
	if len(d.Why) == 0 {
		return
	}
	var got unit.Length
	for _, s := range d.Why {
		if s.Sign == "÷" {
			n, _ := unit.ParseLength(s.Size, unit.Metric)
			got = unit.Length(float64(got) / n.MM())
			continue
		}
		n, size, many := strings.Cut(s.Size, " × ")
		times := unit.Millimetre
		if many {
			times, _ = unit.ParseLength(n, unit.Metric)
		} else {
			size = s.Size
		}
		l, err := unit.ParseLength(strings.TrimPrefix(size, unit.Approx), unit.Metric)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		l *= times / unit.Millimetre
		if s.Sign == "−" {
			l = -l
		}
		got += l
	}
	if off := (got - want).Abs(); off > unit.Inch32*unit.Length(len(d.Why)) {
		t.Errorf("%s: the steps come to %v, it is %v", what, got, want)
	}
}

// A new drawer is given the first runner that is offered: a side runner, where
// the shop has one, whatever the keys are called. What is usual first: common
// practice, no source.
func TestUsualRunnersComeFirst(t *testing.T) {
	s := shop.Shop{Hardware: map[string]shop.Hardware{
		"a-wooden": {Kind: "wooden-runner"}, "b-corner": {Kind: "corner-runner"}, "c-under": {Kind: "under-runner"}, "d-side": {Kind: "side-runner"}, "e-side": {Kind: "side-runner"},
	}}
	for _, o := range offers(s) {
		if o.Of != "runner" {
			continue
		}
		var got []string
		for _, k := range o.Keys {
			got = append(got, k.Key)
		}
		if want := "d-side e-side c-under b-corner a-wooden"; strings.Join(got, " ") != want {
			t.Errorf("%v, %s is wanted", got, want)
		}
		return
	}
	t.Error("no runners are offered")
}
