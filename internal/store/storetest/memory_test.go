package storetest_test

import (
	"testing"
	"time"

	"casewright/internal/store"
	"casewright/internal/store/storetest"
)

func TestMemory(t *testing.T) {
	storetest.Run(t, func(_ *testing.T, now func() time.Time) store.Store { return storetest.NewMemory(now) })
}
