package wood

import (
	"slices"

	"casewright/internal/unit"
)

// Panel is a kind of sheet good, as a yard means it. Figures are typical; a
// measured thickness or a weighed sheet always goes before them.
type Panel struct {
	Key  string // "birch-ply"
	Name string
	Core string // what is between the faces: "veneer", "fibre", "particle"

	Density   unit.Density
	DensityBy Source

	// Bending moduli of the whole panel with the face grain along or across
	// the span; low values, for sag.
	EAlong, EAcross unit.Stress
	ModulusBy       Source

	FacePly   unit.Length // usual thickness of the face veneer; 0: no veneer
	FacePlyBy Source

	// Creep is k_def in a heated room: long-term sag is (1 + Creep) times the
	// first sag.
	Creep   float64
	CreepBy Source

	bend      string
	tolerance string
}

// FindPanel is the panel kind of that key.
func FindPanel(key string) (Panel, bool) {
	i := slices.IndexFunc(known.panels, func(p Panel) bool { return p.Key == key })
	if i < 0 {
		return Panel{}, false
	}
	return known.panels[i], true
}

// AllPanels is the table of panel kinds.
func AllPanels() []Panel { return slices.Clone(known.panels) }

// Bend is the class by which the bending of the panel is judged: "ply-round"
// with the face grain round the bend, "ply-along" with it along the kerfs,
// "mdf" whichever way; empty where the panel is not one to bend by kerfs.
func (p Panel) Bend(grainRound bool) string {
	switch {
	case p.bend != "ply":
		return p.bend
	case grainRound:
		return "ply-round"
	}
	return "ply-along"
}

// HasGrain says that the faces show a grain, so that parts may not be turned.
func (p Panel) HasGrain() bool { return p.FacePly > 0 }

// Mass is that of a sheet or part of the panel.
func (p Panel) Mass(length, width, thickness unit.Length) unit.Mass {
	return p.Density.Of(unit.VolumeOf(length, width, thickness))
}

// Tolerance is how much thicker and thinner than nominal a sheet of the kind
// may be by its standard, and false where no standard's figure is known.
func (p Panel) Tolerance(nominal unit.Length) (plus, minus unit.Length, by Source, ok bool) {
	same := func(t unit.Length, s Source) (unit.Length, unit.Length, Source, bool) { return t, t, s, true }
	switch p.tolerance {
	case "en315":
		return unit.MM(0.2) + nominal.Scale(0.03), unit.MM(0.4) + nominal.Scale(0.03),
			Source{"EN 315:2000, sanded", Checked}, true
	case "ps1":
		if nominal > unit.In(0.75) {
			return same(nominal.Scale(0.03), Source{"PS 1, sanded", Recalled})
		}
		return same(unit.Inch64, Source{"PS 1, sanded", Recalled})
	case "a208.2":
		return same(unit.MM(0.125), Source{"ANSI A208.2-2009, panel average", Seen})
	case "en312":
		return same(unit.MM(0.3), Source{"EN 312 type P2, sanded", Seen})
	}
	return 0, 0, Source{}, false
}

// Spread is how much the thickest and the thinnest spot of one sheet may
// differ by its standard, and false where no standard's figure is known.
func (p Panel) Spread(nominal unit.Length) (unit.Length, Source, bool) {
	switch p.tolerance {
	case "en315":
		by := Source{"EN 315:2000, within one panel", Seen}
		if nominal > unit.MM(25) {
			return unit.MM(1.0), by, true
		}
		return unit.MM(0.6), by, true
	case "a208.2":
		return unit.MM(0.25), Source{"ANSI A208.2-2009, within one panel", Seen}, true
	}
	return 0, Source{}, false
}

// SideTolerance is how much longer and shorter than nominal a side of a sheet
// may be, and false where no figure is known. The mills' plywood figures are
// printed for 1220 to 1250 mm and 2440 to 2500 mm; sides between go with the
// nearer.
func (p Panel) SideTolerance(side unit.Length) (plus, minus unit.Length, by Source, ok bool) {
	switch p.tolerance {
	case "en315":
		by = Source{"EN 315 as applied by two birch mills", Seen}
		if side < unit.MM(1845) {
			return unit.MM(3), unit.MM(3), by, true
		}
		return unit.MM(4), unit.MM(4), by, true
	case "ps1":
		return 0, unit.Inch / 16, Source{"PS 1", Quoted}, true
	case "a208.2":
		return unit.MM(2), unit.MM(2), Source{"ANSI A208.2-2009", Seen}, true
	case "en312":
		return unit.MM(5), unit.MM(5), Source{"EN 312 type P2", Seen}, true
	}
	return 0, 0, Source{}, false
}

// Sold is a size as it is sold and what it really is.
type Sold struct {
	Kind    string      // key of the panel
	Label   string      // "3/4 in", "18 mm"
	Nominal unit.Length // what the label says
	Actual  unit.Length // mean
	Least   unit.Length // thinnest by the data sheet; 0: not published
	Most    unit.Length // thickest; 0: not published
	Plies   int         // 0: not published
	Source  Source
}

// Slack is the play of a panel of the measured thickness in a groove cut to
// the label; negative when it does not go in.
func (s Sold) Slack(measured unit.Length) unit.Length { return s.Nominal - measured }

// Sold is the thicknesses in which the kind is commonly sold, thinnest first,
// where they differ from what the label says. It may be empty.
func (p Panel) Sold() []Sold {
	var out []Sold
	for _, s := range known.sold {
		if s.Kind == p.Key {
			out = append(out, s)
		}
	}
	return out
}

// CutSize is what to cut so that a part has its finished size once it is
// banded on one edge, or on both of a pair: the finished size less the bands.
func CutSize(finished unit.Length, bands ...unit.Length) unit.Length {
	for _, b := range bands {
		finished -= b
	}
	return finished
}

// Laminate is the bending modulus of a panel of equal plies, each turned by a
// right angle to the next, for a span along and across the face grain, from
// the moduli of one ply along and across its own grain. An even or
// non-positive count of plies gives zeros: such a panel is not balanced.
// Textbook lamination theory, exact for thin plies.
func Laminate(plies int, along, across unit.Stress) (faceAlong, faceAcross unit.Stress) {
	if plies < 1 || plies%2 == 0 {
		return 0, 0
	}
	// With twice the distance from the middle counted in plies, ply i lies
	// between 2i-n and 2i+2-n; its share of the stiffness is the difference
	// of the cubes.
	cube := func(i int) float64 {
		z := float64(2*i - plies)
		return z * z * z
	}
	var own, crossed float64
	for i := range plies {
		if i%2 == 0 {
			own += cube(i+1) - cube(i)
		} else {
			crossed += cube(i+1) - cube(i)
		}
	}
	whole := own + crossed
	own, crossed = own/whole, crossed/whole
	return unit.Stress(own)*along + unit.Stress(crossed)*across,
		unit.Stress(own)*across + unit.Stress(crossed)*along
}

func panelOf(r row) Panel {
	return Panel{
		Key: r.Text("key"), Name: r.Text("name"), Core: r.Text("core"), bend: r.Text("bend"),
		Density: unit.Density(r.Number("density_kg_m3")), DensityBy: r.source("density"),
		EAlong: unit.Stress(r.Number("e_along_mpa")), EAcross: unit.Stress(r.Number("e_across_mpa")),
		ModulusBy: r.source("e"), FacePly: r.mm("face_ply_mm"), FacePlyBy: r.source("face"),
		Creep: r.Number("k_def"), CreepBy: r.source("k"),
		tolerance: r.Text("tolerance"),
	}
}

func soldOf(r row) Sold {
	return Sold{
		Kind: r.Text("kind"), Label: r.Text("label"),
		Nominal: r.mm("nominal_mm"), Actual: r.mm("actual_mm"),
		Least: r.mm("least_mm"), Most: r.mm("most_mm"),
		Plies: int(r.Number("plies")), Source: r.source(""),
	}
}
