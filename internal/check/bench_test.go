package check

import (
	"testing"

	"casewright/internal/record"
)

func BenchmarkAll(b *testing.B) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, s := open(b, name)
		in, err := inputOf(p, s, record.Record{})
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				All(in)
			}
		})
	}
}
