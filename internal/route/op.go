package route

import (
	"math"

	"casewright/internal/shop"
	"casewright/internal/table"
)

// Minutes is a time of work or of waiting in whole minutes.
type Minutes int

// Hours is the time in hours.
func (m Minutes) Hours() float64 { return float64(m) / 60 }

// minutes rounds up: nobody finishes within a fraction of one.
func minutes(v float64) Minutes { return Minutes(math.Ceil(v - 1e-9)) }

// Op is a kind of work with a time of its own; its words are the keys of the
// shop's times and of the record's hours.
type Op string

// The operations, in the usual order of the work.
const (
	Design    Op = "design"
	BreakDown Op = "break-down"
	Kerf      Op = "kerf"
	BendOp    Op = "bend"
	BandEdges Op = "band"
	RoughCut  Op = "rough-cut"
	Mill      Op = "mill"
	Size      Op = "size"
	JointCut  Op = "joint"
	Drill     Op = "drill"
	Shape     Op = "shape"
	Sand      Op = "sand"
	DryFit    Op = "dry-fit"
	GlueUpOp  Op = "glue-up"
	Flush     Op = "flush"
	Fit       Op = "fit"
	FinishOp  Op = "finish"
	Assemble  Op = "assemble"
	Deliver   Op = "deliver"
)

// timeRow is a row of the table of times.
type timeRow struct {
	op         Op
	name       string
	place      Place
	unit       string
	setup, run float64 // minutes
	source     string
}

func timeOf(r *table.Row) timeRow {
	return timeRow{
		op: Op(r.Text("key")), name: r.Text("name"), place: Place(r.Text("place")), unit: r.Text("unit"),
		setup: r.Number("setup_min"), run: r.Number("run_min"), source: r.Text("source"),
	}
}

// Rate is how long an operation takes: minutes for each setup and for each
// unit of it.
type Rate struct {
	Op         Op      `json:"operation"`
	Name       string  `json:"name"`
	Unit       string  `json:"unit"`
	Setup, Run float64 `json:"-"`
	Source     string  `json:"source"`
	place      Place
}

// RateOf is the shop's own rate of an operation, or the first guess.
func RateOf(op Op, s shop.Shop) Rate {
	for _, t := range known.times {
		if t.op != op {
			continue
		}
		r := Rate{Op: op, Name: t.name, Unit: t.unit, Setup: t.setup, Run: t.run, Source: t.source, place: t.place}
		if own, ok := s.Times[string(op)]; ok {
			r.Setup, r.Run, r.Source = own.Setup, own.Run, "the shop's own times"
		}
		return r
	}
	return Rate{Op: op, Name: string(op)}
}

// Ops are all operations in the usual order.
func Ops() []Op {
	out := make([]Op, len(known.times))
	for i, t := range known.times {
		out[i] = t.op
	}
	return out
}
