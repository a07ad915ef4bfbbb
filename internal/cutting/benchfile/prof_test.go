package benchfile

import (
	"context"
	"os"
	"testing"
	"time"

	"casewright/internal/cutting"
)

func TestProf(t *testing.T) {
	f, err := os.Open(os.Getenv("PF"))
	if err != nil {
		t.Skip()
	}
	r := NewReader(f)
	for {
		in, err := r.Next()
		if err != nil {
			return
		}
		if in.Name != os.Getenv("PN") {
			continue
		}
		ctx, c := context.WithTimeout(context.Background(), 3*time.Second)
		defer c()
		p, err := Solve(ctx, in, in.Cases[0], 1, cutting.Budget{Iterations: 1 << 40})
		t.Log(p.Value, p.Bound, err)
	}
}
