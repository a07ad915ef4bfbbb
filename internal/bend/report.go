package bend

import (
	"encoding/json"

	"casewright/internal/finding"
)

// Report is a Result as plain numbers, millimetres, degrees and newtons, for
// JSON. Strains are fractions: 0.01 is one per cent. See Result for what each
// means and where it comes from.
type Report struct {
	Material string `json:"material"`
	Outside  bool   `json:"outside"`

	ThicknessMM float64 `json:"thickness_mm"`
	SkinMM      float64 `json:"skin_mm"`
	KerfMM      float64 `json:"kerf_mm"`
	DepthMM     float64 `json:"depth_mm"`
	RadiusMM    float64 `json:"radius_mm"` // of the uncut face
	AngleDeg    float64 `json:"angle_deg"`

	Count           int     `json:"count"`
	PitchMM         float64 `json:"pitch_mm"`
	LandMM          float64 `json:"land_mm"`
	AngleEachDeg    float64 `json:"angle_each_deg"`
	ClosingEachDeg  float64 `json:"closing_angle_each_deg"`
	ClosesAtDeg     float64 `json:"closes_at_deg"`
	ClosesYieldDeg  float64 `json:"closes_at_yielded_deg"`
	ClosesLowDeg    float64 `json:"closes_at_low_deg"`
	ClosesHighDeg   float64 `json:"closes_at_high_deg"`
	GapMM           float64 `json:"gap_mm"`
	ZoneMM          float64 `json:"zone_mm"`
	WantedCount     float64 `json:"count_exact"`
	NeutralMM       float64 `json:"neutral_depth_mm"`
	LeverMM         float64 `json:"lever_mm"`
	NeutralRadiusMM float64 `json:"neutral_radius_mm"`
	InsideRadiusMM  float64 `json:"inside_radius_mm"` // of the hollow side
	OutsideRadiusMM float64 `json:"outside_radius_mm"`
	ClosedRadiusMM  float64 `json:"closed_radius_mm"`

	BentEachMM    float64 `json:"bent_each_mm"`
	Strain        float64 `json:"strain"`
	StrainYielded float64 `json:"strain_yielded"`
	StrainDry     float64 `json:"strain_allowed_dry"`
	StrainWet     float64 `json:"strain_allowed_wet"`
	Verdict       Verdict `json:"verdict"`
	Borderline    bool    `json:"borderline"`
	FacetMM       float64 `json:"facet_mm"`
	FacetRigidMM  float64 `json:"facet_rigid_mm"`

	Moment        float64 `json:"moment_n_mm_per_mm"`
	MomentYielded float64 `json:"moment_yielded_n_mm_per_mm"`
	ForceN        float64 `json:"force_n"`
	HandShare     float64 `json:"hand_share"`
	SpringbackDeg float64 `json:"springback_deg"`
	GluedBackDeg  float64 `json:"glued_springback_deg"`
	MovementDeg   float64 `json:"movement_deg"`

	VoidEachMM2 float64 `json:"void_each_mm2"`
	VoidML      float64 `json:"void_ml"`
	GlueML      float64 `json:"glue_ml"`

	BenchCount float64 `json:"bench_rule_count"`
	LiftMM     float64 `json:"lift_mm"`

	AngleSDDeg   float64 `json:"angle_sd_deg"`
	AngleP025Deg float64 `json:"angle_p025_deg"`
	AngleP05Deg  float64 `json:"angle_p05_deg"`
	AngleP95Deg  float64 `json:"angle_p95_deg"`
	AngleP975Deg float64 `json:"angle_p975_deg"`
	RadiusP05MM  float64 `json:"closed_radius_p05_mm"`
	RadiusP95MM  float64 `json:"closed_radius_p95_mm"`
	StrainP05    float64 `json:"strain_p05"`
	StrainP95    float64 `json:"strain_p95"`
	Reaches      float64 `json:"reaches"` // share of bends that reach the angle

	Findings []finding.Finding `json:"findings"`
}

// Report is r as plain numbers.
func (r Result) Report() Report {
	inside, outside := r.KerfedRadius, r.FaceRadius
	if r.Spec.Outside {
		inside, outside = outside, inside
	}
	findings := r.Findings
	if findings == nil {
		findings = []finding.Finding{}
	}
	b := r.Band
	return Report{
		Material: r.Spec.Material.Key, Outside: r.Spec.Outside,
		ThicknessMM: r.Spec.Thickness.MM(), SkinMM: r.Spec.Skin.MM(), KerfMM: r.Kerf.MM(), DepthMM: r.Depth.MM(),
		RadiusMM: r.FaceRadius.MM(), AngleDeg: r.Turn.Deg(),
		Count: r.Count, PitchMM: r.Pitch.MM(), LandMM: r.Land.MM(), AngleEachDeg: r.AngleEach.Deg(),
		ClosingEachDeg: r.ClosingEach.Deg(), ClosesAtDeg: r.ClosesAt.Deg(), ClosesYieldDeg: r.ClosesYielded.Deg(),
		ClosesLowDeg: r.ClosesLow.Deg(), ClosesHighDeg: r.ClosesHigh.Deg(),
		GapMM: r.Gap.MM(), ZoneMM: r.Zone.MM(), WantedCount: r.WantedCount, NeutralMM: r.NeutralDepth.MM(), LeverMM: r.Lever.MM(),
		NeutralRadiusMM: r.NeutralRadius.MM(), InsideRadiusMM: inside.MM(), OutsideRadiusMM: outside.MM(), ClosedRadiusMM: r.ClosedRadius.MM(),
		BentEachMM: r.BentEach.MM(), Strain: r.Strain, StrainYielded: r.StrainYielded, StrainDry: r.AllowDry, StrainWet: r.AllowWet,
		Verdict: r.Verdict, Borderline: r.Borderline, FacetMM: r.Facet.MM(), FacetRigidMM: r.FacetRigid.MM(),
		Moment: r.Moment, MomentYielded: r.MomentYielded, ForceN: float64(r.Force), HandShare: r.HandShare,
		SpringbackDeg: r.Springback.Deg(), GluedBackDeg: r.GluedBack.Deg(), MovementDeg: r.LaterMovement.Deg(),
		VoidEachMM2: r.VoidEach, VoidML: r.Void, GlueML: r.Glue,
		BenchCount: r.BenchCount, LiftMM: r.Lift.MM(),
		AngleSDDeg: b.AngleSD.Deg(), AngleP025Deg: b.AngleP025.Deg(), AngleP05Deg: b.AngleP05.Deg(),
		AngleP95Deg: b.AngleP95.Deg(), AngleP975Deg: b.AngleP975.Deg(),
		RadiusP05MM: b.RadiusP05.MM(), RadiusP95MM: b.RadiusP95.MM(),
		StrainP05: b.StrainP05, StrainP95: b.StrainP95, Reaches: b.Reaches,
		Findings: findings,
	}
}

// MarshalJSON writes the result as its Report.
func (r Result) MarshalJSON() ([]byte, error) { return json.Marshal(r.Report()) }
