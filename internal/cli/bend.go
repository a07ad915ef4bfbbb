package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"casewright/internal/app"
	"casewright/internal/bend"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

type bendCmd struct {
	Thickness string   `required:"" placeholder:"SIZE" help:"Of the panel, as measured."`
	Skin      string   `required:"" placeholder:"SIZE" help:"Wood left under a kerf."`
	Kerf      string   `required:"" placeholder:"SIZE" help:"Width the blade really cuts."`
	Radius    string   `required:"" placeholder:"SIZE" help:"Of the uncut face."`
	Angle     string   `help:"How far the bend turns." default:"90"`
	Panel     string   `help:"What is bent: a panel kind or a material (casewright schema panels)." default:"ply-round"`
	Count     int      `help:"This many kerfs; without it the count is chosen."`
	Outside   bool     `help:"Kerfs on the outside of the curve."`
	Form      bool     `help:"Bent over a form and filled, so kerfs may stay open."`
	Along     bool     `help:"Face grain along the kerfs, not round the bend."`
	Width     string   `help:"Length of the kerfs: gives force and glue." placeholder:"SIZE"`
	Blade     []string `help:"Kerf of a further blade at hand; may be given again." placeholder:"SIZE"`
	Sheen     string   `help:"Of the finish, for facets." enum:"matt,satin,gloss" default:"satin"`
	Units     string   `help:"Units of bare numbers, and shown first." enum:"mm,in" default:"mm"`
	Seed      uint64   `help:"Seed of the tolerance simulation." default:"1"`
	Tested    int      `help:"Kerfs in a test strip that was bent; with --closed-at all figures go by it." placeholder:"N"`
	ClosedAt  string   `help:"Angle at which the test strip closed." placeholder:"ANGLE"`
	JSON      bool     `help:"One JSON object, lengths in mm, angles in degrees."`
}

func (bendCmd) Help() string {
	return "Example:\n  casewright bend --thickness 18 --skin 2 --kerf 2.2 --radius 80 --angle 90 --width 420\n" +
		"  casewright bend --thickness 18 --skin 2 --kerf 2.2 --radius 80 --tested 8 --closed-at 57.5\n\n" +
		"Sizes are written as makers write them: 18, 23/32 in, 1.5 mm. The first design listed is the one to try; bend a test strip before cutting the panel."
}

func (c bendCmd) spec() (bend.Spec, []bend.Blade, error) {
	sys := c.system()
	s := bend.Spec{Units: sys}
	var err error
	size := func(flag, text string, into *unit.Length) {
		if err != nil || text == "" {
			return
		}
		if *into, err = unit.ParseLength(text, sys); err != nil {
			err = fmt.Errorf("--%s: %w", flag, err)
		}
	}
	size("thickness", c.Thickness, &s.Thickness)
	size("skin", c.Skin, &s.Skin)
	size("kerf", c.Kerf, &s.Kerf)
	size("radius", c.Radius, &s.Radius)
	size("width", c.Width, &s.Width)
	var blades []bend.Blade
	for _, text := range c.Blade {
		b := bend.Blade{Name: "blade of " + text}
		size("blade", text, &b.Kerf)
		blades = append(blades, b)
	}
	if err != nil {
		return s, nil, err
	}
	if s.Angle, err = unit.ParseAngle(c.Angle); err != nil {
		return s, nil, fmt.Errorf("--angle: %w", err)
	}
	if s.Material, err = app.BendMaterial(c.Panel, !c.Along); err != nil {
		return s, nil, fmt.Errorf("--panel: %w", err)
	}
	s.Outside, s.Form, s.Count, s.Seed, s.Place = c.Outside, c.Form, c.Count, c.Seed, "bend"
	s.Sheen = map[string]bend.Sheen{"matt": bend.Matt, "satin": bend.Satin, "gloss": bend.Gloss}[c.Sheen]
	return s, blades, nil
}

func (c bendCmd) Run(std Streams) error {
	s, blades, err := c.spec()
	if err != nil {
		return err
	}
	designs, err := c.designs(s, blades)
	if err != nil {
		return err
	}
	tested, err := c.calibration(s, designs)
	if err != nil {
		return err
	}
	if tested != nil { // what is shown goes by the test
		if designs, err = c.designs(s.Calibrated(tested.Calibration), blades); err != nil {
			return err
		}
	}
	best := designs[0].Result
	if c.JSON {
		err = bendJSON(std.Out, best, designs, tested)
	} else {
		c.print(std.Out, designs, tested)
	}
	if err != nil {
		return err
	}
	for _, f := range best.Findings {
		if f.Level == finding.Stop {
			return errStop
		}
	}
	return nil
}

// designs are the ways to make the bend, or the one asked for.
func (c bendCmd) designs(s bend.Spec, blades []bend.Blade) ([]bend.Design, error) {
	if c.Count == 0 {
		return bend.Designs(s, bend.Options{Blades: blades})
	}
	r, err := bend.Evaluate(s)
	return []bend.Design{{Name: "As asked", Result: r}}, err
}

// testBend is a test strip set against what was planned before it.
type testBend struct {
	bend.Calibration
	planned bend.Result
}

// calibration sets a test strip, cut as the spec says, against the first
// design that is cut so; nil when none was bent.
func (c bendCmd) calibration(s bend.Spec, designs []bend.Design) (*testBend, error) {
	if c.Tested == 0 && c.ClosedAt == "" {
		return nil, nil
	}
	if c.Tested == 0 || c.ClosedAt == "" {
		return nil, errors.New("a test strip needs both: --tested, its kerfs, and --closed-at, the angle they closed at")
	}
	angle, err := unit.ParseAngle(c.ClosedAt)
	if err != nil {
		return nil, fmt.Errorf("--closed-at: %w", err)
	}
	t := testBend{planned: designs[0].Result}
	for _, d := range designs {
		if spec := d.Result.Spec; spec.Skin == s.Skin && spec.Kerf == s.Kerf && len(spec.Passes) == 0 {
			t.planned = d.Result
			break
		}
	}
	t.Calibration, err = bend.Calibrate(bend.TestBend{Count: c.Tested, Turned: angle, Thickness: s.Thickness, Skin: s.Skin, Kerf: s.Kerf}, t.planned)
	if err != nil {
		return nil, err
	}
	return &t, nil
}

// bendJSON is the report of the first design, with all designs and what a
// test strip says of the plan before it.
func bendJSON(w io.Writer, best bend.Result, designs []bend.Design, tested *testBend) error {
	type change struct {
		What string  `json:"what"`
		ByMM float64 `json:"by_mm"`
		Says string  `json:"says"`
	}
	type calibration struct {
		Planned      int      `json:"planned_count"`
		PlannedDeg   float64  `json:"planned_closes_at_deg"`
		AngleEachDeg float64  `json:"angle_each_deg"`
		WantedCount  float64  `json:"count_exact"`
		Count        int      `json:"count"`
		PitchMM      float64  `json:"pitch_mm"`
		NeutralMM    float64  `json:"neutral_depth_mm"`
		DoubtMM      float64  `json:"neutral_depth_doubt_mm"`
		Changes      []change `json:"changes"`
	}
	out := struct {
		bend.Report
		Designs []bend.Design `json:"designs"`
		Tested  *calibration  `json:"test_bend,omitempty"`
	}{Report: best.Report(), Designs: designs}
	if t := tested; t != nil {
		out.Tested = &calibration{t.planned.Count, t.PlannedClosesAt.Deg(), t.AngleEach.Deg(), t.WantedCount, t.Count, t.Pitch.MM(), t.Neutral.MM(), t.Doubt.MM(), []change{}}
		for _, ch := range t.Changes {
			out.Tested.Changes = append(out.Tested.Changes, change{ch.What, ch.By.MM(), ch.Says})
		}
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

func (c bendCmd) print(w io.Writer, designs []bend.Design, tested *testBend) {
	show := c.show
	r := designs[0].Result
	line := func(what, format string, args ...any) {
		fmt.Fprintf(w, "  %-26s %s\n", what, fmt.Sprintf(format, args...))
	}
	fmt.Fprintf(w, "%d kerfs at %s, for a bend of %.1f° to a radius of %s.\n\n", r.Count, show(r.Pitch), r.Turn.Deg(), show(r.FaceRadius))
	line("Kerf, depth, skin", "%s wide, %s deep, %s left", show(r.Kerf), show(r.Depth), show(r.Spec.Skin))
	line("Kerfed zone", "%s, lands of %s", show(r.Zone), show(r.Land))
	line("Each kerf turns", "%.3f°", r.AngleEach.Deg())
	if !r.Spec.Outside {
		line("Each kerf closes at", "%.3f°, all together at %.2f°", r.ClosingEach.Deg(), r.ClosesAt.Deg())
		line("Gap left at the mouth", "%s", show(r.Gap))
		line("In the shop closes at", "%.1f° to %.1f° (5 to 95 of 100 bends)", r.Band.AngleP05.Deg(), r.Band.AngleP95.Deg())
	}
	line("Radius of the kerfed side", "%s", show(r.KerfedRadius))
	line("Strain of the face", "%.2f %% (dry %.2f %%, softened %.2f %%): %s", r.Strain*100, r.AllowDry*100, r.AllowWet*100, r.Verdict)
	line("Facets of the face", "%s", show(r.Facet))
	line("Moment", "%.1f N·mm for each mm of kerf", r.Moment)
	if r.Force > 0 {
		line("Hand force", "%s at %s", c.force(r.Force), show(r.Spec.Lever))
		line("Glue to fill the kerfs", "%.0f ml", r.Glue)
	}
	line("Bench rule would give", "%.2f kerfs (angle × depth / kerf)", r.BenchCount)
	line("Lifted board", "%s at one radius from a trial kerf", show(r.Lift))
	if tested != nil {
		c.printTest(w, r, tested)
	}
	if len(designs) > 1 {
		fmt.Fprintf(w, "\nWays to make it, best first:\n")
		for i, d := range designs {
			o := d.Result
			fmt.Fprintf(w, "  %d. %s: %d kerfs at %s, %s, facets %s\n     %s\n", i+1, d.Name, o.Count, show(o.Pitch), o.Verdict, show(o.Facet), strings.Join(d.Reasons, " "))
		}
	}
	fmt.Fprintln(w)
	if len(r.Findings) > 0 {
		printFindings(w, r.Findings)
	}
	fmt.Fprintln(w, "Bend a test strip of the same sheet first. Kerfs are not through cuts: refit the guard, follow the saw's manual.")
}

// printTest says what a test strip changed in the plan.
func (c bendCmd) printTest(w io.Writer, r bend.Result, t *testBend) {
	was := t.planned
	fmt.Fprintf(w, "\nThe test strip closed at %.3f° a kerf, planned were %.3f°. All figures here go by the test.\n", t.AngleEach.Deg(), was.ClosingEach.Deg())
	if says := t.Warns(c.system()); says != "" {
		fmt.Fprintf(w, "  %s\n", says)
	} else {
		fmt.Fprintf(w, "  The skin bends about a line %s under the show face (±%s).\n", c.show(t.Neutral), c.show(t.Doubt))
	}
	switch {
	case r.Count > was.Count:
		fmt.Fprintf(w, "  More kerfs: cut %d instead of %d at a pitch of %s; %d would close at %.1f°.\n", r.Count, was.Count, c.show(r.Pitch), was.Count, t.PlannedClosesAt.Deg())
	case r.Count < was.Count:
		fmt.Fprintf(w, "  Fewer kerfs: cut %d instead of %d at a pitch of %s; they close at %.1f°.\n", r.Count, was.Count, c.show(r.Pitch), r.ClosesAt.Deg())
	default:
		fmt.Fprintf(w, "  %d kerfs as planned, at a pitch of %s instead of %s; they close at %.1f° instead of %.1f°.\n", r.Count, c.show(r.Pitch), c.show(was.Pitch), r.ClosesAt.Deg(), was.ClosesAt.Deg())
	}
	for _, ch := range t.Changes {
		if ch.What == "skin" {
			fmt.Fprintf(w, "  Another way: %s\n", ch.Says)
		}
	}
}

// system is the system of units asked for.
func (c bendCmd) system() unit.System {
	if c.Units == "in" {
		return unit.Imperial
	}
	return unit.Metric
}

// show is a length in the units asked for.
func (c bendCmd) show(l unit.Length) string {
	if c.Units == "in" {
		return fmt.Sprintf("%.3f in", l.In())
	}
	return fmt.Sprintf("%.2f mm", l.MM())
}

func (c bendCmd) force(f unit.Force) string {
	if c.Units == "in" {
		return fmt.Sprintf("%.0f lbf", float64(f/unit.PoundForce))
	}
	return fmt.Sprintf("%.0f N", float64(f))
}
