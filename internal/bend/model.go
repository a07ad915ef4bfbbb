package bend

import (
	"fmt"
	"math"
)

// model is one kerf of a spec in mm and radians.
type model struct {
	m             Material
	T, t, d       float64 // thickness, skin, depth
	bottom, mouth float64 // kerf widths
	yn, h         float64 // neutral depth, lever
	side          float64 // +1 kerfs inside the bend, -1 outside
	tooth         Tooth
	hinge         Hinge
	ratio         float64 // measured neutral ratio, or 0
	phi, radius   float64
	show          show // sizes in errors
}

// newModel reads a valid spec.
func newModel(s Spec) model {
	k := model{
		m: s.Material, side: 1, tooth: s.Tooth, hinge: s.Hinge, ratio: s.NeutralRatio,
		phi: s.Angle.Rad(), radius: s.Radius.MM(), show: show(s.Units),
		bottom: s.Kerf.MM(), mouth: s.Tooth.Mouth.MM(),
	}
	if s.Outside {
		k.side = -1
	}
	widen := 0.0
	for _, p := range s.Passes {
		widen += p.MM()
	}
	return k.at(s.Thickness.MM(), s.Skin.MM(), widen)
}

// at is the model in a panel of thickness T with the skin t and a kerf wider
// by widen.
func (k model) at(T, t, widen float64) model {
	one := k
	one.set(&k, T, t, widen)
	return one
}

// set makes k the kerf of base with another thickness, skin and width.
func (k *model) set(base *model, T, t, widen float64) {
	k.T, k.t, k.d = T, t, T-t
	k.bottom = base.bottom + widen
	switch k.tooth.Form {
	case VeeTooth:
		k.bottom, k.mouth = 0, 2*k.d*math.Tan(k.tooth.Bevel.Rad())
	case FlaredWall:
		k.mouth = base.mouth + widen
	default:
		k.mouth = k.bottom
	}
	k.yn = k.ratio * t
	if k.ratio == 0 {
		k.yn = k.m.neutral(t)
	}
	k.h = T - k.yn
}

// neutral is the elastic neutral depth of a skin of thickness t.
func (m *Material) neutral(t float64) float64 {
	if len(m.Layers) == 0 {
		return t / 2
	}
	return m.strip(t).neutral()
}

// far is the distance from the elastic neutral surface to the stretched side
// of a skin of thickness t: the uncut face, or with the kerfs outside the
// bottom of the kerf.
func (k *model) far(t float64) float64 {
	if k.side < 0 {
		return t - k.m.neutral(t)
	}
	return k.m.neutral(t)
}

// wide is the greatest width of the kerf.
func (k *model) wide() float64 { return math.Max(k.bottom, k.mouth) }

// over is the length of even skin that bends over the kerf itself.
func (k *model) over() float64 {
	switch k.tooth.Form {
	case BevelTooth:
		return taper(k.t, math.Tan(k.tooth.Bevel.Rad()), k.bottom/2)
	case VeeTooth:
		return taper(k.t, 1/math.Tan(k.tooth.Bevel.Rad()), k.mouth/2)
	}
	return k.bottom
}

// root is the length of land that bends with a kerf. Under a V it lies
// between that of a straight wall and none at all: an estimate, not checked.
func (k *model) root(pitch float64) float64 {
	r := rooted(k.m.reach(k.t), pitch-k.wide())
	if k.tooth.Form == VeeTooth {
		r *= 1 - math.Sin(k.tooth.Bevel.Rad())
	}
	return r
}

// bent is the effective length of one hinge, kerf and roots, at most the pitch.
func (k *model) bent(pitch float64) float64 {
	return math.Min(k.over()+k.root(pitch), pitch)
}

// kerfHinge is the kerf as a mechanism.
func (k *model) kerfHinge(pitch float64) hinge {
	j := hinge{arc: k.bottom, mouth: k.mouth, h: k.h}
	switch k.hinge {
	case PointHinge:
		j.arc = 0
	case RootHinge:
		j.arc = k.bent(pitch)
	}
	return j
}

// possible says why a kerf like this is no kerf for bending.
func (k model) possible() error {
	if k.tooth.Form != VeeTooth && k.mouth > k.h*math.Pi/2 {
		return fmt.Errorf("a kerf %s wide in a panel of %s would turn more than 90 degrees before it closes; use a blade under %s", k.show.mm(k.mouth, 4), k.show.mm(k.T, 4), k.show.mm(k.h/2, 3))
	}
	return nil
}

// choose is the count to use when the spec leaves it open: the least that
// closes at the wanted angle in all but 5 of 100 simulated bends, or with the
// kerfs outside the least whose skin bends dry, failing that softened, failing
// that the most that fit.
func (k model) choose(s Spec) (int, error) {
	rn := k.radius - k.side*k.yn
	if k.side > 0 && rn < k.h {
		return 0, k.tooTight(s)
	}
	most := min(int(rn*k.phi/(k.wide()+s.LeastLand.MM())+1e-9), maxCount)
	if most < 1 {
		return 0, k.tooTight(s)
	}
	if k.side < 0 {
		return k.leastSound(rn, most), nil
	}
	n, ok := k.leastClosing(s, rn, most)
	if !ok {
		return 0, k.tooTight(s)
	}
	return n, nil
}

// leastSound is the least count up to most whose strain is allowed dry; if
// there is none, the least whose strain is allowed softened; else most.
func (k model) leastSound(rn float64, most int) int {
	dry, wet := k.allowed()
	for _, allowed := range []float64{dry, wet} {
		for n := 1; n <= most; n++ {
			theta := k.phi / float64(n)
			if theta <= math.Pi/4 && k.far(k.t)*theta/k.bent(rn*theta) <= allowed {
				return n
			}
		}
	}
	return most
}

// leastClosing is the least count up to most whose closing angle reaches the
// bend's in all but 5 of 100 simulated bends.
func (k model) leastClosing(s Spec, rn float64, most int) (int, bool) {
	least := func(n int) float64 { // p05 of the closing angle
		return k.simulate(s, n, rn*k.phi/float64(n), false).AngleP05.Rad()
	}
	first := max(int(math.Ceil(k.phi/k.kerfHinge(rn*k.phi).closing()-1e-9)), 1)
	n := first
	for n <= most {
		low := least(n)
		if low >= k.phi {
			break
		}
		// The share lost to errors hardly changes with the count: jump there.
		n = max(n+1, int(math.Ceil(float64(n)*k.phi/math.Max(low, k.phi/100))))
	}
	if n > most {
		return 0, false
	}
	for n > first && least(n-1) >= k.phi {
		n--
	}
	return n, true
}

// tooTight is the error for a radius under the least.
func (k model) tooTight(s Spec) error {
	least, err := k.leastRadius(s)
	if err != nil {
		return err
	}
	return fmt.Errorf("a radius of %s is below the least of %s for a kerf of %s and a skin of %s in a panel of %s; use that radius, or a wider kerf", k.show.mm(k.radius, 4), k.show.up(least), k.show.mm(k.wide(), 4), k.show.mm(k.t, 4), k.show.mm(k.T, 4))
}
