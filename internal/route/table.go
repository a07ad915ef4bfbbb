package route

import (
	"embed"
	"errors"

	"casewright/internal/table"
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
		table.Read(files, "times", func(r *table.Row) { t.times = append(t.times, timeOf(r)) }),
		table.Read(files, "glues", func(r *table.Row) { t.glues = append(t.glues, glueOf(r)) }),
		table.Read(files, "finishes", func(r *table.Row) { t.finishes = append(t.finishes, classOf(r)) }),
		table.Read(files, "clamps", func(r *table.Row) { t.pressures = append(t.pressures, pressureOf(r)) }),
	)
	return t, err
}
