package route_test

import (
	"slices"
	"testing"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
)

func area(r route.Route, name string) float64 {
	for _, f := range r.Finishes {
		if f.Name == name {
			return float64(f.Area)
		}
	}
	return 0
}

// TestTopHasAnInside: a top that closes the case has one face outside and one
// inside, as a bottom has; one laid over the case is finished all round.
func TestTopHasAnInside(t *testing.T) {
	for _, laid := range []bool{true, false} {
		in := input(t, "chest", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
			if !laid {
				p.Case.Top, p.Inside.Rows[0].Height = nil, 0
			}
		})
		i := slices.IndexFunc(in.Model.Parts, func(p build.Part) bool { return p.Role == build.RoleTop })
		top := in.Model.Parts[i]
		l, w, h := top.Length.Size.Metres(), top.Width.Size.Metres(), top.Thickness.Size.Metres()
		with := route.Make(in)
		in.Model.Parts = slices.Clone(in.Model.Parts)
		in.Model.Parts[i].Length.Size, in.Model.Parts[i].Width.Size = 0, 0
		without := route.Make(in)
		inside, outside := l*w, l*w
		if laid {
			inside, outside = 0, 2*(l*w+l*h+w*h)
		}
		near(t, "inside", area(with, "insides")-area(without, "insides"), inside, 1e-9)
		near(t, "outside", area(with, "outside")-area(without, "outside"), outside, 1e-9)
	}
}

// TestOpenPiece: what neither drawer nor door closes is seen inside: it gets
// the finish of the outside, unless the piece says another.
func TestOpenPiece(t *testing.T) {
	for _, c := range []struct {
		open         bool
		outside, own string
		want         string
	}{
		{true, "hardwax-oil", "", "hardwax-oil"},
		{false, "hardwax-oil", "", "shellac"},
		{true, "varnish", "shellac", "shellac"},
		{true, "waterborne", "", "waterborne"},
		{false, "waterborne", "", "waterborne"},
		{false, "oil", "oil", "oil"},
	} {
		in := input(t, "record-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
			p.Finish.Kind, p.Finish.Inside = c.outside, c.own
			if c.open {
				shelves := p.Inside.Columns[1]
				p.Inside.Columns[0], p.Inside.Columns[2] = shelves, shelves
			}
		})
		seen := false
		for _, f := range route.Make(in).Finishes {
			if f.Name != "outside" {
				seen = true
				if f.Class.Key != c.want {
					t.Errorf("%+v: %s gets %s", c, f.Name, f.Class.Key)
				}
			}
		}
		if !seen {
			t.Errorf("%+v: no insides", c)
		}
	}
}
