package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/finding"
)

// desk is what is wanted while deciding: what it is, what to look at, how it
// is made, and where each size comes from.
func (s *set) desk() {
	s.overview()
	s.sections()
	s.parts()
	s.sums()
}

// overview is the first page: overall sizes, the answer, views and findings.
func (s *set) overview() {
	o := s.p.Model.Outside
	head := document.Capital(s.p.Piece.Name) + ": " + s.sizesText(o.X, o.Y, o.Z)
	if n := s.pieces(); n > 1 {
		head += fmt.Sprintf(", %d of them", n)
		if s.p.Piece.Pair {
			head += ", every second one mirrored"
		}
	}
	f := s.flow(Desk, "views and findings", false, head)
	f.text("Wide × deep × high over all"+s.withoutPulls()+". "+s.summary(), 3.4, drawing.Regular)
	if s.p.Piece.Notes != "" {
		f.text(s.p.Piece.Notes, 3, drawing.Regular)
	}
	free := s.viewsOn(f)
	free = f.page.sheet.TextBlock(free, findingsLine(s.p.Findings), 3.4, drawing.Bold)
	free.Y, free.H = free.Y+1.5, free.H-1.5
	rest, size := s.p.Findings, sizeFind
	if s.findingsHeight(free.W, size) > free.H {
		size = sizeTight
	}
	for len(rest) > 0 {
		h := findingHeight(rest[0], free.W, size)
		if len(rest) > 1 && free.H < h+5 || free.H < h {
			break
		}
		free = s.finding(f.page.sheet, free, rest[0], size)
		rest = rest[1:]
	}
	if len(rest) > 0 {
		s.moreFindings(f, free, rest)
	}
}

// withoutPulls says that the sizes over all leave pulls out, where there are
// some.
func (s *set) withoutPulls() string {
	if slices.ContainsFunc(s.p.Model.Fixtures, func(f build.Fixture) bool { return f.Kind == build.FixturePull }) {
		return ", without pulls"
	}
	return ""
}

// findingsHeight is what all findings take at the width.
func (s *set) findingsHeight(width, size float64) float64 {
	h := 0.0
	for _, fd := range s.p.Findings {
		h += findingHeight(fd, width, size)
	}
	return h
}

// viewsOn draws front, side and top at the largest scale that leaves room for
// findings, and gives that room.
func (s *set) viewsOn(f *flow) drawing.Rect {
	o := s.draw
	o.Dims = true
	t := three{
		sheet: f.page.sheet, o: o, front: s.keep("front", drawing.FrontView(s.p.Model, o)),
		side: s.keep("side", drawing.SideView(s.p.Model, o)), top: s.keep("top", drawing.TopView(s.p.Model, o)),
	}
	way, scale, found := t.beside, drawing.Scale{}, false
search:
	for _, sc := range s.fineScales() {
		if found && sc.Ratio() < 0.74*scale.Ratio() {
			break
		}
		for _, w := range []func(drawing.Rect, drawing.Scale, bool) (drawing.Rect, bool){t.beside, t.under} {
			free, ok := w(f.r, sc, false)
			if !ok {
				continue
			}
			// A somewhat smaller scale is worth a page saved.
			enough := s.findingsHeight(free.W, sizeTight)+9 <= free.H
			if enough || !found {
				way, scale, found = w, sc, true
			}
			if enough {
				break search
			}
		}
	}
	if found {
		free, _ := way(f.r, scale, true)
		f.page.scale = scale.String()
		return free
	}
	return f.r // too large to be drawn on paper
}

// moreFindings sets those that found no room on the first page.
func (s *set) moreFindings(f *flow, r drawing.Rect, rest []finding.Finding) {
	f.page.sheet.TextBlock(r, fmt.Sprintf("%d more on the next page.", len(rest)), sizeFind, drawing.Bold)
	f = s.flow(Desk, "views and findings", true, "What to look at")
	const space = 8
	w := (f.r.W - space) / 2
	high := func(size float64) (h float64) {
		for _, fd := range rest {
			h += findingHeight(fd, w, size)
		}
		return h
	}
	size := sizeFind
	if least := 1.9 * f.r.H; high(sizeFind) > least && high(sizeTight) <= least { // saves a page
		size = sizeTight
	}
	for len(rest) > 0 {
		for col := range 2 {
			r := drawing.Rect{X: f.r.X + float64(col)*(w+space), Y: f.r.Y, W: w, H: f.r.H}
			for first := true; len(rest) > 0 && (first || r.H >= findingHeight(rest[0], w, size)); first = false {
				r = s.finding(f.page.sheet, r, rest[0], size)
				rest = rest[1:]
			}
		}
		if len(rest) > 0 {
			f.next()
		}
	}
}

// summary is the answer in words: what it is cut from and how much work it is.
func (s *set) summary() string {
	var from, short []string
	for _, p := range s.p.Panels {
		n := 0
		for _, l := range p.Result.Layouts {
			n += l.Copies
		}
		if n > 0 {
			from = append(from, fmt.Sprintf("%s of %s", document.Count(n, "panel"), p.Name))
		}
		for _, sf := range p.Result.Short {
			short = append(short, fmt.Sprintf("%d of %s", sf.Count, s.named(p.Letters[sf.Item])))
		}
	}
	var out []string
	if len(short) > 0 {
		out = append(out, "Not everything comes out of the panels: "+list(short)+" have no place.")
	} else if len(from) > 0 {
		out = append(out, document.Capital(s.whole())+" out of "+list(from)+".")
	}
	if feet, cubic := s.bought(); feet > 0 {
		out = append(out, fmt.Sprintf("%s board feet of solid wood (%s m³).", decimals(feet, 1), decimals(cubic, 3)))
	}
	if n := len(s.p.Model.Bends); n > 0 {
		kinds := len(s.bendKinds())
		out = append(out, fmt.Sprintf("%s in %s.", document.Count(n, "kerf group"), document.Count(kinds, "kind")))
	}
	settings := 0
	for _, q := range s.p.Setups {
		settings += len(q.Setups)
	}
	if settings > 0 {
		out = append(out, document.Count(settings, "setting")+" at the saw.")
	}
	return strings.Join(out, " ")
}

func (s *set) whole() string {
	if n := s.pieces(); n > 1 {
		return fmt.Sprintf("all panel parts of %d pieces come", n)
	}
	return "all panel parts come"
}

// bought is the amount of solid wood to buy, in board feet and in cubic metres:
// each the sum of what the buying list has.
func (s *set) bought() (feet, cubic float64) {
	for _, w := range s.p.Woods {
		feet, cubic = feet+w.Feet(), cubic+w.Cubic()
	}
	return feet, cubic
}

// sections shows the piece cut open, two drawings to a sheet where they go.
func (s *set) sections() {
	views := s.cuts()
	if len(views) == 0 {
		return
	}
	f := s.flow(Desk, "sections", true, "Cut open; cut faces are hatched: panels slanting, solid wood as its grain runs")
	// Those that are wider than high go under one another, else side by side.
	var scales []drawing.Scale
	for first := true; len(views) > 0; first = false {
		if !first {
			f.next()
			scales = nil
		}
		pair := views[:min(2, len(views))]
		if len(views) == 3 && s.threeAbreast(f.r, views) {
			pair = views
		}
		views = views[len(pair):]
		for j, r := range share(f.r, pair, s.draw, s.fineScales()) {
			scales = append(scales, fit(f.page.sheet, pair[j], r, s.draw, s.fineScales()))
		}
		f.page.scale = scaleText(scales)
	}
}

// threeAbreast reports whether three drawings side by side come out nearly as
// large as two.
func (s *set) threeAbreast(r drawing.Rect, views []drawing.View) bool {
	least := func(views []drawing.View) float64 {
		k := 9.0
		for i, box := range share(r, views, s.draw, s.fineScales()) {
			sc, _ := scaleIn(box, views[i], s.draw, s.fineScales())
			k = min(k, sc.Ratio())
		}
		return k
	}
	return least(views) >= 0.7*min(least(views[:2]), least(views[2:]))
}

// share divides a room between views, side by side or one over the other,
// whichever draws them larger.
func share(r drawing.Rect, views []drawing.View, o drawing.Options, scales []drawing.Scale) []drawing.Rect {
	const between = 6
	switch len(views) {
	case 1:
		return []drawing.Rect{r}
	case 3:
		a, rest := r.Left((r.W-2*between)/3, between)
		b, c := rest.Left(a.W, between)
		return []drawing.Rect{a, b, c}
	}
	best, ratio := []drawing.Rect(nil), 0.0
	for _, part := range []float64{0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7} {
		a, b := r.Left((r.W-between)*part, between)
		c, d := r.Top((r.H-between)*part, between)
		for _, two := range [][]drawing.Rect{{a, b}, {c, d}} {
			least, sum := 9.0, 0.0
			for i, v := range views {
				sc, _ := scaleIn(two[i], v, o, scales)
				k := sc.Ratio()
				least, sum = min(least, k), sum+k
			}
			if v := least*10 + sum; v > ratio+1e-9 {
				best, ratio = two, v
			}
		}
	}
	return best
}

// scaleText is what the title block says of the scales on a sheet.
func scaleText(scales []drawing.Scale) string {
	for _, sc := range scales {
		if sc != scales[0] {
			return "as shown"
		}
	}
	if len(scales) == 0 {
		return ""
	}
	return scales[0].String()
}
