package route

import "testing"

func TestTablesRead(t *testing.T) {
	if errTables != nil {
		t.Fatal(errTables)
	}
}
