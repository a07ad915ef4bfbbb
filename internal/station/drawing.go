package station

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/plan"
	"casewright/internal/render/svg"
	"casewright/internal/unit"
)

// DrawingOf says which drawing of a piece is wanted, and the room it has.
type DrawingOf struct {
	View   string  // one of Views
	At     string  // of a section: its place, in any unit form; empty: through the first opening
	Part   string  // of part and kerfs: the letter
	Bend   int     // of kerfs: the bend, -1 all
	Stock  string  // of layout: the key of the panel, or of the wood and its class, such as oak 4/4
	Layout int     // which one, from 1
	Units  string  // mm or in, which lead; empty: those of the piece
	Plain  bool    // without dimensions
	Single bool    // in one unit only
	Mark   bool    // with lettered balloons
	Hidden bool    // with hidden edges
	Wide   float64 // room in pixels of the screen
	High   float64
}

// Views are the drawings there are.
var Views = []string{
	"front", "side", "top", "back", "aslant", "exploded",
	"section-x", "section-y", "section-z", "part", "kerfs", "layout",
}

// Drawing is a drawing as SVG for a page: parts can be picked, and sizes that
// are one field of the piece typed over.
func Drawing(p plan.Plan, d DrawingOf) (string, error) {
	o := drawing.Options{Units: p.Piece.Units, Single: d.Single, Letters: d.Mark, Hidden: d.Hidden, Dims: !d.Plain}
	if d.Units != "" {
		if err := o.Units.UnmarshalText([]byte(d.Units)); err != nil {
			return "", err
		}
	}
	o.Single = o.Single || d.Wide > 0 && d.Wide < narrow // figures in two units would fill the room
	dims := o.Dims
	o = o.ForScreen(p.Piece, p.Model)
	o.Dims = dims
	v, err := viewOf(p, d, o)
	if err != nil {
		return "", err
	}
	if v.Title == "" {
		v.Title = document.Capital(d.View)
	}
	return Screen(v, o, d.Wide, d.High), nil
}

// Screen is a view as SVG for a page, in a room given in pixels.
func Screen(v drawing.View, o drawing.Options, wide, high float64) string {
	var b strings.Builder
	// Writing to a string cannot fail.
	_ = svg.Write(&b, v.Screen(o, roomOf(wide, usualWide), roomOf(high, 640)), svg.Options{Live: true})
	return b.String()
}

const (
	usualWide = 960
	narrow    = 520
)

// roomOf is a room of a screen in millimetres of paper.
func roomOf(pixels, usual float64) float64 {
	if pixels <= 0 {
		pixels = usual
	}
	return min(max(pixels, 120), 4000) * drawing.Pixel
}

func viewOf(p plan.Plan, d DrawingOf, o drawing.Options) (drawing.View, error) {
	m := p.Model
	switch d.View {
	case "front":
		return drawing.FrontView(m, o), nil
	case "side":
		return drawing.SideView(m, o), nil
	case "top":
		return drawing.TopView(m, o), nil
	case "back":
		return drawing.BackView(m, o), nil
	case "aslant":
		return drawing.Aslant(m, o), nil
	case "exploded":
		return drawing.Exploded(m, o, 1), nil
	case "section-x", "section-y", "section-z":
		return sectionOf(p, d, o)
	case "part", "kerfs":
		i := slices.IndexFunc(m.Parts, func(q build.Part) bool { return q.Letter == d.Part })
		if i < 0 {
			return drawing.View{}, fmt.Errorf("there is no part %q; give the letter of one that is listed", d.Part)
		}
		if d.View == "kerfs" {
			if len(m.Parts[i].Kerfs) == 0 {
				return drawing.View{}, fmt.Errorf("part %s has no kerfs", d.Part)
			}
			return drawing.KerfStrip(m.Parts[i], d.Bend, o), nil
		}
		return drawing.PartView(m.Parts[i], o), nil
	case "layout":
		return layoutOf(p, d, o)
	}
	return drawing.View{}, fmt.Errorf("there is no drawing %q; it can be %s", d.View, list(Views))
}

// sectionOf cuts the piece where it was asked, or through the first opening.
func sectionOf(p plan.Plan, d DrawingOf, o drawing.Options) (drawing.View, error) {
	m := p.Model
	plane, whole, at := drawing.AcrossX, m.Outside.X, m.Outside.X/2
	switch d.View {
	case "section-y":
		plane, whole, at = drawing.AcrossY, m.Outside.Y, m.Outside.Y/2
	case "section-z":
		plane, whole, at = drawing.AcrossZ, m.Outside.Z, m.Outside.Z/2
	}
	if len(m.Openings) > 0 {
		switch op := m.Openings[0]; plane {
		case drawing.AcrossX:
			at = op.X + op.Width.Size/2
		case drawing.AcrossZ:
			at = op.Z + op.Height.Size/2
		}
	}
	if d.At != "" {
		l, err := unit.ParseLength(d.At, p.Piece.Units)
		if err != nil {
			return drawing.View{}, err
		}
		at = min(max(l, 0), whole)
	}
	v := drawing.Section(m, plane, at, o)
	v.Title = "Section at " + p.Show(at)
	return v, nil
}

// layoutOf is where parts lie on one panel or board. A layout that is no more,
// because the parts were laid out anew, is an empty drawing: the list that
// named it is being read again. One that no list can have named is refused.
func layoutOf(p plan.Plan, d DrawingOf, o drawing.Options) (drawing.View, error) {
	var job cutting.Job
	var res cutting.Result
	var letters []string
	found, name := false, d.Stock
	for _, s := range p.Panels {
		if s.Key == d.Stock {
			job, res, letters, found, name = s.Job, s.Result, s.Letters, true, s.Name
		}
	}
	for _, w := range p.Woods {
		if w.Result != nil && w.Key+" "+w.Class == d.Stock {
			job, res, letters, found, name = *w.Job, *w.Result, w.Letters, true, w.Called()
		}
	}
	for _, w := range p.Woods {
		if w.Likely != nil && w.Key+" "+w.Class+" likely" == d.Stock {
			job, res, letters, found, name = *w.Likely.Job, *w.Likely.Result, w.Likely.Letters(), true, w.Called()
		}
	}
	pieces := 0
	for _, it := range job.Items {
		pieces += it.Qty
	}
	key, _, _ := strings.Cut(d.Stock, " ")
	_, panel := p.Shop.Panels[d.Stock]
	_, board := p.Shop.Woods[key]
	switch {
	case !found && !panel && !board:
		return drawing.View{}, fmt.Errorf("there is no stock %q to lay parts out on; give the key of one that is listed", d.Stock)
	case d.Layout < 1 || found && d.Layout > max(pieces, len(res.Layouts)): // each holds one part at least
		return drawing.View{}, fmt.Errorf("there is no layout %d of %s; give the number of one that is listed, from 1", d.Layout, d.Stock)
	case !found || d.Layout > len(res.Layouts):
		return drawing.View{}, nil
	}
	l := res.Layouts[d.Layout-1]
	v := drawing.LayoutView(job, l, letters, o)
	if d.Plain {
		// The order of cuts is for the saw; words that find no room would lie
		// over each other, and a part that is picked says what it is.
		v.Cuts = nil
		k := roomOf(d.Wide, usualWide) / max(job.Sheets[l.Sheet].W.MM(), 1)
		v.Labels = slices.DeleteFunc(v.Labels, func(t drawing.Label) bool { return min(t.Room.W, t.Room.H)*k < drawing.SizeSmall*1.2 })
	}
	v.Title = fmt.Sprintf("Layout %d of %s", d.Layout, name)
	return v, nil
}
