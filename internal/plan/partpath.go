package plan

import "casewright/internal/build"

// PartPath is the field of the piece that a part comes from, such as frame or
// inside.columns[0].rows[1].
func (p *Plan) PartPath(part *build.Part) string { return p.partPath(part) }
