package build

import (
	"testing"

	"casewright/internal/record"
)

func BenchmarkMake(b *testing.B) {
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "chest"} {
		p, s := demo(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(p, s, record.Record{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
