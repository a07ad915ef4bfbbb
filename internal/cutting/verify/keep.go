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

// strip checks that no part needs more stages of cuts than are asked for. A
// sheet not cut into strips of the run asked for is one strip, not ripped.
// Where a rectangle holds one part or one smaller rectangle and rests, these
// are trimmed off, which is no stage. Matched groups are cut up after those.
func strip(job cutting.Job, l cutting.Layout) error {
	if job.Stages == 0 || len(job.Matched) > 0 {
		return nil
	}
	n, _ := nested(l.Root)
	if job.Run != cutting.EitherWay && n > 0 && begins(l.Root) != job.Run {
		n++
	}
	if n > job.Stages {
		return fmt.Errorf("asked for %d stages of cuts, strips %s, but a part comes off at stage %d", job.Stages, job.Run, n)
	}
	return nil
}

// begins is which way the first strips run that are cut apart, trims aside.
func begins(n cutting.Node) cutting.Run {
	held, last := 0, cutting.Node{}
	for _, c := range n.Children {
		if _, parts := nested(c); parts > 0 {
			held, last = held+1, c
		}
	}
	switch {
	case held == 1:
		return begins(last)
	case n.Vertical: // side by side along the length
		return cutting.Crosswise
	}
	return cutting.Lengthwise
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
