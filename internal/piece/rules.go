package piece

import "casewright/internal/document"

// rules are what the fields must be to one another.
func (v Piece) rules() document.Problems {
	return nil
}
