package wood

import (
	"fmt"
	"slices"

	"casewright/internal/unit"
)

// GaugeDiameter is the shank of a screw gauge, 0.060 + 0.013 n in
// (ANSI/ASME B18.6.1), exact. It holds for wood and machine screws alike.
func GaugeDiameter(gauge int) unit.Length {
	return unit.In(0.060) + unit.Length(gauge)*unit.In(0.013)
}

// Screw is a wood screw of one diameter. A zero length means "not published".
type Screw struct {
	System   unit.System // Imperial: by gauge; Metric: by millimetres
	Size     string      // gauge "8", or millimetres "4"
	Diameter unit.Length
	Pitch    unit.Length // of the thread
	PitchBy  Source
	Root     unit.Length // core of the thread
	RootBy   Source

	pilotHard, pilotSoft, clearance unit.Length // from a chart; 0: none
	holesBy                         Source
}

// Name is the screw as a maker writes it: "#8" or "4 mm".
func (s Screw) Name() string {
	if s.System == unit.Imperial {
		return "#" + s.Size
	}
	return s.Size + " mm"
}

// FindScrew is the screw of a size, such as "8" of the imperial system.
func FindScrew(system unit.System, size string) (Screw, bool) {
	i := slices.IndexFunc(known.screws, func(s Screw) bool { return s.System == system && s.Size == size })
	if i < 0 {
		return Screw{}, false
	}
	return known.screws[i], true
}

// Screws is the table of one system, thinnest first.
func Screws(system unit.System) []Screw {
	return slices.DeleteFunc(slices.Clone(known.screws), func(s Screw) bool { return s.System != system })
}

// Lead holes against withdrawal, as shares of the root diameter
// (FPL-GTR-190 ch. 8).
const (
	LeadHard = 0.90
	LeadSoft = 0.70
)

// Pilot is the hole for the thread: from a chart where there is one, else the
// handbook's share of the root; false where the root is not known either.
func (s Screw) Pilot(hardwood bool) (unit.Length, Source, bool) {
	chart, share := s.pilotSoft, LeadSoft
	if hardwood {
		chart, share = s.pilotHard, LeadHard
	}
	switch {
	case chart > 0:
		return chart, s.holesBy, true
	case s.Root > 0:
		return s.Root.Scale(share), Source{"FPL-GTR-190 ch. 8 on the root of " + s.RootBy.Name, s.RootBy.How}, true
	}
	return 0, Source{}, false
}

// Clearance is the hole through which the shank slips: from a chart where
// there is one, else the shank and half a millimetre.
func (s Screw) Clearance() (unit.Length, Source) {
	if s.clearance > 0 {
		return s.clearance, s.holesBy
	}
	return s.Diameter + unit.MM(0.5), Source{"shank and 0.5 mm", Practice}
}

// Countersink is the angle of the cone for flat heads: 82° inch, 90° metric
// (common practice).
func Countersink(system unit.System) unit.Angle {
	if system == unit.Imperial {
		return unit.Deg(82)
	}
	return unit.Deg(90)
}

// HeadUnder is how far a flat head is sunk under the face of wood, so that
// nothing catches on it (common practice).
const HeadUnder = unit.Millimetre / 2

// StockLengths is the screw lengths that any shop can buy, shortest first
// (common practice).
func StockLengths(system unit.System) []unit.Length {
	if system == unit.Imperial {
		return inches(0.5, 0.625, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3)
	}
	return millimetres(12, 16, 20, 25, 30, 35, 40, 50, 60)
}

// MachineLengths is the machine-screw lengths in which pulls are fixed, M4 or
// #8, shortest first (common practice).
func MachineLengths(system unit.System) []unit.Length {
	if system == unit.Imperial {
		return inches(0.5, 0.625, 0.75, 0.875, 1, 1.125, 1.25, 1.5, 1.75, 2, 2.5)
	}
	return millimetres(12, 16, 20, 22, 25, 28, 30, 35, 40, 45, 50, 60)
}

// Stack is what a screw goes through: first the part that is fastened, then
// the part that holds it.
type Stack struct {
	Fastened unit.Length // parts and plates under the head
	Holding  unit.Length // wood the thread bites in
	Sunk     unit.Length // how far the head lies below the surface; counterbores too
}

// Fit is the screw for a stack.
type Fit struct {
	Most   unit.Length // longest that leaves the tip clearance
	Length unit.Length // the stock length taken, never more than Most
	Tip    unit.Length // wood left before the tip
	Grip   unit.Length // length in the holding part
	Wanted unit.Length // grip asked for: two thirds of the length, or the fastened thickness if more
}

// Holds says that the grip reaches what is wanted. Where it does not, the tip
// clearance has won: use more screws or a thicker one.
func (f Fit) Holds() bool { return f.Grip >= f.Wanted }

// ScrewLength picks the longest stock length that keeps the tip clearance
// before the far side of the stack; it never rounds up. The error is a
// *TooThinError where even the shortest is too long or would not reach the
// holding part, or a *RangeError for a negative size.
func ScrewLength(s Stack, tip unit.Length, system unit.System) (Fit, error) {
	for _, l := range []struct {
		what string
		l    unit.Length
	}{{"fastened thickness", s.Fastened}, {"holding thickness", s.Holding}, {"depth of the head", s.Sunk}, {"tip clearance", tip}} {
		if err := within(l.what, l.l.MM(), 0, 1000, "mm", Source{}); err != nil {
			return Fit{}, err
		}
	}
	f := Fit{Most: s.Fastened + s.Holding - s.Sunk - tip}
	for _, l := range StockLengths(system) {
		if l <= f.Most {
			f.Length = l
		}
	}
	f.Grip = f.Length + s.Sunk - s.Fastened
	if f.Length == 0 || f.Grip <= 0 {
		return Fit{}, &TooThinError{Most: f.Most, Shortest: StockLengths(system)[0], Fastened: s.Fastened - s.Sunk, System: system}
	}
	f.Tip = s.Fastened + s.Holding - s.Sunk - f.Length
	f.Wanted = max(f.Length.Scale(2.0/3), s.Fastened-s.Sunk)
	return f, nil
}

// TooThinError says that no stock screw fits a stack.
type TooThinError struct {
	Most     unit.Length // longest that leaves the tip clearance
	Shortest unit.Length // shortest stock length
	Fastened unit.Length // what it must go through first
	System   unit.System
}

func (e *TooThinError) Error() string {
	style := unit.TenthMM
	if e.System == unit.Imperial {
		style = unit.Inch64ths
	}
	return fmt.Sprintf("no stock screw fits: at most %s leaves the tip clearance, the fastened part takes %s, the shortest screw is %s; thicken the holding part or fasten from the other side",
		max(0, e.Most).Format(style), e.Fastened.Format(style), e.Shortest.Format(style))
}

// MachineLength picks the shortest stock machine screw that passes a stack of
// parts and reaches at least least, at most most, into the thread of a pull;
// false where none does and the screw has to be cut.
func MachineLength(stack, least, most unit.Length, system unit.System) (unit.Length, bool) {
	for _, l := range MachineLengths(system) {
		if in := l - stack; in >= least && in <= most {
			return l, true
		}
	}
	return 0, false
}

func inches(v ...float64) []unit.Length {
	out := make([]unit.Length, len(v))
	for i := range v {
		out[i] = unit.In(v[i])
	}
	return out
}

func millimetres(v ...float64) []unit.Length {
	out := make([]unit.Length, len(v))
	for i := range v {
		out[i] = unit.MM(v[i])
	}
	return out
}

func screwOf(r row) Screw {
	s := Screw{System: r.system(), Size: r.Text("size"), RootBy: r.source("root"), holesBy: r.source("holes")}
	if s.System == unit.Imperial {
		s.Diameter = GaugeDiameter(int(r.Number("size")))
		s.Pitch = unit.In(1 / r.Number("threads_per_inch"))
		s.PitchBy = Source{"ANSI/ASME B18.6.1", Provenance(r.Text("thread_prov"))}
		s.Root, s.pilotHard = r.inch("root"), r.inch("pilot_hard")
		s.pilotSoft, s.clearance = r.inch("pilot_soft"), r.inch("clearance")
		return s
	}
	s.Diameter, s.Pitch, s.Root = r.mm("size"), r.mm("pitch_mm"), r.mm("root")
	s.PitchBy = Source{"DIN 7998", Provenance(r.Text("thread_prov"))}
	return s
}
