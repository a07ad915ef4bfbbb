package route

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
)

//go:embed data/*.csv
var files embed.FS

// tables is everything read from data, built once and not changed.
type tables struct {
	times     []timeRow
	glues     []Glue
	finishes  []Class
	pressures []pressureRow
}

var known, errTables = load()

// load reads all tables; its error is that of a damaged build, and the tests
// hold that there is none.
func load() (tables, error) {
	var t tables
	err := errors.Join(
		readTable("times", func(r *row) { t.times = append(t.times, timeOf(r)) }),
		readTable("glues", func(r *row) { t.glues = append(t.glues, glueOf(r)) }),
		readTable("finishes", func(r *row) { t.finishes = append(t.finishes, classOf(r)) }),
		readTable("clamps", func(r *row) { t.pressures = append(t.pressures, pressureOf(r)) }),
	)
	return t, err
}

func readTable(name string, each func(*row)) error {
	f, err := files.Open("data/" + name + ".csv")
	if err != nil {
		return err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	columns := map[string]int{}
	for i, c := range lines[0] {
		columns[c] = i
	}
	for i, cells := range lines[1:] {
		r := &row{columns: columns, cells: cells}
		each(r)
		if r.err != nil {
			return fmt.Errorf("%s line %d: %w", name, i+2, r.err)
		}
	}
	return nil
}

// row is one line of a table; its getters keep the first error.
type row struct {
	columns map[string]int
	cells   []string
	err     error
}

func (r *row) text(column string) string {
	i, ok := r.columns[column]
	if !ok {
		r.err = fmt.Errorf("no column %q", column)
		return ""
	}
	return r.cells[i]
}

// number is the figure in a cell; an empty cell is 0, "not published".
func (r *row) number(column string) float64 {
	s := r.text(column)
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.err = fmt.Errorf("%s: %w", column, err)
	}
	return v
}

// Tables is the error of embedded tables that do not parse; nil in any build
// that was tested.
func Tables() error { return errTables }
