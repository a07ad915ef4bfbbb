package cutting

import "casewright/internal/unit"

// settings counts the settings of the saw and the turns of pieces that the
// layouts ask for.
func settings(job *Job, layouts []Layout) (sets, turns int) {
	type cut struct {
		stage int
		vert  bool
		size  unit.Length
	}
	seen := map[cut]bool{}
	for _, l := range layouts {
		w, h := job.Sheets[l.Sheet].Usable()
		var walk func(n Node, stage int, inside bool)
		walk = func(n Node, stage int, inside bool) {
			inside = inside || n.W == w && n.H == h // else a trim
			for i, c := range n.Children {
				size := c.H
				if n.Vertical {
					size = c.W
				}
				filled := c.Kind == Part || c.Kind == Split
				if inside && filled && i < len(n.Children)-1 {
					seen[cut{stage, n.Vertical, size}] = true
				}
				if c.Kind != Split {
					continue
				}
				if inside {
					turns += l.Copies
					walk(c, stage+1, true)
				} else {
					walk(c, stage, false)
				}
			}
		}
		walk(l.Root, 0, false)
	}
	return len(seen), turns
}
