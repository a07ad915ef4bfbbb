package plan

import (
	"fmt"
	"regexp"
	"strings"

	"casewright/internal/build"
)

// locate gives every finding that has none yet the path of what it is about,
// as far as its place says: a field, an opening, a part.
func (p *Plan) locate() {
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Path == "" && f.Doc == "" {
			f.Doc, f.Path = p.about(f.Place)
		}
		if f.Path == "" && f.Fix != nil {
			f.Path = f.Fix.Changes[0].Path
		}
	}
}

// fieldPath is a place that is the path of a field of the piece.
var fieldPath = regexp.MustCompile(`^(count|case|frame|inside|back|base|finish|loose|use|home|way-in|glue|start|deliver-by|customer|materials|thicknesses)([.\[][^ ]*)?$`)

// partLetter is a letter where a place names a part.
var partLetter = regexp.MustCompile(`^(?:parts? |joint )?([A-Z]{1,2}[0-9]*)\b`)

// about is the document and the field that a place speaks of; "" for the whole
// of it.
func (p *Plan) about(place string) (doc, path string) {
	switch {
	case strings.HasPrefix(place, "record."):
		return "record", strings.TrimPrefix(place, "record.")
	case place == "changes":
		return "record", "changes"
	case place == "times":
		return "shop", "times"
	case place == "calendar":
		return "", "start"
	case fieldPath.MatchString(place):
		return "", place
	case strings.HasPrefix(place, "case,"), strings.HasPrefix(place, "bend "):
		return "", "case"
	}
	if path := p.openingPath(place); path != "" {
		return "", path
	}
	if m := partLetter.FindStringSubmatch(place); m != nil {
		for i := range p.Model.Parts {
			if p.Model.Parts[i].Letter == m[1] {
				return "", p.partPath(&p.Model.Parts[i])
			}
		}
	}
	return "", ""
}

// openingPath is the path of the opening whose name a place begins with.
func (p *Plan) openingPath(place string) string {
	best, path := "", ""
	for _, o := range p.Model.Openings {
		if (place == o.Name || strings.HasPrefix(place, o.Name+" ")) && len(o.Name) > len(best) {
			best, path = o.Name, o.Path
		}
	}
	return path
}

// partPath is the field of the piece that a part comes from.
func (p *Plan) partPath(part *build.Part) string {
	switch part.Role {
	case build.RoleStile, build.RoleRail:
		return "frame"
	case build.RoleBack:
		return "back"
	case build.RoleLeg, build.RolePlinth, build.RoleBlock:
		return "base"
	case build.RoleLoose:
		for i, l := range p.Piece.Loose {
			if l.Name == part.Name {
				return fmt.Sprintf("loose[%d]", i)
			}
		}
		return "case.seams"
	case build.RoleTop:
		if p.Piece.Case.Top != nil {
			return "case.top"
		}
		return "case"
	case build.RoleShell, build.RoleSide, build.RoleBottom:
		return "case"
	}
	for _, at := range part.Places {
		if path := p.openingPath(at.Name); path != "" {
			return path
		}
	}
	return "inside"
}
