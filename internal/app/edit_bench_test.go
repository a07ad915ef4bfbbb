package app

import (
	"strings"
	"testing"
	"time"

	"casewright/demo"
	"casewright/internal/cutting"
)

// BenchmarkQuickPlan is what an edit waits for: the plan of a text not
// planned before, with the short search for layouts.
func BenchmarkQuickPlan(b *testing.B) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		text := func(file string) []byte {
			t, err := demo.Files.ReadFile(file)
			if err != nil {
				b.Fatal(err)
			}
			return t
		}
		in := inputs{text(name + ".yaml"), text(name + ".shop.yaml"), []byte("format: 1\nunits: mm\n")}
		for _, way := range []struct {
			name   string
			budget cutting.Budget
		}{{"quick", quick}, {"full", cutting.Budget{}}} {
			b.Run(strings.Join([]string{name, way.name}, "/"), func(b *testing.B) {
				begun := time.Now()
				for b.Loop() {
					if _, err := in.make(b.Context(), way.budget); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(time.Since(begun).Milliseconds())/float64(b.N), "ms/plan")
			})
		}
	}
}
