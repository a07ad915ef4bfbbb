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
	err := o.check()
	if flag.NArg() > 0 {
		err = fmt.Errorf("%q is left over; give numbers after their names, as in -count 20", flag.Arg(0))
	}
	if err == nil {
		err = o.write(os.Stdout)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func (o order) check() error {
	switch {
	case o.kind != "furniture" && o.kind != "classes":
		return fmt.Errorf("-kind %q: give furniture or classes", o.kind)
	case o.count < 0 || o.count > 10_000:
		return fmt.Errorf("-count %d: give 0 to 10000", o.count)
	case o.kind == "furniture":
		return nil // the others are of classes
	case o.class < 1 || o.class > 10:
		return fmt.Errorf("-class %d: give 1 to 10", o.class)
	case o.pieces < 1 || o.pieces > 1000:
		return fmt.Errorf("-pieces %d: give 1 to 1000", o.pieces)
	case !(0 <= o.least && o.least <= o.most && o.most <= 1): // not a number is refused as well
		return fmt.Errorf("-least %g -most %g: give shares from 0 to 1, the least first", o.least, o.most)
	}
	return nil
}

// mostTries is how many problems are drawn at most for one that is kept.
const mostTries = 20_000

// write prints the problems ordered.
func (o order) write(w io.Writer) error {
	out := json.NewEncoder(w)
	if o.kind == "furniture" {
		r := rand.New(rand.NewPCG(o.seed, 1))
		for n := range o.count {
			in := furniture(r)
			in.Name = fmt.Sprintf("furniture_%d_%03d", o.seed, n+1)
			if err := out.Encode(in); err != nil {
				return err
			}
		}
		return nil
	}
	r := rand.New(rand.NewPCG(o.seed, uint64(o.class)))
	for n := range o.count {
		in := class(r, o.class, o.pieces)
		for tries := 1; full(in) < o.least || full(in) > o.most; tries++ {
			if tries == mostTries {
				return fmt.Errorf("-least %g -most %g: hardly any problem is so full; give a wider span", o.least, o.most)
			}
			in = class(r, o.class, o.pieces)
		}
		in.Name = fmt.Sprintf("class%02d_%d_%d_%03d", o.class, o.pieces, o.seed, n+1)
		if err := out.Encode(in); err != nil {
			return err
		}
	}
	return nil
}
