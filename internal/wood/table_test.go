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
