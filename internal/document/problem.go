// Package document reads and writes the documents a maker keeps: strict YAML
// whose fields, limits, words and defaults stand once, in the struct tags of
// the Go types.
//
// The tags are:
//
//	yaml     name of the field, as in other YAML packages
//	need     "true": the field must be given
//	min, max limits, with units for sizes; a size or number without min must
//	         not be negative
//	one      allowed words, parted by |
//	keys     allowed keys of a map, parted by |
//	default  value of a field left out
//	yes      value meant by a plain yes or true
//	of       what a word is a key of, for screens that offer them; date for a
//	         day of the calendar
//	doc      a sentence for the reader
//
// Sizes are read in every form that unit.ParseLength knows; bare numbers are
// in the units that the document itself names, wherever in the file that is.
// Every problem is reported with its place and a remedy, not just the first.
package document

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// most is how many problems are shown; a file with more has one cause.
const most = 20

// Problem is one thing that is wrong in a document: where, and in whole
// sentences what and what to do. Line and Col count from 1 and are 0 where
// the place is not known. Path names the field, such as
// inside.columns[0].rows[1]: entries of lists count from 0.
type Problem struct {
	File string
	Path string
	Line int
	Col  int
	Says string
}

// Error is the place and the sentence: chest.yaml:12:9: case.radius is …
func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File + ":")
	}
	if p.Line > 0 {
		fmt.Fprintf(&b, "%d:%d:", p.Line, p.Col)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	return b.String() + p.Says
}

// Problems are all problems of a document, in the order of the file.
type Problems []Problem

// Error is one line for each problem, up to the first twenty.
func (ps Problems) Error() string {
	var lines []string
	for i, p := range ps {
		if i == most {
			lines = append(lines, fmt.Sprintf("and %d more.", len(ps)-most))
			break
		}
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

// Err is ps as an error, nil when there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// And adds what rules between fields have to say, leaving out what they say
// about fields that ps is about already, or that hold such a field: a value
// that could not be read is not missing too.
func (ps Problems) And(rules Problems) Problems {
	all := slices.Clone(ps)
	for _, r := range rules {
		if !slices.ContainsFunc(ps, func(p Problem) bool { return within(r.Path, p.Path) || within(p.Path, r.Path) }) {
			all = append(all, r)
		}
	}
	return all
}

// sorted puts ps in the order of the file and drops repeats.
func (ps Problems) sorted() Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return slices.Compact(ps)
}

// within says that path is of the field named by outer, or is that field.
func within(path, outer string) bool {
	rest, ok := strings.CutPrefix(path, outer)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// entry adds the number of an entry of a list, from 0, to a path.
func entry(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// join adds a field to a path.
func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
