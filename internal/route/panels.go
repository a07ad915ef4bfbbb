package route

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/geom"
	"casewright/internal/saw"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// desk is design, where the shop counts it.
func (m *maker) desk() {
	if r := m.rates[Design]; r.Setup+r.Run > 0 {
		m.add(Step{
			Op: Design, Title: "Design and drawing", Units: 1 / float64(m.n),
			What: "Agree on the drawing with whoever ordered it; settle every finding that says stop.", Why: "A line is cheaper to move than a panel.",
			Check: "Brief and drawing are signed, hardware is chosen.",
		})
	}
}

// sawWork is the cautions of a sequence of cuts.
func sawWork(q saw.Sequence) []Work {
	out := []Work{map[string]Work{"table": TableSaw, "track": TrackSaw, "hand-guide": HandGuide}[q.Kind]}
	for _, s := range q.Setups {
		if s.Way == saw.Stop {
			return append(out, Crosscuts)
		}
	}
	return out
}

// cuts counts settings and cuts, for all pieces.
func cuts(q saw.Sequence) (settings, passes int) {
	for _, s := range q.Setups {
		for _, c := range s.Cuts {
			passes += max(1, c.Times)
		}
	}
	return len(q.Setups), passes
}

// panels breaks panels down, bands edges and works flat parts; those of boxes
// and fronts alone wait for the openings.
func (m *maker) panels() {
	m.breakDown(false)
	m.band(false)
}

// breakDown cuts panels into parts, before the openings are measured or after.
func (m *maker) breakDown(after bool) {
	for _, q := range m.Setups {
		i := slices.IndexFunc(m.Panels, func(p yard.Panel) bool { return p.Key == q.Stock })
		if i < 0 || q.Part != "" || q.Sizes || q.After != after {
			continue
		}
		settings, passes := cuts(q)
		letters := m.Panels[i].Letters
		sheets := 0
		for _, l := range m.Panels[i].Result.Layouts {
			sheets += l.Copies
		}
		m.add(Step{
			Op: BreakDown, Title: "Break down " + m.Panels[i].Name, Makes: letters, Parts: letters, After: []int{m.measured}, Machine: q.Saw, Setups: settings, Units: float64(passes) / float64(m.n),
			What:  fmt.Sprintf("Cut %s into parts in the order of the saw paper: %s, %s.", document.Count(sheets, "panel"), document.Count(settings, "setting"), document.Count(passes, "cut")) + m.blanks(letters) + asMeasured(after),
			Why:   "All parts of one setting are cut before anything is moved, so parts meant to be alike are alike; the reference edge is kept to the last.",
			Check: "Measure the first part of each setting against the paper, and add up each panel: parts, kerfs and trims make the whole. Letter each part on its reference face.",
			Mind:  append(sawWork(q), Sheets),
		})
	}
}

// band glues edge bands on flat panel parts, round corners shaped before; a
// kerfed part gets its bands once it is bent.
func (m *maker) band(after bool) {
	letters := m.pick(func(p build.Part) bool { return len(p.Bands) > 0 && len(p.Kerfs) == 0 && p.ToMeasure == after })
	m.roundCorners(letters)
	m.bandStep(letters, "Band the edges of "+m.names(letters), "Bands go on before drilling: holes and grooves are measured from the finished edge.")
}

// roundEdge says that a flat part is not the rectangle it is sawn as, but has
// an edge that is shaped to a curve. Stiles along bent corners have a step of
// their own.
func roundEdge(p build.Part) bool {
	return p.Bent == nil && !curvedStile(p) && slices.ContainsFunc(p.Outline, func(v geom.Vertex) bool { return v.Bulge != 0 })
}

// roundCorners shapes what gets its bands round a corner.
func (m *maker) roundCorners(letters []string) {
	letters = slices.DeleteFunc(slices.Clone(letters), func(l string) bool { return !roundEdge(m.parts[l]) })
	if len(letters) == 0 {
		return
	}
	m.add(Step{
		Op: Shape, Title: "Round the corners of " + m.names(letters), Parts: letters, Units: float64(m.count(letters)),
		What:  "Saw each round corner outside the line and trim it to the full-size template, less the band.",
		Why:   "The band goes round the corners, so they come before it.",
		Check: "Lay the template on: the gap to it is the band all round. Edges square to the face, no flat on the curve.",
		Mind:  []Work{Routing},
	})
}

func (m *maker) bandStep(letters []string, title, why string) {
	var metres unit.Length
	for _, l := range letters {
		p := m.parts[l]
		for _, b := range p.Bands {
			size := p.Length.Size
			if b.Edge == build.EdgeX0 || b.Edge == build.EdgeX1 {
				size = p.Width.Size
			}
			metres += size * unit.Length(p.Count)
		}
	}
	if metres == 0 {
		return
	}
	way, round := "ends first, then long edges; ", ""
	if of := slices.DeleteFunc(slices.Clone(letters), func(l string) bool { return !roundEdge(m.parts[l]) }); len(of) > 0 {
		round = fmt.Sprintf(" On %s it goes round the corners in one length, its ends meeting on the edge that shows least; what does not bend dry is warmed or wetted, tried on a scrap first.", m.names(of))
		if len(of) == len(letters) {
			way = ""
		}
	}
	m.add(Step{
		Op: BandEdges, Title: title, Parts: letters, Units: metres.Metres(), Wait: 60, WaitFor: "the bands to hold",
		What:  fmt.Sprintf("Glue on %s of band in each piece; %strim flush when it holds.%s", m.Show(metres), way, round),
		Why:   why,
		Check: "No open line of glue; run a finger over the edge, nothing stands proud. Size with band as on the parts list.",
		Mind:  []Work{Gluing},
	})
}

// features counts what is drilled, grooved and rebated in the letters, in one
// piece, but for what fits is not true.
func (m *maker) features(letters []string, fits func(build.Feature) bool) int {
	n := 0
	for _, l := range letters {
		p := m.parts[l]
		for _, f := range p.Features {
			if f.Kind != build.Notch && fits(f) {
				if f.Place != "" {
					n++
				} else {
					n += p.Count
				}
			}
		}
	}
	return n
}

func drilled(f build.Feature) bool {
	switch f.Kind {
	case build.Hole, build.Groove, build.Rebate, build.Housing:
		return true
	}
	return false
}

func jointed(f build.Feature) bool { return f.Kind == build.Mortise || f.Kind == build.Tenon }

func shaped(f build.Feature) bool { return f.Kind == build.Chamfer }

// drill is one step of drilling and grooving on some parts.
func (m *maker) drill(letters []string, title, why string) {
	var have []string
	for _, l := range letters {
		if m.features([]string{l}, drilled) > 0 {
			have = append(have, l)
		}
	}
	if len(have) == 0 {
		return
	}
	n := m.features(have, drilled)
	m.add(Step{
		Op: Drill, Title: title, Parts: have, Units: float64(n),
		What:  fmt.Sprintf("Work what the drilling and grooving maps show on %s: %d holes, grooves and rebates in each piece. Mirror pairs lie face to face on the bench.", m.names(have), n),
		Why:   why,
		Check: "Try each groove with the part that goes in: a push fit by hand. Holes: depth by a stop, position from the reference edge only.",
		Mind:  []Work{Drilling, Routing},
	})
}

// joinery cuts what must be cut while parts are flat and square.
func (m *maker) joinery() {
	shell := m.pick(func(p build.Part) bool { return len(p.Kerfs) > 0 })
	rest := m.pick(func(p build.Part) bool { return !slices.Contains(shell, p.Letter) && !p.ToMeasure })
	m.drill(shell, "Drill and groove the shell while it is flat", "A kerfed panel is too weak to lie under a drill or router, and a bent one has no flat face to work from.")
	m.mortises(shell, "Cut mortises in the shell while it is flat")
	m.drill(rest, "Drill and groove the parts of the case", "Square parts have their reference faces still; curves, chamfers and trimming come later.")
	curved := m.pick(curvedStile)
	m.innerEdges(curved)
	m.mortises(rest, "Cut the joints of "+map[bool]string{true: "frame and case", false: "the case"}[m.Piece.Frame != nil])
	m.tenons()
	m.chamfers(without(rest, curved))
}

// curvedStile says that a stile runs along a bent corner: rails between meet
// its shaped inner edge.
func curvedStile(p build.Part) bool {
	if p.Role != build.RoleStile {
		return false
	}
	return len(p.Outline) > 4 || slices.ContainsFunc(p.Outline, func(v geom.Vertex) bool { return v.Bulge != 0 })
}

// innerEdges shapes what joints are cut into. Here alone shaping comes before
// joints: the other edge and the ends stay square to measure from.
func (m *maker) innerEdges(letters []string) {
	if len(letters) == 0 {
		return
	}
	m.add(Step{
		Op: Shape, Title: "Shape the inner edge of " + m.names(letters), Parts: letters, Units: float64(m.count(letters)),
		What:  "Saw the inner curve outside the line and trim it to the full-size template. The outer edge and the ends stay square.",
		Why:   "Rails meet this edge, so it must be there before their joints are cut into it; everything is still measured from the outer edge.",
		Check: "Pairs lie together and match; the straight between the curves is parallel to the outer edge.",
		Mind:  []Work{Routing},
	})
}

// mortises cuts mortises, tenons and what goes with them.
func (m *maker) mortises(letters []string, title string) {
	var have []string
	for _, l := range letters {
		if m.features([]string{l}, jointed) > 0 {
			have = append(have, l)
		}
	}
	if len(have) == 0 {
		return
	}
	n := m.features(have, jointed)
	m.add(Step{
		Op: JointCut, Title: title, Parts: have, Units: float64(n),
		What:  fmt.Sprintf("Cut %d mortises and tenons in each piece on %s, all from the reference face. One setting of the cutter for all parts of one thickness.", n, m.names(have)),
		Why:   "Cut from one face, faces come out flush even where thickness differs a little.",
		Check: "Each joint goes together by hand and holds its own weight; the faces are flush, the shoulder shows no light.",
		Mind:  []Work{Routing, Drilling},
	})
}

// corners cuts dovetails and fingers of drawer boxes, which are in the
// outlines and not among the features.
func (m *maker) corners(boxes []string) {
	n := 0
	kind := ""
	for _, j := range m.Model.Joints {
		if slices.Contains(boxes, j.A) && (j.Kind == "dovetail" || strings.HasPrefix(j.Kind, "finger")) {
			n += m.meetings(j)
			kind = j.Kind
		}
	}
	if n == 0 {
		return
	}
	m.add(Step{
		Op: JointCut, Title: "Cut the " + kind + " corners of the drawer boxes", Parts: m.roles(build.RoleBoxSide, build.RoleBoxEnd), Units: float64(n),
		What:  fmt.Sprintf("Cut %d %s corners in each piece. Mark the second part of each corner from the first, and letter the corner.", n, kind),
		Why:   "A corner fits the part it was marked from, not its neighbour.",
		Check: "Each corner goes together with light taps; the box lies flat and its diagonals agree.",
		Mind:  []Work{Drilling},
	})
}

// chamfers and shaped outlines come last of what is cut: they take the square
// edges that everything before was measured from.
func (m *maker) chamfers(letters []string) {
	var have []string
	n := 0
	for _, l := range letters {
		p := m.parts[l]
		if m.features([]string{l}, shaped) > 0 || p.Role == build.RoleLeg || roundEdge(p) && len(p.Bands) == 0 {
			have = append(have, l)
			n += p.Count
		}
	}
	if len(have) == 0 {
		return
	}
	m.add(Step{
		Op: Shape, Title: "Shape " + m.names(have), Parts: have, Units: float64(n),
		What:  "Cut curves, tapers and chamfers to the drawing or the full-size template, after all joints are cut and have been tried.",
		Why:   "Shaping takes away the square edges that joints are measured from, so it comes after them.",
		Check: "Lay the template on; pairs lie together and match. Reference faces are still marked where a joint is to come.",
		Mind:  []Work{Routing},
	})
}
