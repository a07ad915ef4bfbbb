package build

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// The hole system as hinge and pin makers state it (as quoted elsewhere):
// twelve holes span 352; behind an inset front of 19 the row is at 56.
func TestHoleSystem(t *testing.T) {
	rows := pinRows(500*mm, 1, 12)
	if n := len(rows); n != 12 {
		t.Fatalf("%d holes, want 12", n)
	}
	wantSize(t, "span", rows[11]-rows[0], 352)
	front, back, ok := Rows(firstRow+19*mm, 420*mm)
	if !ok || front != 56*mm || (back-front)%pitch != 0 {
		t.Errorf("rows at %v and %v", front, back)
	}
	if _, _, ok := Rows(firstRow, 90*mm); ok {
		t.Error("two rows in 90 mm")
	}
}

// Rows lie alike from top and bottom, on one grid, inside the opening, with
// the positions asked for where they go in.
func TestPinRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := unit.Length(rapid.IntRange(0, 3_000_000_000).Draw(t, "height"))
		shelves, holes := rapid.IntRange(1, 6).Draw(t, "shelves"), rapid.IntRange(1, 12).Draw(t, "holes")
		rows := pinRows(h, shelves, holes)
		for i, z := range rows {
			if z < pitch || z > h-pitch {
				t.Fatalf("a hole at %v in an opening of %v", z, h)
			}
			if other := rows[len(rows)-1-i]; z+other != h && z+other != h-1 { // an odd nanometre
				t.Fatalf("%v and %v are not alike from top and bottom of %v", z, other, h)
			}
			if i > 0 && (z-rows[i-1])%pitch != 0 {
				t.Fatalf("%v and %v are not on one grid", rows[i-1], z)
			}
		}
		if grid := int((h - 2*pitch) / pitch); h >= 2*pitch && grid+1 >= shelves*holes && len(rows) < holes {
			t.Fatalf("%d rows of %d", len(rows), holes)
		}
	})
}

// Holes on the left are the mirror images of those on the right: in a flat
// case both sides share one drawing.
func TestPinHolesMirror(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Shelves: &piece.Shelves{OnPins: 2, Pin: "pin-5", Holes: 5, Setback: 2 * mm}}
	m := make1(t, p, s)
	sides := partsNamed(m, "side")
	if len(sides) != 1 || sides[0].Count != 2 {
		t.Fatalf("left and right side are %d drawings, want 1", len(sides))
	}
	var left, right [][3]float64
	for _, at := range sides[0].Places {
		for _, f := range sides[0].Features {
			if f.For != "shelf pin" {
				continue
			}
			c := f.Region[0].Point
			c.X -= f.Region[0].X/2 - f.Region[1].X/2 // to the middle
			y := c.Y
			if at.Frame.Mirror {
				y = sides[0].Width.Size - y
			}
			v := at.Frame.At(c.X, y, 0)
			q := [3]float64{v.X.MM(), v.Y.MM(), v.Z.MM()}
			if v.X < 400*mm {
				left = append(left, q)
			} else {
				q[0] = 836 - q[0]
				right = append(right, q)
			}
		}
	}
	order := func(a, b [3]float64) int { return slices.Compare(a[:], b[:]) }
	slices.SortFunc(left, order)
	slices.SortFunc(right, order)
	if len(left) == 0 || !slices.Equal(left, right) {
		t.Errorf("left %v\nright %v", left, right)
	}
}

// In a bent shell the holes lie on the flats of its sides, at the same
// height left and right once it is bent: x from one end is the length less x
// from the other.
func TestPinHolesOnShell(t *testing.T) {
	m := built(t, "clinic-cabinet")
	shell := find(t, m, "shell")
	var near, far []unit.Length
	for _, f := range shell.Features {
		if f.For != "shelf pin" {
			continue
		}
		if x := (f.Region[0].X + f.Region[1].X) / 2; x < shell.Length.Size/2 {
			near = append(near, x)
		} else {
			far = append(far, shell.Length.Size-x)
		}
	}
	slices.Sort(near)
	slices.Sort(far)
	if len(near) == 0 || !slices.EqualFunc(near, far, touches) {
		t.Fatalf("near end %v\nfar end %v", near, far)
	}
	// The lowest hole by hand: the end of the shell stands 3 in over the
	// floor; the bottom's upper face 15 above that; of 528.8 clear, 14
	// pitches leave 40.4 at each end, and the lowest position used is the
	// fourth of the grid.
	wantSize(t, "lowest hole", near[0], 15+40.4+3*32)
}

// The middle bay of the record cabinet: behind a frame the shelf is as long
// as the room between the dividers, 470, less 2.
func TestShelfBehindFrame(t *testing.T) {
	s := find(t, built(t, "record-cabinet"), "shelf")
	wantSize(t, "shelf", s.Length.Size, 468)
	wantSize(t, "shelf", s.Width.Size, 420-2-1)
}

func TestFixedShelves(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Shelves: &piece.Shelves{Fixed: []unit.Length{300 * mm}, OnPins: 1, Pin: "pin-5", Holes: 3, Joint: "housing"}}
	m := make1(t, p, s)
	f := find(t, m, "fixed shelf")
	// A quarter of 18 into each side: 4.5.
	wantSize(t, "shelf", f.Length.Size, 809)
	side := find(t, m, "side")
	i := slices.IndexFunc(side.Features, func(f Feature) bool { return f.Kind == Housing && strings.HasSuffix(f.For, "fixed shelf") })
	if i < 0 {
		t.Fatal("no housing in the side")
	}
	h := side.Features[i]
	wantSize(t, "housing", h.Depth, 4.5)
	wantSize(t, "housing", h.Region[2].X-h.Region[0].X, 18)
	wantSize(t, "housing", h.Region[0].X, 18+300) // over the bottom of 18
	// The loose shelf goes where there is most room: above, 318 to 700.
	if l := find(t, m, "shelf"); l.Places[0].Frame.Origin.Z < 318*mm {
		t.Errorf("the loose shelf lies at %v", l.Places[0].Frame.Origin.Z)
	}
	for _, x := range []struct {
		fixed []unit.Length
		want  string
	}{
		{[]unit.Length{690 * mm}, "Keep it between 0 and 682 mm"},
		{[]unit.Length{300 * mm, 310 * mm}, "runs into the one at 300 mm"},
	} {
		p.Inside.Shelves.Fixed = x.fixed
		path := "inside.shelves.fixed[0]"
		if len(x.fixed) > 1 {
			path = "inside.shelves.fixed[1]"
		}
		if got := problemAt(t, p, s, path); !strings.Contains(got, x.want) {
			t.Errorf("got %q", got)
		}
	}
}

// Rows of pins opposite each other in a thin divider would meet: those of one
// face lie half a pitch further in, as deep as pins are long.
func TestPinsOpposite(t *testing.T) {
	p, s := plain(t)
	shelf := &piece.Shelves{OnPins: 1, Pin: "pin-5", Holes: 4}
	p.Inside = piece.Opening{Columns: []piece.Opening{{Shelves: shelf}, {Shelves: shelf}}}
	m := make1(t, p, s)
	div := find(t, m, "divider")
	n, rows := 0, map[unit.Length]int{}
	for _, f := range div.Features {
		if f.For == "shelf pin" {
			n++
			wantSize(t, "pin hole", f.Depth, 12)
			at := f.Region.Bounds()
			rows[((at.Min.Y+at.Max.Y)/2).Round(mm/100)]++
		}
	}
	if n != 16 || len(rows) != 4 {
		t.Errorf("%d holes in %d rows, want 16 in 4: %v", n, len(rows), rows)
	}
	for _, o := range div.Features {
		for _, f := range div.Features {
			if o.For == "shelf pin" && f.For == "shelf pin" && o.Face != f.Face && o.Region.Bounds().Meets(f.Region.Bounds()) {
				t.Errorf("holes meet at %v", o.Region.Bounds())
			}
		}
	}
	if f, ok := findingOf(m, "pins-proud"); ok {
		t.Errorf("got %+v", f)
	}
}

// Pins of 12 mm in a panel of 12 mm, less 3 mm behind them, stand 3 mm proud.
func TestPinsProud(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Shelves: &piece.Shelves{OnPins: 1, Pin: "pin-5"}}
	s.Panels = maps.Clone(s.Panels)
	thin := s.Panels[p.Materials["case"]]
	thin.Thickness = 12 * mm
	s.Panels["thin"] = thin
	p.Materials = maps.Clone(p.Materials)
	p.Materials["case"] = "thin"
	f, ok := findingOf(make1(t, p, s), "pins-proud")
	if !ok || f.Figure != "9 mm" || f.Limit != "12 mm" || !strings.Contains(f.Says, "stand 3 mm further out") {
		t.Errorf("got %+v", f)
	}
}

// What joins fixed shelves is said with the shelves, else with the case.
func TestJointOfShelves(t *testing.T) {
	const text = `
format: 1
name: rack
units: mm
materials: {case: ply-18, shelves: ply-18}
case: {kind: carcass, width: 600, height: 700, depth: 300, joints: {shelves: dowel}}
inside: {shelves: {fixed: [300]%s}}
`
	for own, want := range map[string]string{"": "dowel", ", joint: housing": "housing"} {
		p, err := piece.Decode("rack", strings.NewReader(fmt.Sprintf(text, own)))
		if err != nil {
			t.Fatal(err)
		}
		m := must(t, p)
		letter := find(t, m, "fixed shelf").Letter
		for _, j := range m.Joints {
			if j.A == letter && j.Kind != want {
				t.Errorf("shelves given %q are held by a %s, want %s", own, j.Kind, want)
			}
		}
	}
}
