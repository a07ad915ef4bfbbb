package build

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Make builds one piece. The error is a document.Problems: contradictory or
// impossible sizes, and keys the shop does not know, each with its path, the
// numbers and the remedy. What can be built but should be looked at is in
// Model.Findings.
//
// Where openings were measured, boxes and fronts are made to them, except for
// parts that the record says are cut already: those stay as planned, and all
// parts keep the letters they were planned with.
func Make(p piece.Piece, s shop.Shop, r record.Record) (Model, error) {
	b := &builder{piece: p, shop: s, record: r}
	if len(r.Openings) > 0 {
		was := r
		was.Openings = nil
		b.before = &builder{piece: p, shop: s, record: was}
		if m, err := b.before.make(); err != nil {
			return m, err
		}
		b.kept = b.before.keeps(r)
	}
	return b.make()
}

func (b *builder) make() (Model, error) {
	p := b.piece
	b.keys() // every role and hardware key must exist in the shop
	if b.failed() {
		return Model{}, b.problems
	}
	b.carcassOrShell()
	b.frame()
	if !b.failed() {
		b.inside(p.Inside, b.space.opening, "inside")
		b.back()
		b.base()
		b.loose()
	}
	if b.failed() {
		return Model{}, b.problems
	}
	if b.aside > 0 && b.shift == 0 && len(p.Case.Seams) == 0 {
		// Something stands on a seam that nobody asked for: place it beside.
		*b = builder{piece: p, shop: b.shop, record: b.record, before: b.before, kept: b.kept, draws: b.draws, shift: b.aside}
		return b.make() // in place: what is built from measured openings asks this builder for its letters
	}
	b.bands()
	b.rough()
	b.letters()
	b.m.Fixtures = fixtures(b.m.Hardware, b.shop)
	b.toMeasure()
	b.outside()
	b.pair()
	b.collide()
	return b.m, nil
}

// space is what case and frame leave for the inside. Places are in the
// piece's axes: X right, Y back, Z up; x = 0 is the left of the case, y = 0
// the front of the frame (of the case, where there is none), z = 0 the floor.
type space struct {
	left, right, bottom, top unit.Length // inner faces of the case's panels
	front, back              unit.Length // y of the case's front edge (behind the frame) and of the front of the back
	opening                  rect        // as seen from the front: inside the frame, or inside the panels
}

// rect is an upright rectangle seen from the front; corner holds the radius
// at top left, top right, bottom right, bottom left.
type rect struct {
	x, z   unit.Length // lower left
	w, h   Dim
	corner [4]unit.Length
}

// builder gathers the parts of one piece. Until letters runs, a part's Letter
// holds a mark of its own; joints, openings, hardware and findings may use
// it, alone or within a sentence, and letters puts the true letter there.
type builder struct {
	piece  piece.Piece
	shop   shop.Shop
	record record.Record

	m        Model
	parts    []*Part
	space    space
	problems document.Problems

	// The case's panels, where the inside and the back work grooves, holes
	// and housings into them. nil where the case has none (a shell).
	left, right, bottom, top *Part
	shell                    *shell // nil for a carcass

	before  *builder          // the piece as planned, where openings were measured
	kept    map[string]keeps  // of each opening, what is cut already
	letter  map[string]string // of each mark, once letters has run
	planned map[string]string // of each letter, that of the same part as planned

	draws                 int // of the simulation of a bend; 0: what package bend takes
	hull                  hull
	shift, aside          unit.Length // of seams placed for the maker from the middle of their sides; what they should have
	bottomUp, bottomThick unit.Length // a bottom let into the legs of a shell: its underside above their lower edge
	slabThick             unit.Length // of a top that lies on the case
	runnerLines           []runnerLine
	foot                  struct{ x, y unit.Length } // by how much splayed feet reach past the insets of their plates
}

// add takes a part in and returns it, so that features can follow. It gets a
// mark for its letter; an outline left out is the rectangle of its sizes, a
// count left out the number of its places. Alike parts are merged later:
// add each with its own place.
func (b *builder) add(p Part) *Part {
	p.Letter = fmt.Sprintf("⟨%d⟩", len(b.parts))
	if len(p.Outline) == 0 {
		p.Outline = geom.Rect(p.Length.Size, p.Width.Size)
	}
	if p.Count == 0 {
		p.Count = max(1, len(p.Places))
	}
	b.parts = append(b.parts, &p)
	return &p
}

// problem notes what cannot be built: the path of the field, and one
// sentence with the numbers and the remedy.
func (b *builder) problem(path, says string, args ...any) {
	b.problems = append(b.problems, document.Problem{Path: path, Says: fmt.Sprintf(says, args...)})
}

func (b *builder) failed() bool { return len(b.problems) > 0 }

// note adds a finding, its words as whole sentences.
func (b *builder) note(f finding.Finding) {
	f.Says, f.Advice = sentence(f.Says), sentence(f.Advice)
	b.m.Findings = append(b.m.Findings, f)
}

// joint notes how two parts meet. Kind, depth, what holds it and a remark.
func (b *builder) joint(j Joint) { b.m.Joints = append(b.m.Joints, j) }

// fit adds bought hardware; alike lines are merged by letters.
func (b *builder) fit(f Fitting) { b.m.Hardware = append(b.m.Hardware, f) }

// opening adds an opening as it came out.
func (b *builder) opening(o Opening) { b.m.Openings = append(b.m.Openings, o) }

// show writes a size for a sentence, in the piece's own unit.
func (b *builder) show(l unit.Length) string {
	return l.Format(b.piece.Units.Leading())
}

// bought writes the size of something bought or set by a cutter, in the unit
// the shop works in.
func (b *builder) bought(l unit.Length) string {
	return l.Format(b.shop.Units.Leading())
}

// hardware is the shop's entry for a key; a key it does not have is a
// problem at the path.
func (b *builder) hardware(key, path string) (shop.Hardware, bool) {
	h, ok := b.shop.Hardware[key]
	if !ok {
		b.problem(path, "%s is %q, but the shop has no hardware of that key. Add it to the shop, or name one of: %s.", path, key, names(b.shop.Hardware))
	}
	return h, ok
}

// names lists the keys of a map in order, for a sentence.
func names[V any](m map[string]V) string {
	if len(m) == 0 {
		return "none yet"
	}
	return join(sorted(m))
}

func join(words []string) string { return strings.Join(words, ", ") }
