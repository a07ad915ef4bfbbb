package wood

import (
	"testing"
	"testing/fstest"
)

func TestTablesRead(t *testing.T) {
	if errTables != nil {
		t.Fatal(errTables)
	}
	for what, n := range map[string]int{
		"species": len(known.species), "panels": len(known.panels), "sold": len(known.sold),
		"screws": len(known.screws), "classes": len(known.classes),
	} {
		if n == 0 {
			t.Errorf("no %s", what)
		}
	}
}

// A damaged table is reported, with the cell, and never panics.
func TestTableSaysWhatIsWrong(t *testing.T) {
	damaged := fstest.MapFS{
		"data/one.csv":   {Data: []byte("a,source,prov,system\nwide,,guess,cubits\n")},
		"data/empty.csv": {Data: []byte("a,source,prov,system\n")},
	}
	for name, read := range map[string]func(row){
		"no column":    func(r row) { r.Text("b") },
		"no number":    func(r row) { r.Number("a") },
		"unknown code": func(r row) { r.source("") },
		"no system":    func(r row) { r.system() },
	} {
		if err := readTable(damaged, "one", read); err == nil {
			t.Errorf("%s passed", name)
		}
	}
	for _, name := range []string{"empty", "no-such-table"} {
		if err := readTable(damaged, name, func(row) {}); err == nil {
			t.Errorf("the table %s passed", name)
		}
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
