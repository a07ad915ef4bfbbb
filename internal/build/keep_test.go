package build

import (
	"slices"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// four drawers alike, side by side.
func fourDrawers(t *testing.T) (record.Record, func(record.Record) Model) {
	p, s := one(t, 2000*mm, piece.Drawer{Runner: "side-runner", Gap: 2 * mm})
	d := *p.Inside.Drawer
	p.Inside = piece.Opening{}
	for range 4 {
		p.Inside.Columns = append(p.Inside.Columns, piece.Opening{Drawer: &d})
	}
	make := func(r record.Record) Model {
		m, err := Make(p, s, r)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	var r record.Record
	for _, o := range make(r).Openings {
		w, h := o.Width.Size, o.Height.Size
		r.Openings = append(r.Openings, record.MeasuredOpening{
			Opening: o.Name, Widths: []unit.Length{w, w, w}, Heights: []unit.Length{h, h, h},
		})
	}
	return r, make
}

func letterIn(m Model, opening, name string) (Part, bool) {
	for _, p := range m.Parts {
		if p.Name == name && slices.ContainsFunc(p.Places, func(at Place) bool { return at.Name == opening }) {
			return p, true
		}
	}
	return Part{}, false
}

// An opening that measures as planned takes the planned front and box, to the
// nanometre, under the planned letters.
func TestMeasuredAsPlanned(t *testing.T) {
	r, make := fourDrawers(t)
	was, is := make(record.Record{}), make(r)
	if len(was.Parts) != len(is.Parts) {
		t.Fatalf("%d parts, planned %d", len(is.Parts), len(was.Parts))
	}
	for i, p := range was.Parts {
		q := is.Parts[i]
		if p.Letter != q.Letter || p.Length.Size != q.Length.Size || p.Width.Size != q.Width.Size || !slices.Equal(p.Outline, q.Outline) ||
			!slices.EqualFunc(p.Places, q.Places, func(a, b Place) bool { return a == b }) {
			t.Errorf("%s %s is not as planned", q.Letter, q.Name)
		}
	}
}

// Parts keep their letters when one opening comes out otherwise; those made
// to it have a figure behind the letter. Parts that are cut keep size and
// letter whatever is measured.
func TestCutPartsAreKept(t *testing.T) {
	r, make := fourDrawers(t)
	was := make(record.Record{})
	front, _ := letterIn(was, "column 2", "drawer front")
	end, _ := letterIn(was, "column 2", "box front")
	r.Openings = r.Openings[1:2]
	for i := range 3 {
		r.Openings[0].Widths[i] -= mm
	}
	is := make(r)
	for _, p := range was.Parts {
		i := slices.IndexFunc(is.Parts, func(q Part) bool { return q.Letter == p.Letter })
		if i < 0 || is.Parts[i].Name != p.Name || is.Parts[i].Length.Size != p.Length.Size || is.Parts[i].Width.Size != p.Width.Size {
			t.Errorf("%s %s lost its letter or its size", p.Letter, p.Name)
		}
	}
	fitted, _ := letterIn(is, "column 2", "drawer front")
	if fitted.Letter != front.Letter+"1" || fitted.Length.Size != front.Length.Size-mm {
		t.Errorf("the fitted front is %s, %v long", fitted.Letter, fitted.Length.Size)
	}

	// Three of four fronts are cut: they go where nothing was measured.
	r.Cut = []record.Cut{{Part: front.Letter, Count: 3}, {Part: end.Letter, Count: 3}}
	if got, _ := letterIn(make(r), "column 2", "drawer front"); got.Letter != fitted.Letter {
		t.Errorf("with three fronts cut column 2 takes %s, want one of its own", got.Letter)
	}
	// Said otherwise, column 2 takes one of them.
	r.Cut[0].For = []string{"column 2"}
	got, _ := letterIn(make(r), "column 2", "drawer front")
	if got.Letter != front.Letter || got.Length.Size != front.Length.Size {
		t.Errorf("the front cut for column 2 became %s, %v", got.Letter, got.Length.Size)
	}
	// All four, front and box: nothing changes.
	r.Cut = nil
	for _, p := range was.Parts {
		r.Cut = append(r.Cut, record.Cut{Part: p.Letter, Count: p.Count})
	}
	is = make(r)
	if len(is.Parts) != len(was.Parts) {
		t.Fatalf("%d parts with all cut, planned %d", len(is.Parts), len(was.Parts))
	}
	for i, p := range was.Parts {
		if q := is.Parts[i]; p.Letter != q.Letter || p.Length.Size != q.Length.Size || p.Width.Size != q.Width.Size || !slices.Equal(p.Outline, q.Outline) {
			t.Errorf("%s %s was cut and is changed", q.Letter, q.Name)
		}
	}
}

// An inset door in a tapering opening with one round corner, as it stands in
// the piece: narrower at the top, and round at the top left.
func TestInsetDoorFitsItsOpening(t *testing.T) {
	p, s := one(t, 500*mm, piece.Drawer{Runner: "side-runner"})
	p.Case.Height = 700 * mm
	p.Inside = piece.Opening{Door: &piece.Door{Hinge: "cup", Front: "inset", Gap: 2 * mm, Thickness: 18 * mm}}
	planned, err := Make(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	o := planned.Openings[0]
	w, h := o.Width.Size, o.Height.Size
	r := record.Record{Openings: []record.MeasuredOpening{{
		Opening: o.Name, Widths: []unit.Length{w - 2*mm, w - mm, w}, Heights: []unit.Length{h, h, h}, Corners: []unit.Length{30 * mm, 0, 0, 0},
	}}}
	m, err := Make(p, s, r)
	if err != nil {
		t.Fatal(err)
	}
	door := find(t, m, "door")
	at := door.Places[0].Frame
	var low, high []unit.Length // x of the sharp corners
	for i, v := range door.Outline {
		round := v.Bulge != 0 || door.Outline[(i+len(door.Outline)-1)%len(door.Outline)].Bulge != 0
		q := at.At(v.X, v.Y, 0)
		switch left, top := q.X < o.X+w/2, q.Z > o.Z+h/2; {
		case round && !(left && top):
			t.Errorf("a round corner at %v", q)
		case round:
		case top:
			high = append(high, q.X)
		default:
			low = append(low, q.X)
		}
	}
	if len(low) != 2 || len(high) != 1 {
		t.Fatalf("corners below %v, above %v", low, high)
	}
	// 2 narrower over the height less the round corner: the right edge leans
	// in by about 1, whole width below w less two gaps.
	if got := (low[0] - low[1]).Abs(); (got - (w - 4*mm)).Abs() > mm/20 {
		t.Errorf("the door is %v wide below, the opening %v", got, w)
	}
	if in := max(low[0], low[1]) - high[0]; in < mm*9/10 || in > mm*11/10 {
		t.Errorf("the right edge leans in by %v, want about 1 mm", in)
	}
}
