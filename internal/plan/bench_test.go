package plan_test

import (
	"fmt"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
)

// BenchmarkMake is the whole pipeline with a cutting budget of one step, so
// that it shows what everything but the search for layouts takes.
func BenchmarkMake(b *testing.B) {
	for _, name := range demos {
		p, s := open(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				make1(b, p, s, record.Record{}, 1)
			}
		})
	}
	p, s := open(b, "record-cabinet")
	large := sixty(p)
	n := 0
	for _, part := range make1(b, large, s, record.Record{}, 1).Model.Parts {
		n += part.Count
	}
	b.Run(fmt.Sprintf("%d-parts", n), func(b *testing.B) {
		for b.Loop() {
			make1(b, large, s, record.Record{}, 1)
		}
	})
}

// BenchmarkMakeDefault is the same with the default cutting budget.
func BenchmarkMakeDefault(b *testing.B) {
	for _, name := range demos {
		p, s := open(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				make1(b, p, s, record.Record{}, 0)
			}
		})
	}
}

// sixty is the record cabinet with a third column of drawers, past 60 parts.
func sixty(p piece.Piece) piece.Piece {
	cols := append([]piece.Opening{}, p.Inside.Columns...)
	cols[1] = cols[0]
	p.Inside.Columns = cols
	return p
}
