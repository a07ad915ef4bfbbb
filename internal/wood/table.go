package wood

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"

	"casewright/internal/table"
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
}

var known, errTables = load()

// load reads all tables. Its error is that of a damaged build; the tests hold
// that there is none, and a program that met one would find the tables empty.
func load() (tables, error) {
	var t tables
	var errs []error
	read := func(name string, each func(r row)) {
		errs = append(errs, readTable(files, name, each))
	}
	read("species", func(r row) { t.species = append(t.species, speciesOf(r)) })
	read("panels", func(r row) { t.panels = append(t.panels, panelOf(r)) })
	read("sold", func(r row) { t.sold = append(t.sold, soldOf(r)) })
	read("screws", func(r row) { t.screws = append(t.screws, screwOf(r)) })
	read("classes", func(r row) { t.classes = append(t.classes, classOf(r)) })
	var err error
	t.named, err = nameSpecies(t.species)
	return t, errors.Join(append(errs, err)...)
}

// row is one line of a table, with the cells that only these tables hold.
type row struct{ *table.Row }

// readTable calls each for every row of data/name.csv.
func readTable(from fs.FS, name string, each func(r row)) error {
	return table.Read(from, name, func(r *table.Row) { each(row{r}) })
}

func (r row) mm(column string) unit.Length { return unit.MM(r.Number(column)) }

func (r row) inch(column string) unit.Length { return unit.In(r.Number(column)) }

// system is the cell system, "mm" or "in".
func (r row) system() unit.System {
	var s unit.System
	if err := s.UnmarshalText([]byte(r.Text("system"))); err != nil {
		r.Fail(err)
	}
	return s
}

// source is the pair of columns prefix_source and prefix_prov, or source and
// prov where prefix is empty.
func (r row) source(prefix string) Source {
	if prefix != "" {
		prefix += "_"
	}
	how := Provenance(r.Text(prefix + "prov"))
	if how != "" && how.Words() == "" {
		r.Fail(fmt.Errorf("%sprov: unknown code %q", prefix, how))
	}
	return Source{Name: r.Text(prefix + "source"), How: how}
}
