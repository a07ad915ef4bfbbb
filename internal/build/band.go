package build

import (
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// edged says that the edges of a part get the band of that key (none: no
// band). The sizes are worked out by bands, once all features are known.
func (p *Part) edged(key string, edges ...Edge) {
	if key == "" {
		return
	}
	for _, e := range edges {
		p.Bands = append(p.Bands, Band{Edge: e, Key: key})
	}
}

// bands works out what edge bands do to sizes. A band within the size makes
// the core smaller: core = finished - bands. Any other is put on the part as
// cut, and the finished part grows by it.
func (b *builder) bands() {
	for _, p := range b.parts {
		for i := range p.Bands {
			band := &p.Bands[i]
			kind := b.shop.Bands[band.Key]
			band.Thickness = kind.Thickness
			if !kind.Before {
				p.grow(band.Edge, kind.Thickness)
			}
			if band.Edge == EdgeX0 || band.Edge == EdgeX1 {
				p.Oversize.Length -= kind.Thickness
			} else {
				p.Oversize.Width -= kind.Thickness
			}
			if p.Oversize.Why == "" {
				p.Oversize.Why = "edge bands are part of the finished size"
			}
		}
	}
}

// grow makes the finished part larger by t at one edge: drawing, sizes and
// places follow, what is already worked stays where it is in space.
func (p *Part) grow(e Edge, t unit.Length) {
	const what = "edge band"
	far := geom.P(p.Length.Size, p.Width.Size)
	var dx, dy unit.Length // of everything, so that the corner stays at 0,0
	switch e {
	case EdgeX0:
		dx = t
		p.Length = p.Length.Plus(1, what, t)
	case EdgeX1:
		p.Length = p.Length.Plus(1, what, t)
	case EdgeY0:
		dy = t
		p.Width = p.Width.Plus(1, what, t)
	default:
		p.Width = p.Width.Plus(1, what, t)
	}
	for i := range p.Outline {
		v := &p.Outline[i]
		switch {
		case e == EdgeX0 && v.X == 0:
			v.X = -t
		case e == EdgeX1 && v.X == far.X:
			v.X += t
		case e == EdgeY0 && v.Y == 0:
			v.Y = -t
		case e == EdgeY1 && v.Y == far.Y:
			v.Y += t
		}
	}
	p.Outline = moved(p.Outline, dx, dy)
	for i := range p.Features {
		f := &p.Features[i]
		switch f.On {
		case "":
			f.Region = moved(f.Region, dx, dy)
		case EdgeY0, EdgeY1:
			f.Region = moved(f.Region, dx, 0)
		default:
			f.Region = moved(f.Region, dy, 0)
		}
	}
	for i := range p.Kerfs {
		k := &p.Kerfs[i]
		k.Start += dx
		for j := range k.Positions {
			k.Positions[j] += dx
		}
	}
	for i := range p.Places {
		f := &p.Places[i].Frame
		if p.Bent != nil {
			f.Origin = f.Origin.Add(f.N().Times(-dy))
			continue
		}
		f.Origin = f.At(-dx, -dy, 0)
	}
}

// frontBand is by how much the edge band stands before the case's front
// edges: nothing where it counts within the size.
func (b *builder) frontBand() unit.Length {
	kind := b.shop.Bands[b.piece.Case.Edges]
	if b.piece.Frame != nil || kind.Before {
		return 0
	}
	return kind.Thickness
}
