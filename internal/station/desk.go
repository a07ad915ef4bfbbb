package station

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/finding"
	"casewright/internal/plan"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Desk is where the piece is thought out: its parts with the sums behind
// their sizes, its openings, what left-out sizes follow to, and what there is
// to look at.
type Desk struct {
	Answer   string        `json:"answer"`
	Units    string        `json:"units" enum:"mm,in"`
	Parts    []DeskPart    `json:"parts"`
	Openings []DeskOpening `json:"openings"`
	Follows  []DeskFollow  `json:"follows" doc:"sizes of fields as the plan has them, given or left out"`
	Findings []DeskFinding `json:"findings"`
	Offers   []DeskOffer   `json:"offers" doc:"keys of the shop that fields can name"`
}

// DeskPart is one part of the list.
type DeskPart struct {
	Letter    string   `json:"letter"`
	Name      string   `json:"name"`
	Count     int      `json:"count" doc:"in one piece"`
	Material  string   `json:"material"`
	Length    DeskSize `json:"length"`
	Width     DeskSize `json:"width"`
	Thickness DeskSize `json:"thickness"`
	Note      string   `json:"note,omitempty"`
	Path      string   `json:"path" doc:"the field of the piece it comes from"`
}

// DeskSize is a size and the sum it came from.
type DeskSize struct {
	Size
	Why []DeskTerm `json:"why" doc:"one step a line; none where the size is given as it is"`
}

// DeskTerm is one step of a sum.
type DeskTerm struct {
	Sign string `json:"sign" enum:",+,−,÷"`
	What string `json:"what"`
	Size string `json:"size" doc:"of a division: by how many"`
}

// DeskOpening is one clear space and what goes in.
type DeskOpening struct {
	Name   string   `json:"name"`
	Path   string   `json:"path"`
	Fill   string   `json:"fill"`
	Front  string   `json:"front,omitempty" doc:"letter of front or door"`
	Width  DeskSize `json:"width"`
	Height DeskSize `json:"height"`
}

// DeskFollow is the size of a field.
type DeskFollow struct {
	Path string `json:"path"`
	Size
}

// DeskFinding is what a check has to say, with the line it is about.
type DeskFinding struct {
	ID     string   `json:"id"`
	Level  string   `json:"level" enum:"stop,care,note"`
	Place  string   `json:"place"`
	Says   string   `json:"says"`
	Advice string   `json:"advice,omitempty"`
	Source string   `json:"source,omitempty"`
	Doc    string   `json:"doc" enum:"piece,shop,record"`
	Path   string   `json:"path,omitempty"`
	At     string   `json:"at" doc:"the place of work where it matters"`
	Fix    *DeskFix `json:"fix,omitempty"`
}

// DeskFix is advice that can be put in with one press.
type DeskFix struct {
	Says    string       `json:"says" doc:"what the button says"`
	Changes []DeskChange `json:"changes"`
}

// DeskChange is one change of the piece.
type DeskChange struct {
	Path  string `json:"path"`
	Do    string `json:"do" enum:"set,remove,insert"`
	Value string `json:"value,omitempty"`
}

// DeskOffer are the keys of one sort that the shop has.
type DeskOffer struct {
	Of   string    `json:"of"`
	Keys []DeskKey `json:"keys"`
}

// DeskKey is one key and what it stands for.
type DeskKey struct {
	Key  string `json:"key"`
	Name string `json:"name"`
}

// DeskPage is the page of the desk.
func DeskPage(p plan.Plan) Desk {
	out := Desk{
		Units: p.Piece.Units.String(), Parts: []DeskPart{}, Openings: []DeskOpening{},
		Follows: []DeskFollow{}, Findings: []DeskFinding{}, Offers: offers(p.Shop),
	}
	for i := range p.Model.Parts {
		q := &p.Model.Parts[i]
		out.Parts = append(out.Parts, DeskPart{
			Letter: q.Letter, Name: q.Name, Count: q.Count, Material: p.Shop.StockCalled(q.Material), Note: q.Note, Path: p.PartPath(q),
			Length: deskSize(p, q.Length), Width: deskSize(p, q.Width), Thickness: deskSize(p, q.Thickness),
		})
	}
	for _, o := range p.Model.Openings {
		out.Openings = append(out.Openings, DeskOpening{
			Name: o.Name, Path: o.Path, Fill: o.Fill, Front: o.Front,
			Width: deskSize(p, o.Width), Height: deskSize(p, o.Height),
		})
		out.Follows = append(out.Follows,
			DeskFollow{o.Path + ".width", sized(p, o.Width.Size)}, DeskFollow{o.Path + ".height", sized(p, o.Height.Size)})
	}
	for _, f := range drawing.Fields(p.Piece, p.Model) {
		if !slices.ContainsFunc(out.Follows, func(have DeskFollow) bool { return have.Path == f.Path }) {
			out.Follows = append(out.Follows, DeskFollow{f.Path, sized(p, f.Size())})
		}
	}
	for _, f := range p.Findings {
		out.Findings = append(out.Findings, deskFinding(f))
	}
	out.Answer = deskAnswer(p)
	return out
}

// deskAnswer is the piece in one line: how large, how many parts, what is to
// be looked at.
func deskAnswer(p plan.Plan) string {
	m := p.Model
	n := 0
	for _, q := range m.Parts {
		n += q.Count
	}
	unitless := func(l unit.Length) string { return strings.TrimSuffix(p.Show(l), " "+p.Piece.Units.String()) }
	t := fmt.Sprintf("%s wide, %s deep and %s high over all, in %s",
		unitless(m.Outside.X), unitless(m.Outside.Y), p.Show(m.Outside.Z), document.Count(n, "part"))
	stop, care := 0, 0
	for _, f := range p.Findings {
		switch f.Level {
		case finding.Stop:
			stop++
		case finding.Care:
			care++
		}
	}
	switch {
	case stop > 0:
		return fmt.Sprintf("%s; %s to mend first", t, document.Count(stop, "thing"))
	case care > 0:
		return fmt.Sprintf("%s; %s to look at", t, document.Count(care, "thing"))
	}
	return t + "; nothing to mend"
}

func deskSize(p plan.Plan, d build.Dim) DeskSize {
	out := DeskSize{Size: sized(p, d.Size), Why: []DeskTerm{}}
	if len(d.Why) < 2 {
		return out
	}
	for i, t := range d.Why {
		term := DeskTerm{What: t.What, Size: p.Show(t.Each)}
		switch n := max(t.Times, -t.Times); {
		case t.Over > 0:
			term.Sign, term.Size = "÷", fmt.Sprint(t.Over)
		case t.Times < 0:
			term.Sign = "−"
			term.Size = times(n, term.Size)
		default:
			term.Size = times(n, term.Size)
			if i > 0 {
				term.Sign = "+"
			}
		}
		out.Why = append(out.Why, term)
	}
	return out
}

func times(n int, size string) string {
	if n > 1 {
		return fmt.Sprintf("%d × %s", n, size)
	}
	return size
}

func deskFinding(f finding.Finding) DeskFinding {
	out := DeskFinding{
		ID: f.ID, Level: f.Level.String(), Place: f.Place, Says: f.Says, Advice: f.Advice, Source: f.Source,
		Doc: f.Doc, Path: f.Path, At: PlaceOf(f),
	}
	if out.Doc == "" {
		out.Doc = "piece"
	}
	if f.Fix != nil && out.Doc == "piece" {
		fix := &DeskFix{Says: f.Fix.Says}
		for _, c := range f.Fix.Changes {
			fix.Changes = append(fix.Changes, DeskChange{c.Path, c.Do, c.Value})
		}
		out.Fix = fix
	}
	return out
}

// offers are the keys that fields of a piece can name, by the word that its
// type has for them.
func offers(s shop.Shop) []DeskOffer {
	var out []DeskOffer
	add := func(of string, keys []DeskKey) { out = append(out, DeskOffer{of, keys}) }
	materials := keysOf(s.Panels, func(k string, v shop.Panel) string { return shop.Called(v.Name, k) })
	add("material", append(materials, keysOf(s.Woods, func(k string, _ shop.Wood) string { return shop.Words(k) })...))
	add("band", keysOf(s.Bands, func(k string, v shop.Band) string { return shop.Called(v.Name, k) }))
	add("saw", keysOf(s.Saws, func(k string, _ shop.Saw) string { return shop.Words(k) + " saw" }))
	add("glue", keysOf(s.Glues, func(k string, v shop.Glue) string { return shop.Called(v.Name, k) }))
	add("supply", keysOf(s.Supplies, func(k string, v shop.Supply) string { return shop.Called(v.Name, k) }))
	for _, of := range []struct {
		of    string
		kinds []string
	}{
		{"runner", []string{"side-runner", "under-runner", "corner-runner", "wooden-runner"}},
		{"hinge", []string{"cup-hinge"}},
		{"pull", []string{"pull"}},
		{"pin", []string{"pin"}},
		{"stand", []string{"leg-plate", "caster", "foot"}},
	} {
		keys := []DeskKey{}
		for _, kind := range of.kinds { // what is usual first: it is what a new drawer is given
			some := map[string]shop.Hardware{}
			for k, h := range s.Hardware {
				if h.Kind == kind {
					some[k] = h
				}
			}
			keys = append(keys, keysOf(some, func(k string, h shop.Hardware) string { return shop.Called(h.Name, k) })...)
		}
		add(of.of, keys)
	}
	return out
}

func keysOf[V any](m map[string]V, name func(string, V) string) []DeskKey {
	out := []DeskKey{}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out = append(out, DeskKey{k, name(k, m[k])})
	}
	return out
}
