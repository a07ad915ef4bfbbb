// Package table reads the embedded CSV tables of figures: a head line that
// names the columns, then one row of figures a line.
package table

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"strconv"
)

// Row is one line of a table. Its getters keep the first error, so that a
// reader need not ask after each cell.
type Row struct {
	columns map[string]int
	cells   []string
	err     error
}

// Read calls each for every row of data/name.csv and reports the first cell
// that does not parse or that a row asks for by a wrong name.
func Read(files fs.FS, name string, each func(r *Row)) error {
	f, err := files.Open("data/" + name + ".csv")
	if err != nil {
		return err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(lines) < 2 {
		return fmt.Errorf("%s: no rows", name)
	}
	columns := map[string]int{}
	for i, c := range lines[0] {
		columns[c] = i
	}
	for i, cells := range lines[1:] {
		r := &Row{columns: columns, cells: cells}
		each(r)
		if r.err != nil {
			return fmt.Errorf("%s line %d: %w", name, i+2, r.err)
		}
	}
	return nil
}

// Text is the cell of a column.
func (r *Row) Text(column string) string {
	i, ok := r.columns[column]
	if !ok {
		r.Fail(fmt.Errorf("no column %q", column))
		return ""
	}
	return r.cells[i]
}

// Number is the figure in a cell; an empty cell is 0, "not published".
func (r *Row) Number(column string) float64 {
	s := r.Text(column)
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.Fail(fmt.Errorf("%s: %w", column, err))
	}
	return v
}

// Fail notes what is wrong with the row; the first word stands.
func (r *Row) Fail(err error) {
	if r.err == nil {
		r.err = err
	}
}
