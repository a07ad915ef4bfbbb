package wood

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"

	"casewright/internal/unit"
)

//go:embed data/*.csv
var files embed.FS

// tables is everything read from data. It is built once and not changed.
type tables struct {
	species []Species
	named   map[string]int // every accepted name -> index in species
	panels  []Panel
	sold    []Sold
	screws  []Screw
	classes []Class
	grades  []Grade
}

var known, errTables = load()

// load reads all tables. Its error is that of a damaged build; the tests hold
// that there is none, and a program that met one would find the tables empty.
func load() (tables, error) {
	var t tables
	var errs []error
	read := func(name string, each func(r *row)) {
		errs = append(errs, readTable(name, each))
	}
	read("species", func(r *row) { t.species = append(t.species, speciesOf(r)) })
	read("panels", func(r *row) { t.panels = append(t.panels, panelOf(r)) })
	read("sold", func(r *row) { t.sold = append(t.sold, soldOf(r)) })
	read("screws", func(r *row) { t.screws = append(t.screws, screwOf(r)) })
	read("classes", func(r *row) { t.classes = append(t.classes, classOf(r)) })
	read("grades", func(r *row) { t.grades = append(t.grades, gradeOf(r)) })
	var err error
	t.named, err = nameSpecies(t.species)
	return t, errors.Join(append(errs, err)...)
}

// readTable calls each for every row of data/name.csv and reports the first
// cell that does not parse or that a row asks for by a wrong name.
func readTable(name string, each func(r *row)) error {
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
		r := &row{columns: columns, cells: cells}
		each(r)
		if r.err != nil {
			return fmt.Errorf("%s line %d: %w", name, i+2, r.err)
		}
	}
	return nil
}

// row is one line of a table. Its getters keep the first error.
type row struct {
	columns map[string]int
	cells   []string
	err     error
}

func (r *row) text(column string) string {
	i, ok := r.columns[column]
	if !ok {
		r.fail(fmt.Errorf("no column %q", column))
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
		r.fail(fmt.Errorf("%s: %w", column, err))
	}
	return v
}

func (r *row) mm(column string) unit.Length { return unit.MM(r.number(column)) }

func (r *row) inch(column string) unit.Length { return unit.In(r.number(column)) }

// system is the cell system, "mm" or "in".
func (r *row) system() unit.System {
	var s unit.System
	if err := s.UnmarshalText([]byte(r.text("system"))); err != nil {
		r.fail(err)
	}
	return s
}

// source is the pair of columns prefix_source and prefix_prov, or source and
// prov where prefix is empty.
func (r *row) source(prefix string) Source {
	if prefix != "" {
		prefix += "_"
	}
	how := Provenance(r.text(prefix + "prov"))
	if how != "" && how.Words() == "" {
		r.fail(fmt.Errorf("%sprov: unknown code %q", prefix, how))
	}
	return Source{Name: r.text(prefix + "source"), How: how}
}

func (r *row) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}
