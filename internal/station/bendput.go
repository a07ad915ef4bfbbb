package station

import (
	"fmt"
	"slices"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/plan"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// DocChange is one change of a document by field, as an edit takes it.
type DocChange struct {
	Path  string `json:"path"`
	Do    string `json:"do" enum:"set,remove,insert"`
	Value string `json:"value,omitempty"`
}

// PutIn is how a design is put into the documents, or why it cannot be.
type PutIn struct {
	Says   string      `json:"says" doc:"what the changes do, in words"`
	Piece  []DocChange `json:"piece,omitempty"`
	Shop   []DocChange `json:"shop,omitempty"`
	Record []DocChange `json:"record,omitempty"`
	Cannot bool        `json:"cannot" doc:"says tells why there is nothing to put in"`
}

// putIn finds the edits after which a plan has the design.
func putIn(p plan.Plan, b build.Bend, d bend.Design, kinds int) *PutIn {
	r, c := d.Result, p.Piece.Case
	out := &PutIn{}
	piece := func(do, path, value string) {
		out.Piece = append(out.Piece, DocChange{Path: path, Do: do, Value: value})
	}
	switch {
	case len(r.Spec.Passes) > 0:
		return &PutIn{Cannot: true, Says: "The saw paper sets each kerf once. To cut so, put a blade into the shop whose kerf is as wide as both passes make it."}
	case d.Way == bend.ExactDeep && kinds > 1:
		return &PutIn{Cannot: true, Says: fmt.Sprintf("The piece has bends of %d kinds, and one count would go for all of them. Set case.kerfs and case.skin at the desk if you mean that.", kinds)}
	}
	if r.Spec.Skin != c.Skin {
		skin := decimals(r.Spec.Skin.MM(), 2) + " mm"
		piece("set", "case.skin", skin)
		out.Says = "Leaves a skin of " + fine(p, r.Spec.Skin).Own + ". "
	}
	switch {
	case d.Way == bend.ExactDeep:
		piece("set", "case.kerfs", fmt.Sprint(r.Count))
		out.Says += fmt.Sprintf("Fixes the count at %d. ", r.Count)
	case c.Kerfs > 0:
		piece("remove", "case.kerfs", "")
		out.Says += "Leaves the count to be chosen again. "
	}
	switch form := d.Way == bend.OnForm; {
	case form && !c.Form:
		piece("set", "case.form", "yes")
		out.Says += "Says that the bends are glued up on a form and filled. "
	case !form && c.Form:
		piece("remove", "case.form", "")
		out.Says += "Takes the form out. "
	}
	if d.Blade != "" {
		out.swapBlade(p, b.Saw, d.Blade)
	}
	if len(out.Piece)+len(out.Shop) == 0 {
		return &PutIn{Cannot: true, Says: "This is what the plan has."}
	}
	out.Says = out.Says[:len(out.Says)-1]
	return out
}

// swapBlade puts another blade into the saw and the one that was in it among
// the others.
func (out *PutIn) swapBlade(p plan.Plan, key, name string) {
	saw := p.Shop.Saws[key]
	i := slices.IndexFunc(saw.Blades, func(x shop.Blade) bool { return x.Name == name })
	if i < 0 {
		return
	}
	was, path := saw.Kerf, "saws."+key
	if w := p.Record.Kerfs[key]; w > 0 {
		was = w
		out.Record = append(out.Record, DocChange{Path: "kerfs." + key, Do: "remove"})
	}
	set := func(path, value string) { out.Shop = append(out.Shop, DocChange{Path: path, Do: "set", Value: value}) }
	set(path+".kerf", saw.Blades[i].Kerf.Exact(unit.Metric))
	at := fmt.Sprintf("%s.blades[%d]", path, i)
	set(at+".name", "blade of "+fine(p, was).Own)
	set(at+".kerf", was.Exact(unit.Metric))
	out.Says += fmt.Sprintf("Puts %s into the %s saw; everything cut on it is then planned with its kerf of %s. ", name, key, fine(p, saw.Blades[i].Kerf).Own)
}
