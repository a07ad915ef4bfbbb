package record

import "casewright/internal/document"

// rules are what the fields must be to one another.
func (v Record) rules() document.Problems {
	return nil
}
