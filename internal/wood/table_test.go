package wood

import "testing"

func TestTablesRead(t *testing.T) {
	if errTables != nil {
		t.Fatal(errTables)
	}
	for what, n := range map[string]int{
		"species": len(known.species), "panels": len(known.panels), "sold": len(known.sold),
		"screws": len(known.screws), "classes": len(known.classes), "grades": len(known.grades),
	} {
		if n == 0 {
			t.Errorf("no %s", what)
		}
	}
}

// A damaged table is reported, with the cell, and never panics.
func TestTableSaysWhatIsWrong(t *testing.T) {
	columns := map[string]int{"a": 0, "source": 1, "prov": 2, "system": 3}
	for name, read := range map[string]func(*row){
		"no column":    func(r *row) { r.text("b") },
		"no number":    func(r *row) { r.number("a") },
		"unknown code": func(r *row) { r.source("") },
		"no system":    func(r *row) { r.system() },
	} {
		r := &row{columns: columns, cells: []string{"wide", "", "guess", "cubits"}}
		if read(r); r.err == nil {
			t.Errorf("%s passed", name)
		}
	}
	if err := readTable("no-such-table", func(*row) {}); err == nil {
		t.Error("a missing table passed")
	}
	if _, err := nameSpecies([]Species{{Key: "oak"}, {Key: "ash", Also: []string{"Oak"}}}); err == nil {
		t.Error("one name for two woods passed")
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := load(); err != nil {
			b.Fatal(err)
		}
	}
}
