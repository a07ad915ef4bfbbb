package sqlite_test

import (
	"context"
	"testing"
	"time"

	"casewright/internal/store"
	"casewright/internal/store/sqlite"
	"casewright/internal/store/storetest"
)

func open(t *testing.T, dir string, now func() time.Time) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(context.Background(), dir, now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func TestStore(t *testing.T) {
	storetest.Run(t, func(t *testing.T, now func() time.Time) store.Store { return open(t, t.TempDir(), now) })
}
