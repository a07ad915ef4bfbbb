package verify

import (
	"fmt"

	"casewright/internal/cutting"
)

// kept checks that every rest told as worth keeping is as large as the job
// asks, one way or the other, and lies inside the trims.
func kept(job cutting.Job, l cutting.Layout) error {
	s, least := job.Sheets[l.Sheet], job.LeastOffcut
	for _, c := range l.Offcuts {
		long := c.W >= least.W && c.H >= least.H
		wide := c.W >= least.H && c.H >= least.W
		if c.Kind != cutting.Offcut || least.W <= 0 || least.H <= 0 || !long && !wide {
			return fmt.Errorf("a rest of %v x %v mm is told as worth keeping", c.W.MM(), c.H.MM())
		}
		if c.X < s.Trim.Left || c.Y < s.Trim.Bottom || c.X+c.W > s.W-s.Trim.Right || c.Y+c.H > s.H-s.Trim.Top {
			return fmt.Errorf("a rest of %v x %v mm reaches into the trim", c.W.MM(), c.H.MM())
		}
	}
	return nil
}

// strip checks that no part needs more stages of cuts than are asked for.
// Where a rectangle holds one part or one smaller rectangle and rests, these
// are trimmed off, which is no stage. Matched groups are cut up after those.
func strip(job cutting.Job, l cutting.Layout) error {
	if job.Stages == 0 || len(job.Matched) > 0 {
		return nil
	}
	if n, _ := nested(l.Root); n > job.Stages {
		return fmt.Errorf("asked for %d stages of cuts, but a part comes off at stage %d", job.Stages, n)
	}
	return nil
}

// nested counts the stages of cuts in a rectangle, and the parts in it.
func nested(n cutting.Node) (stages, parts int) {
	if n.Kind != cutting.Split {
		if n.Kind == cutting.Part {
			parts = 1
		}
		return 0, parts
	}
	filled := 0
	for _, c := range n.Children {
		deep, held := nested(c)
		stages, parts = max(stages, deep), parts+held
		if held > 0 {
			filled++
		}
	}
	if filled > 1 {
		stages++
	}
	return stages, parts
}
