// Command draw makes cutting problems at random and prints them as JSON lines,
// for run to solve. The same numbers give the same problems. They are not
// the open instances; they are of the same kinds, so that a change can be
// weighed on problems that nobody looked at.
//
//	draw -kind furniture [-seed 1] [-count 60]
//	draw -kind classes -class 3 -pieces 80 [-least 0.96 -most 0.98] [-seed 1] [-count 20]
//
// The classes are those of Berkey and Wang (1987) and of Martello and Vigo
// (1998), from memory. With -least and -most only problems are kept whose
// parts have such a share of the area of the fewest sheets that could hold
// them: nearly full sheets are the hard ones.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"

	"casewright/internal/cutting/benchfile"
)

// An order is what to draw.
type order struct {
	kind        string
	class       int
	pieces      int
	count       int
	seed        uint64
	least, most float64
}

func main() {
	var o order
	flag.StringVar(&o.kind, "kind", "furniture", "furniture or classes")
	flag.IntVar(&o.class, "class", 1, "of classes: 1 to 10")
	flag.IntVar(&o.pieces, "pieces", 60, "of classes: parts of one problem")
	flag.IntVar(&o.count, "count", 20, "problems")
	flag.Uint64Var(&o.seed, "seed", 1, "seed of the numbers drawn")
	flag.Float64Var(&o.least, "least", 0, "of classes: least share of the sheets' area")
	flag.Float64Var(&o.most, "most", 1, "of classes: largest share of the sheets' area")
	flag.Parse()
	if err := o.write(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// mostTries is how many problems are drawn for one that is kept.
const mostTries = 10_000

// write prints the problems ordered.
func (o order) write(w io.Writer) error {
	switch {
	case o.kind != "furniture" && o.kind != "classes":
		return fmt.Errorf("-kind %q: give furniture or classes", o.kind)
	case o.kind == "classes" && (o.class < 1 || o.class > 10):
		return fmt.Errorf("-class %d: give 1 to 10", o.class)
	case o.pieces < 1 || o.pieces > 1000 || o.count < 0 || o.count > 10_000:
		return fmt.Errorf("-pieces %d, -count %d: give 1 to 1000 and 0 to 10000", o.pieces, o.count)
	}
	r := rand.New(rand.NewPCG(o.seed, uint64(o.class)))
	out := json.NewEncoder(w)
	for n, tries := 0, 0; n < o.count; {
		var in *benchfile.Instance
		if o.kind == "furniture" {
			in = furniture(r)
			in.Name = fmt.Sprintf("furniture_%d_%03d", o.seed, n+1)
		} else {
			in = class(r, o.class, o.pieces)
			in.Name = fmt.Sprintf("class%02d_%d_%d_%03d", o.class, o.pieces, o.seed, n+1)
			if full := full(in); full < o.least || full > o.most {
				if tries++; tries > mostTries*o.count {
					return fmt.Errorf("-least %g -most %g: hardly any problem is so full; give a wider span", o.least, o.most)
				}
				continue
			}
		}
		n++
		if err := out.Encode(in); err != nil {
			return err
		}
	}
	return nil
}
