package plan_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"casewright/internal/cutting"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/yard"
)

// BenchmarkMake is the whole pipeline with the default cutting budget. The
// metric ms-but-cutting takes the search for layouts, timed on its own in the
// same run, out again.
func BenchmarkMake(b *testing.B) {
	for _, name := range demos {
		p, s := open(b, name)
		b.Run(name, func(b *testing.B) { benchMake(b, p, s) })
	}
	p, s := open(b, "record-cabinet")
	large := sixty(p)
	n := 0
	for _, part := range make1(b, large, s, record.Record{}, 0).Model.Parts {
		n += part.Count
	}
	b.Run(fmt.Sprintf("%d-parts", n), func(b *testing.B) { benchMake(b, large, s) })
}

func benchMake(b *testing.B, p piece.Piece, s shop.Shop) {
	var all, layouts time.Duration
	for b.Loop() {
		start := time.Now()
		out := make1(b, p, s, record.Record{}, 0)
		all += time.Since(start)
		start = time.Now()
		if _, err := yard.Panels(context.Background(), out.Model, p, p.Count, s, record.Record{}, cutting.Budget{}); err != nil {
			b.Fatal(err)
		}
		if _, err := yard.Woods(context.Background(), out.Model, p.Count, s, record.Record{}, cutting.Budget{}); err != nil {
			b.Fatal(err)
		}
		layouts += time.Since(start)
	}
	ms := func(d time.Duration) float64 { return d.Seconds() * 1000 / float64(b.N) }
	b.ReportMetric(ms(all), "ms-all")
	b.ReportMetric(ms(all-layouts), "ms-but-cutting")
}

// sixty is the record cabinet with a third column of drawers, past 60 parts.
func sixty(p piece.Piece) piece.Piece {
	cols := append([]piece.Opening{}, p.Inside.Columns...)
	cols[1] = cols[0]
	p.Inside.Columns = cols
	return p
}
