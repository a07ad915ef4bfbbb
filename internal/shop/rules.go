package shop

import "casewright/internal/document"

// rules are what the fields must be to one another.
func (v Shop) rules() document.Problems {
	return nil
}
