package bend

import (
	"math"

	"casewright/internal/unit"
)

// Kind says what the skin is and what lies under it in the land; it decides
// how far the bending reaches into the lands.
type Kind int

// The kinds, by the direction of the grain to the bend.
const (
	Isotropic    Kind = iota // the same every way
	SolidRound               // solid wood, grain round the bend
	Fibreboard               // MDF and the like
	FacePlyRound             // a face ply with its grain round the bend, over a cross ply
	AlongKerf                // wood or a face ply with its grain along the kerf
)

func (k Kind) String() string {
	switch k {
	case Isotropic:
		return "isotropic"
	case SolidRound:
		return "solid wood, grain round the bend"
	case Fibreboard:
		return "fibreboard"
	case FacePlyRound:
		return "face ply round the bend"
	case AlongKerf:
		return "grain along the kerf"
	}
	return "unknown"
}

// Layer is one ply of the panel.
type Layer struct {
	Thickness unit.Length
	E         unit.Stress // modulus round the bend
}

// Law is an allowable nominal strain that falls with the thickness of the
// skin: A·t^-P, t in millimetres; a fraction, not per cent. The zero Law
// allows nothing.
type Law struct{ A, P float64 }

// At is the allowable strain (fraction) of a skin of thickness t. Skins under
// 0.3 mm are given the strain of 0.3 mm: no data reach there.
func (l Law) At(t unit.Length) float64 { return l.at(t.MM()) }

func (l Law) at(t float64) float64 { return l.A * math.Pow(math.Max(t, 0.3), -l.P) }

// Material is a panel as the bend sees it.
type Material struct {
	Key  string // such as "ply-round"
	Name string
	Kind Kind

	Ex unit.Stress // modulus along the skin, round the bend
	Ey unit.Stress // modulus through the thickness
	G  unit.Stress // shear modulus between the two
	Nu float64     // Poisson's ratio, stretch along the skin to shrinkage through it

	// Alpha is the length of land, in skin thicknesses, that bends with the
	// kerf when the land is wide. 0: worked out from the kind and the moduli.
	Alpha float64

	// Layers are the plies from the uncut face inward, for a skin of more
	// than one ply. Empty: the skin is all one stuff of modulus Ex. A skin
	// deeper than the layers given goes on in the last of them.
	Layers []Layer

	Dry, Wet Law     // allowable strain as it lies, and soaked hot; no Wet: wetting does not soften it
	Yield    float64 // strain at which the grain gives way in compression (fraction); 0: it does not

	InPlane, Through float64 // movement per per cent of moisture, round the bend and through the thickness (fraction); 0: not known

	Source string // where the figures come from
}

// Crushing is the stress at which the skin gives way in compression, f_c:
// the modulus times the yield strain.
func (m Material) Crushing() unit.Stress { return m.Ex * unit.Stress(m.Yield) }

// The allowable strains of plywood by grain, least-squares through the 3-ply
// rows of FAA AC 43.13-1B table 1-2, eps = t/(2R+t); 0.9 to 4.7 mm.
var (
	dryRound = Law{0.0083, 0.39}
	wetRound = Law{0.0318, 0.58}
	dryAlong = Law{0.0146, 0.47}
	wetAlong = Law{0.134, 0.87}
)

const strainSource = "strain: fit to FAA AC 43.13-1B table 1-2, 3-ply rows"

// Materials lists the generic materials, to be had by their Key. They are
// typical figures for planning; a maker's own panel is known by its test bend.
func Materials() []Material {
	return []Material{
		{
			Key: "ply-round", Name: "veneered plywood, face grain round the bend", Kind: FacePlyRound,
			Ex: 12000, Ey: 900, G: 850, Nu: 0.4, Dry: dryRound, Wet: wetRound, Yield: 0.004,
			InPlane: 0.00015, Through: 0.0028,
			Source: strainSource + "; moduli and movement: common practice, no source",
		},
		{
			Key: "ply-along", Name: "veneered plywood, face grain along the kerf", Kind: AlongKerf,
			Ex: 700, Ey: 900, G: 200, Nu: 0.4, Dry: dryAlong, Wet: wetAlong,
			InPlane: 0.00015, Through: 0.0028,
			Source: strainSource + ", tight side out or optimistic; moduli and movement: common practice, no source",
		},
		{
			Key: "mdf", Name: "MDF", Kind: Fibreboard,
			Ex: 3000, Ey: 150, G: 180, Nu: 0.3, Alpha: 3.1, Dry: Law{0.009, 0},
			Source: "strain: class minima of EN 622-5 for 9-19 mm (from memory), bending strength over modulus; moduli: derived",
		},
		{
			Key: "solid-round", Name: "solid wood, grain round the bend", Kind: SolidRound,
			Ex: 12500, Ey: 900, G: 850, Nu: 0.4, Alpha: 2.8, Dry: dryRound, Wet: wetRound, Yield: 0.004,
			Through: 0.0018,
			Source:  strainSource + "; moduli: clear oak, rounded; movement: white oak radial, FPL-GTR-190 table 13-5",
		},
		{
			Key: "solid-along", Name: "solid wood, grain along the kerf", Kind: AlongKerf,
			Ex: 900, Ey: 1200, G: 250, Nu: 0.4, Dry: dryAlong, Wet: wetAlong,
			Source: strainSource + "; moduli: common practice, no source",
		},
	}
}

// MaterialByKey is the generic material of that key.
func MaterialByKey(key string) (Material, bool) {
	for _, m := range Materials() {
		if m.Key == key {
			return m, true
		}
	}
	return Material{}, false
}

// alphaFit is the reach of the bending into a wide land in skin thicknesses,
// from the moduli: the quarter power is the rescaling of plane orthotropic
// elasticity, the rest a fit to finite elements within 2 per cent. Derived.
func (m Material) alphaFit() float64 {
	ratio := float64(m.Ex / m.Ey)
	r := math.Sqrt(float64(m.Ex*m.Ey))/(2*float64(m.G)) - m.Nu/math.Sqrt(ratio)
	return 1.25 * math.Pow(ratio, 0.25) * math.Pow(math.Max(1+r, 0.1)/2, 0.45)
}

// facePly is alpha of a single face ply round the bend over a cross ply, by
// its thickness in mm; straight lines between finite-element results at 0.6,
// 1.4 and 2.5 mm, flat outside. Derived.
func facePly(t float64) float64 {
	switch {
	case t <= 0.6:
		return 3.8
	case t <= 1.4:
		return 3.8 + (t-0.6)/0.8*(3.15-3.8)
	case t <= 2.5:
		return 3.15 + (t-1.4)/1.1*(2.1-3.15)
	}
	return 2.1
}

// reach is the length of wide land (both sides of a kerf together, mm) that
// bends with a skin of thickness t mm. A remainder of cross ply under the
// face ply adds nothing: then the face ply's thickness counts.
func (m Material) reach(t float64) float64 {
	if m.Alpha > 0 {
		return m.Alpha * t
	}
	if m.Kind != FacePlyRound {
		return m.alphaFit() * t
	}
	if len(m.Layers) > 0 {
		if face := m.Layers[0].Thickness.MM(); t > 1.02*face {
			return math.Min(3.4, facePly(face)) * face
		}
	}
	return facePly(t) * t
}
