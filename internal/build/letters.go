package build

import (
	"cmp"
	"slices"
	"strings"

	"casewright/internal/unit"
)

// letters merges alike parts, names them A, B … Z, AA … in the order they
// were built, and puts the letters in place of the marks used until now.
func (b *builder) letters() {
	var kept []*Part
	byBase := map[string][]*Part{}
	used := map[string]bool{}
	letter := map[string]string{} // of each mark
	b.planned = map[string]string{}
	for i, p := range b.parts {
		base, asPlanned := b.steady(i)
		if q := b.alike(byBase[base], p); q != nil {
			letter[p.Letter] = letter[q.Letter]
			continue
		}
		l := base
		switch {
		case base == "":
			l = letterOf(len(kept))
			for n := len(kept); used[l]; n++ {
				l = letterOf(n)
			}
		case !asPlanned || used[base]:
			l = numbered(base, used)
		}
		used[l] = true
		b.planned[l] = cmp.Or(base, l)
		letter[p.Letter] = l
		byBase[base] = append(byBase[base], p)
		kept = append(kept, p)
	}
	b.letter = letter
	pairs := make([]string, 0, 2*len(letter))
	for _, mark := range sorted(letter) {
		pairs = append(pairs, mark, letter[mark])
	}
	put := strings.NewReplacer(pairs...)
	b.m.Parts = make([]Part, len(kept))
	for i, p := range kept {
		b.m.Parts[i] = *p
		b.m.Parts[i].Letter = letter[p.Letter]
		b.m.Parts[i].Note = put.Replace(p.Note)
		for j := range p.Features {
			p.Features[j].For = put.Replace(p.Features[j].For)
		}
	}
	b.dropBends()
	m := &b.m
	for i := range m.Joints {
		j := &m.Joints[i]
		j.A, j.B, j.Note = put.Replace(j.A), put.Replace(j.B), put.Replace(j.Note)
	}
	m.Joints = mergeJoints(m.Joints)
	for i := range m.Hardware {
		m.Hardware[i].For = put.Replace(m.Hardware[i].For)
	}
	m.Hardware = mergeHardware(m.Hardware)
	for i := range m.Openings {
		o := &m.Openings[i]
		o.Front, o.Box = put.Replace(o.Front), put.Replace(o.Box)
	}
	for i := range m.Bends {
		m.Bends[i].Part = put.Replace(m.Bends[i].Part)
	}
	for i := range m.Screws {
		m.Screws[i].Where = put.Replace(m.Screws[i].Where)
	}
	for i := range m.Findings {
		f := &m.Findings[i]
		f.Place, f.Says, f.Advice = put.Replace(f.Place), put.Replace(f.Says), put.Replace(f.Advice)
	}
}

// dropBends takes out the bends of parts that were merged into others; kerf
// groups find theirs by index.
func (b *builder) dropBends() {
	var kept []Bend
	now := make([]int, len(b.m.Bends))
	for i, x := range b.m.Bends {
		if x.Name != "" {
			now[i] = len(kept)
			kept = append(kept, x)
		}
	}
	b.m.Bends = kept
	for i := range b.m.Parts {
		p := &b.m.Parts[i]
		p.Kerfs = slices.Clone(p.Kerfs)
		for j := range p.Kerfs {
			p.Kerfs[j].Bend = now[p.Kerfs[j].Bend]
		}
	}
}

// letterOf is the letter of the n-th part: A … Z, AA, AB …
func letterOf(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// mergeJoints drops what is said twice and counts nothing: two alike joints
// of alike parts are one line.
func mergeJoints(all []Joint) []Joint {
	var out []Joint
	for _, j := range all {
		if !slices.Contains(out, j) {
			out = append(out, j)
		}
	}
	return out
}

// mergeHardware adds up lines for the same thing in the same use.
func mergeHardware(all []Fitting) []Fitting {
	var out []Fitting
	for _, f := range all {
		i := slices.IndexFunc(out, func(g Fitting) bool {
			return g.Key == f.Key && g.Name == f.Name && g.Length == f.Length && g.For == f.For && g.Stock == f.Stock
		})
		if i < 0 {
			out = append(out, f)
			continue
		}
		out[i].Count += f.Count
		out[i].At = append(slices.Clone(out[i].At), f.At...)
	}
	return out
}

// alike looks among the parts kept for one that p is another of: the same
// drawing, or turned half round in its plane, or the mirror image of either.
// If there is one, p's places are added to it.
func (b *builder) alike(kept []*Part, p *Part) *Part {
	for _, q := range kept {
		if q.Name != p.Name || q.Role != p.Role || q.Material != p.Material ||
			q.Length.Size != p.Length.Size || q.Width.Size != p.Width.Size || q.Thickness.Size != p.Thickness.Size ||
			q.Grain != p.Grain || q.Oversize.Length != p.Oversize.Length || q.Oversize.Width != p.Oversize.Width ||
			q.Note != p.Note || b.cut(q) != b.cut(p) {
			continue
		}
		for _, turn := range turns {
			if turn != (turned{}) && (p.Bent != nil || len(p.Kerfs) > 0) {
				break // a bent part is alike only as it stands
			}
			if !b.same(q, turn.part(*p)) {
				continue
			}
			q.Count += p.Count
			for _, at := range p.Places {
				at.Frame = turn.frame(at.Frame, p)
				q.Places = append(slices.Clone(q.Places), at)
			}
			b.sameBends(q, p)
			return q
		}
	}
	return nil
}

// cut is what a part's saw cuts come to, so that parts of different sums but
// the same sizes still merge.
func (b *builder) cut(p *Part) [2]unit.Length {
	return [2]unit.Length{p.CutLength(), p.CutWidth()}
}
