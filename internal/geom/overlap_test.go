package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

func TestOverlapKnown(t *testing.T) {
	sq := Region{Rect(100*mm, 100*mm)}
	at := func(r Region, x, y unit.Length) (out Region) {
		for _, o := range r {
			out = append(out, o.Translate(P(x, y)))
		}
		return out
	}
	ring := Region{Rect(100*mm, 100*mm), Rect(60*mm, 60*mm).Translate(P(20*mm, 20*mm)).Reverse()}
	tee := Region{{
		{P(0, 0), 0},
		{P(30*mm, 0), 0},
		{P(30*mm, 60*mm), 0},
		{P(70*mm, 60*mm), 0},
		{P(70*mm, 0), 0},
		{P(100*mm, 0), 0},
		{P(100*mm, 100*mm), 0},
		{P(0, 100*mm), 0},
	}}
	// Two discs of radius r at distance d share a lens of 2r²·acos(d/2r) −
	// d/2·√(4r² − d²): the circle-circle intersection of plane geometry
	// handbooks, from memory.
	lens := 2*2500*math.Acos(60.0/100) - 30*math.Sqrt(10_000-3600)
	tests := []struct {
		name string
		a, b Region
		want float64 // mm²
		tol  float64
	}{
		{"same", sq, sq, 10_000, 1e-6},
		{"corner", sq, at(sq, 70*mm, 80*mm), 600, 1e-6},
		{"touching", sq, at(sq, 100*mm, 0), 0, 0},
		{"touching corner", sq, at(sq, 100*mm, 100*mm), 0, 0},
		{"apart", sq, at(sq, 200*mm, 0), 0, 0},
		{"shelf inside a shell", ring, at(Region{Rect(60*mm, 60*mm)}, 20*mm, 20*mm), 0, 1e-9},
		{"shelf 1 mm too long", ring, at(Region{Rect(61*mm, 10*mm)}, 20*mm, 30*mm), 10, 1e-6},
		{"ring with itself", ring, ring, 10_000 - 3600, 1e-6},
		{"fork", tee, at(Region{Rect(100*mm, 50*mm)}, 0, 20*mm), 2*30*40 + 1000, 1e-6},
		{"fork let in", tee, at(Region{Rect(40*mm, 60*mm)}, 30*mm, 0), 0, 0},
		{"lens", Region{circle(P(0, 0), 50*mm)}, Region{circle(P(60*mm, 0), 50*mm)}, lens, 2 * 0.01 * 93}, // two arcs of 93 mm, followed to 0.01
		{"star", Region{Rect(100*mm, 100*mm)}, Region{Rect(100*mm, 100*mm).Rotate(unit.Right / 2).Translate(P(50*mm, 50*mm-70_710_678))}, 10_000 * 2 * (math.Sqrt2 - 1), 1e-3},
		{"nothing", sq, nil, 0, 0},
	}
	for _, tt := range tests {
		near(t, tt.name, mm2(OverlapArea(tt.a, tt.b)), tt.want, tt.tol)
		near(t, tt.name+", the other way", mm2(OverlapArea(tt.b, tt.a)), tt.want, tt.tol)
	}
}

// convex draws an anticlockwise convex polygon.
func convex() *rapid.Generator[Outline] {
	return rapid.Custom(func(t *rapid.T) Outline {
		n := rapid.IntRange(3, 8).Draw(t, "n")
		x, y := rapid.Int64Range(-100e6, 100e6).Draw(t, "x"), rapid.Int64Range(-100e6, 100e6).Draw(t, "y")
		r := rapid.Float64Range(20e6, 200e6).Draw(t, "r")
		rad := rapid.Float64Range(0, 6).Draw(t, "start")
		o := make(Outline, n)
		for i := range o { // corners on an ellipse, at uneven steps
			rad += 2 * math.Pi / float64(n) * rapid.Float64Range(0.5, 1).Draw(t, "step")
			p := polar(r, rad)
			o[i].Point = pt{p.x + float64(x), p.y/2 + float64(y)}.point()
		}
		return o
	})
}

// clip is the area of the part of a convex polygon inside another one in mm²,
// by cutting off what lies to the right of each side (Sutherland and Hodgman,
// 1974).
func clip(a, b Outline) float64 {
	var ps []pt
	for _, v := range a {
		ps = append(ps, v.pt())
	}
	for i, v := range b {
		from, along := v.pt(), b[(i+1)%len(b)].pt().minus(v.pt())
		var kept []pt
		for k, p := range ps {
			q := ps[(k+1)%len(ps)]
			sp, sq := along.cross(p.minus(from)), along.cross(q.minus(from))
			if sp >= 0 {
				kept = append(kept, p)
			}
			if sp > 0 && sq < 0 || sp < 0 && sq > 0 {
				kept = append(kept, p.plus(q.minus(p).times(sp/(sp-sq))))
			}
		}
		ps = kept
	}
	sum := 0.0
	for i, p := range ps {
		sum += p.cross(ps[(i+1)%len(ps)]) / 2
	}
	return sum / 1e12
}

func TestOverlapAgainstClipping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := convex().Draw(t, "a"), convex().Draw(t, "b")
		near(t, "overlap", mm2(OverlapArea(Region{a}, Region{b})), clip(a, b), 1e-5)
	})
}

// For any simple outlines: what two share is no more than either, the same
// from both sides, and moves with them.
func TestOverlapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := blob().Draw(t, "a"), blob().Draw(t, "b")
		got := mm2(OverlapArea(Region{a}, Region{b}))
		slack := (a.Length() + b.Length()).MM() * 0.01
		if got < 0 || got > math.Min(mm2(a.Area()), mm2(b.Area()))+slack {
			t.Fatalf("share %v, areas %v and %v", got, mm2(a.Area()), mm2(b.Area()))
		}
		near(t, "the other way", mm2(OverlapArea(Region{b}, Region{a})), got, 1e-3)
		near(t, "with itself", mm2(OverlapArea(Region{a}, Region{a})), mm2(a.Area()), slack)
		ra, rb := a.Rotate(1), b.Rotate(1)
		near(t, "turned", mm2(OverlapArea(Region{ra}, Region{rb})), got, slack)
		// The share and the rest of a make a: the rest is b's hole in a frame
		// round both.
		c := a.Bounds()
		d := b.Bounds()
		lo := P(min(c.Min.X, d.Min.X)-mm, min(c.Min.Y, d.Min.Y)-mm)
		hi := P(max(c.Max.X, d.Max.X)+mm, max(c.Max.Y, d.Max.Y)+mm)
		around := Rect(hi.X-lo.X, hi.Y-lo.Y).Translate(lo)
		rest := mm2(OverlapArea(Region{a}, Region{around, b.Reverse()}))
		near(t, "share and rest", got+rest, mm2(a.Area()), slack)
	})
}

func BenchmarkOverlapArea(b *testing.B) {
	o, err := roundRect(600*mm, 400*mm, [4]unit.Length{60 * mm, 60 * mm, 60 * mm, 60 * mm})
	if err != nil {
		b.Fatal(err)
	}
	in, _ := o.Offset(-18 * mm)
	shell := Region{o, in.Reverse()}
	shelf := Region{Rect(564*mm, 18*mm).Translate(P(18*mm, 200*mm))}
	for b.Loop() {
		OverlapArea(shell, shelf)
	}
}
