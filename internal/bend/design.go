package bend

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/unit"
)

// Blade is one of the maker's blades, by the kerf it was measured to cut.
type Blade struct {
	Name string
	Kerf unit.Length
}

// Options are what the maker has and wants for Designs. Zero fields take the
// default named.
type Options struct {
	Blades    []Blade     // besides the one in the spec; with flat kerfs only
	LeastSkin unit.Length // thinnest skin the maker will cut; default 0.6 mm (common practice, no source)
	Most      int         // designs wanted; default 5, 1 to 6
}

// Way is how a design gets the bend right.
type Way string

// The ways.
const (
	ByClosing Way = "closing" // just enough kerfs to close by themselves
	OnForm    Way = "form"    // more kerfs, bent over a form and filled
	ThinBlade Way = "blade"   // another of the maker's blades
	ThinSkin  Way = "skin"    // a thinner skin, so that it stands the bend better
	ExactDeep Way = "depth"   // depth trimmed so that the kerfs close exactly
	TwoPasses Way = "passes"  // each kerf widened by a second pass
	Opening   Way = "outside" // kerfs on the outside, which open
)

// Design is one workable way to make a bend.
type Design struct {
	Way     Way      `json:"way"`
	Name    string   `json:"name"`
	Blade   string   `json:"blade,omitempty"` // from Options.Blades
	Result  Result   `json:"bend"`
	Reasons []string `json:"reasons"` // for and against, in words
	Cost    float64  `json:"cost"`    // what it is ranked by, least first; see Designs

	Charges []Charge `json:"-"` // what Cost is the sum of
}

// Charge is one part of a design's cost.
type Charge struct {
	For  string // what is charged, such as "softening"
	Cuts float64
}

// maxBlades bounds the work done for a long list of blades.
const maxBlades = 40

// Designs lists ways to make the bend of the spec, best first; the spec's
// count, pitch, passes and neutral ratio count only where they fit. They are
// ranked by a cost in cuts: one for each kerf and pass; 12 for softening, 25
// for a strain at the limit, 4 more where it is close to call; up to 30 for
// facets over what the finish forgives (satin when the sheen is not known); 8
// for a form and filling; 40 for kerfs that may close short; 2 for changing
// blade or skin, 12 for a skin under 1 mm; 5 to 20 for thin lands. Designs
// that would crack are left out, unless there is nothing else. The weights
// are ours: common practice, no source.
func Designs(s Spec, o Options) ([]Design, error) {
	s.Count, s.Pitch = 0, 0
	s = s.withDefaults()
	if err := s.validate(); err != nil {
		return nil, err
	}
	o, err := o.withDefaults(show(s.Units))
	if err != nil {
		return nil, err
	}
	d := designer{spec: s, opt: o}
	if s.Outside {
		d.outside()
	} else {
		d.closing()
		d.exact()
		d.passes()
	}
	d.form(s, "")
	d.blades()
	d.skins()
	return d.ranked()
}

func (o Options) withDefaults(u show) (Options, error) {
	if o.LeastSkin == 0 {
		o.LeastSkin = unit.MM(0.6)
	}
	if o.Most == 0 {
		o.Most = 5
	}
	switch {
	case o.Most < 1 || o.Most > 6:
		return o, fmt.Errorf("%d designs asked for; give 1 to 6", o.Most)
	case o.LeastSkin < unit.MM(0.1) || o.LeastSkin > unit.MM(50):
		return o, fmt.Errorf("the least skin is %s; give %s", u.size(o.LeastSkin), u.span(0.1, 50))
	case len(o.Blades) > maxBlades:
		return o, fmt.Errorf("%d blades listed; give at most %d", len(o.Blades), maxBlades)
	}
	for _, b := range o.Blades {
		if b.Kerf < unit.MM(0.1) || b.Kerf > unit.MM(100) {
			return o, fmt.Errorf("blade %q cuts a kerf of %s; give %s", b.Name, u.size(b.Kerf), u.span(0.1, 100))
		}
	}
	return o, nil
}

// designer gathers designs.
type designer struct {
	spec  Spec
	opt   Options
	found []Design
	first error // why the plainest design will not do
}

// try adds the design of a spec if it can be made and is not there yet.
func (d *designer) try(way Way, name, blade string, s Spec) (Result, bool) {
	r, err := Evaluate(s)
	if err != nil {
		if d.first == nil {
			d.first = err
		}
		return Result{}, false
	}
	for _, f := range d.found {
		if f.Result.Count == r.Count && f.Result.Kerf == r.Kerf && f.Result.Spec.Skin == r.Spec.Skin {
			return r, true
		}
	}
	x := Design{Way: way, Name: name, Blade: blade, Result: r}
	x.Charges = d.charges(x)
	x.Cost = total(x.Charges)
	x.Reasons = d.reasons(x)
	d.found = append(d.found, x)
	return r, true
}

func (d *designer) closing() {
	d.try(ByClosing, "Close by themselves", "", d.spec)
}

func (d *designer) outside() {
	d.try(Opening, "Kerfs outside", "", d.spec)
}

// form looks for the least count that bends as well as any and whose facets
// the finish forgives, within what the lands allow.
func (d *designer) form(s Spec, blade string) {
	k := newModel(s)
	if k.possible() != nil {
		return
	}
	rn := k.radius - k.side*k.yn
	most := min(int(rn*k.phi/(k.wide()+s.LeastLand.MM())+1e-9), maxCount)
	least := max(int(math.Ceil(k.phi/(math.Pi/4))), 1)
	if k.side > 0 {
		least = max(int(math.Ceil(1.04*k.phi/k.kerfHinge(rn*k.phi).closing())), 1)
	}
	if rn <= 0 || most < least {
		return
	}
	limit := d.facetLimit()
	dry, wet := k.allowed()
	grade := func(n int) (Verdict, bool) {
		theta := k.phi / float64(n)
		bent := k.bent(rn * theta)
		v, _ := judge(k.far(k.t)*theta/bent, dry, wet)
		return v, facet(rn*theta, bent, theta) <= limit.MM()
	}
	best, _ := grade(most)
	for n := least; n <= most; n++ {
		if v, smooth := grade(n); v <= best && (smooth || n == most) {
			s.Count, s.Form = n, true
			name := "On a form, filled"
			if blade != "" {
				name += ", " + blade
			}
			d.try(OnForm, name, blade, s)
			return
		}
	}
}

// blades tries the maker's other blades; the two best stay.
func (d *designer) blades() {
	if d.spec.Tooth.Form != FlatTooth || len(d.spec.Passes) > 0 {
		return
	}
	kept := d.found
	var tries []Design
	for i, b := range d.opt.Blades {
		if b.Kerf == d.spec.Kerf {
			continue
		}
		name := b.Name
		if name == "" {
			name = fmt.Sprintf("blade %d", i+1)
		}
		s := d.spec
		s.Kerf = b.Kerf
		d.found = nil
		d.try(ThinBlade, "With "+name, name, s)
		d.form(s, name)
		tries = append(tries, d.found...)
	}
	slices.SortStableFunc(tries, byCost)
	d.found = append(kept, tries[:min(len(tries), 2)]...)
}

// skins looks for a skin, thinner by tenths, with a better verdict.
func (d *designer) skins() {
	if len(d.found) == 0 {
		return
	}
	have := d.found[0].Result.Verdict
	if have == BendsDry {
		return
	}
	for skin := d.spec.Skin - unit.MM(0.1); skin >= d.opt.LeastSkin; skin -= unit.MM(0.1) {
		s := d.spec
		s.Skin = skin
		k := newModel(s)
		rn := k.radius - k.side*k.yn
		n := d.found[0].Result.Count
		if k.side > 0 {
			n = max(int(math.Ceil(1.04*k.phi/k.kerfHinge(rn*k.phi).closing())), 1)
		}
		theta := k.phi / float64(n)
		dry, wet := k.allowed()
		if v, borderline := judge(k.far(skin.MM())*theta/k.bent(rn*theta), dry, wet); v < have && !borderline {
			d.try(ThinSkin, "Skin of "+d.show().fixed(skin, 1), "", s)
			return
		}
	}
}

// exact trims the depth so that the whole count next to the one wanted
// closes at the angle exactly.
func (d *designer) exact() {
	k := newModel(d.spec)
	if k.possible() != nil || k.ratio > 0 || k.tooth.Form == VeeTooth {
		return
	}
	rn := k.radius - k.yn
	wanted := k.phi / k.kerfHinge(rn*k.phi).closing()
	best, bestBy := Spec{}, math.Inf(1)
	for _, n := range []float64{math.Floor(wanted), math.Ceil(wanted)} {
		if n < 1 || n > maxCount {
			continue
		}
		skin, ok := k.skinFor(k.phi/n, rn*k.phi/n)
		if by := math.Abs(skin - k.t); ok && skin >= d.opt.LeastSkin.MM() && skin < k.T/3 && by < bestBy {
			best, bestBy = d.spec, by
			best.Count, best.Skin = int(n), unit.MM(skin)
		}
	}
	if !math.IsInf(bestBy, 1) {
		d.try(ExactDeep, "Trim to a skin of "+d.show().fixed(best.Skin, 2), "", best)
	}
}

// skinFor is the skin with which each kerf closes at theta.
func (k model) skinFor(theta, pitch float64) (float64, bool) {
	closing := func(t float64) float64 {
		one := k.at(k.T, t, 0)
		return one.kerfHinge(pitch).closing()
	}
	lo, hi := k.T/1000, k.T/2
	if closing(lo) > theta || closing(hi) < theta {
		return 0, false
	}
	for range 60 {
		if mid := (lo + hi) / 2; closing(mid) < theta {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}

// passes widens each kerf by a second pass, so that fewer do.
func (d *designer) passes() {
	s := d.spec
	if len(s.Passes) > 0 || s.Tooth.Form != FlatTooth {
		return
	}
	offset := (s.Kerf - unit.MM(0.1)).RoundDown(unit.MM(0.1))
	if offset < s.Kerf/2 {
		return
	}
	s.Passes = []unit.Length{offset}
	d.try(TwoPasses, fmt.Sprintf("Two passes, %s apart", d.show().size(offset)), "", s)
}

func (d *designer) show() show { return show(d.spec.Units) }

func (d *designer) facetLimit() unit.Length {
	if l := d.spec.Sheen.Limit(); l > 0 {
		return l
	}
	return Satin.Limit()
}

// charges are what a design is ranked by; see Designs.
func (d *designer) charges(x Design) []Charge {
	r := x.Result
	var out []Charge
	add := func(what string, cuts float64) { out = append(out, Charge{what, cuts}) }
	what := "kerfs"
	if n := 1 + len(r.Spec.Passes); n > 1 {
		what = fmt.Sprintf("kerfs of %d passes", n)
	}
	add(what, float64(r.Count*(1+len(r.Spec.Passes))))
	switch r.Verdict {
	case SoftenFirst:
		add("softening", 12)
	case Marginal:
		add("a strain at the limit", 25)
	case WillCrack:
		add("a skin that will crack", 200)
	}
	if r.Borderline {
		add("a strain close to call", 4)
	}
	if over := float64(r.Facet) / float64(d.facetLimit()); over > 1 {
		add("facets that show", math.Min(10*(over-1), 30))
	}
	if r.Spec.Form || r.Spec.Outside {
		add("a form and filling", 8)
	}
	if !r.Spec.Outside && r.Band.AngleP05 < r.Turn {
		add("kerfs that may close short", 40)
	}
	if x.Blade != "" {
		add("changing the blade", 2)
	}
	if r.Spec.Skin != d.spec.Skin {
		add("another skin", 2)
	}
	if r.Spec.Skin < unit.MM(1) {
		add("a skin under "+d.show().mm(1, 6), 12)
	}
	switch least := r.Spec.LeastLand; {
	case r.Land < least:
		add("lands that break out", 20)
	case r.Land < least*3/2:
		add("thin lands", 5)
	}
	return out
}

func total(charges []Charge) float64 {
	sum := 0.0
	for _, c := range charges {
		sum += c.Cuts
	}
	return sum
}

// reasons says what speaks for and against a design.
func (d *designer) reasons(x Design) []string {
	r, u := x.Result, d.show()
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	switch {
	case r.Spec.Outside:
		say("%d kerfs at %s open to %s at the mouth; nothing stops the bend, so it needs a form.", r.Count, u.fixed(r.Pitch, 2), u.fixed(r.Gap, 2))
	case x.Way == ExactDeep:
		say("%d kerfs at %s close at %s exactly with a skin of %s; half of all bends fall short, so set the depth by a test bend.", r.Count, u.fixed(r.Pitch, 2), degrees(r.Turn), u.fixed(r.Spec.Skin, 2))
	case r.Spec.Form:
		say("%d kerfs at %s stay open by %s; the form sets the radius, and the kerfs are filled.", r.Count, u.fixed(r.Pitch, 2), u.fixed(r.Gap, 2))
	default:
		say("%d kerfs at %s close at %s, and at %s or more in 95 bends of 100.", r.Count, u.fixed(r.Pitch, 2), degrees(r.ClosesAt), degrees(r.Band.AngleP05))
	}
	verdict := r.Verdict.String()
	say("%s: the skin stretches %s; it stands %s dry%s.", strings.ToUpper(verdict[:1])+verdict[1:], percent(r.Strain), percent(r.AllowDry), soaked(r))
	if limit := d.facetLimit(); r.Facet > limit {
		say("Facets of %s show; the finish forgives %s.", u.fixed(r.Facet, 3), u.fixed(limit, 3))
	} else {
		say("Facets of %s do not show.", u.fixed(r.Facet, 3))
	}
	if r.Land < r.Spec.LeastLand*3/2 {
		say("Lands of %s are thin; handle with care.", u.fixed(r.Land, 1))
	}
	if r.Spec.Skin < unit.MM(1) {
		say("A skin of %s tears easily before it is glued.", u.size(r.Spec.Skin))
	}
	return out
}

func soaked(r Result) string {
	if r.AllowWet == 0 {
		return ", and wetting does not soften it"
	}
	return ", " + percent(r.AllowWet) + " soaked hot"
}

func byCost(a, b Design) int {
	switch {
	case a.Cost < b.Cost:
		return -1
	case a.Cost > b.Cost:
		return 1
	}
	return 0
}

// ranked is the short list, or why there is none.
func (d *designer) ranked() ([]Design, error) {
	if len(d.found) == 0 {
		return nil, d.first
	}
	slices.SortStableFunc(d.found, byCost)
	sound := slices.DeleteFunc(slices.Clone(d.found), func(x Design) bool { return x.Result.Verdict == WillCrack })
	if len(sound) == 0 {
		sound = d.found
	}
	return sound[:min(len(sound), d.opt.Most)], nil
}
