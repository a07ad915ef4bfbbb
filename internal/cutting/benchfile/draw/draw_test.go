package main

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"casewright/internal/cutting/benchfile"
)

// drawn is what an order prints, read back.
func drawn(t *testing.T, o order) (text string, list []*benchfile.Instance) {
	t.Helper()
	var b bytes.Buffer
	if err := errors.Join(o.check(), o.write(&b)); err != nil {
		t.Fatal(err)
	}
	text = b.String()
	for r := benchfile.NewReader(&b); ; {
		in, err := r.Next()
		if errors.Is(err, io.EOF) {
			return text, list
		}
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, in)
	}
}

func TestDrawnReadsBack(t *testing.T) {
	for class := 1; class <= 10; class++ {
		o := order{kind: "classes", class: class, pieces: 40, count: 5, seed: 3, most: 1}
		text, list := drawn(t, o)
		if again, _ := drawn(t, o); again != text {
			t.Errorf("class %d: the same seed gave other problems", class)
		}
		if len(list) != 5 {
			t.Fatalf("class %d: %d problems", class, len(list))
		}
		for _, in := range list {
			side := in.Sheets[0].W
			for _, it := range in.Items {
				if it.W > side || it.H > side {
					t.Errorf("%s: %s is larger than the sheet", in.Name, it.ID)
				}
			}
			if len(in.Items) != 40 || len(in.Cases) != 2 {
				t.Errorf("%s: %d parts, %d cases", in.Name, len(in.Items), len(in.Cases))
			}
		}
	}
	_, list := drawn(t, order{kind: "furniture", count: 20, seed: 4})
	for _, in := range list {
		pieces := 0
		for _, it := range in.Items {
			pieces += it.Qty
		}
		if pieces < 24 || pieces > 120 {
			t.Errorf("%s: %d pieces", in.Name, pieces)
		}
	}
}

// Wide parts are at least two thirds of the sheet wide and at most half of it
// high, and so on (Martello and Vigo 1998, from memory); seven in ten are of
// the class's own kind.
func TestMixedClasses(t *testing.T) {
	for class := 7; class <= 10; class++ {
		_, list := drawn(t, order{kind: "classes", class: class, pieces: 1000, count: 1, seed: 5, most: 1})
		own := 0
		for _, it := range list[0].Items {
			fits := []bool{
				3*it.W >= 200 && 2*it.H <= 100,
				2*it.W <= 100 && 3*it.H >= 200,
				2*it.W >= 100 && 2*it.H >= 100,
				2*it.W <= 100 && 2*it.H <= 100,
			}
			if fits[class-7] {
				own++
			}
		}
		if own < 640 || own > 780 { // 700 and a few that are of two kinds at once
			t.Errorf("class %d: %d of 1000 are of its kind", class, own)
		}
	}
}

func TestDrawFull(t *testing.T) {
	_, list := drawn(t, order{kind: "classes", class: 6, pieces: 60, count: 5, seed: 6, least: 0.9, most: 0.95})
	for _, in := range list {
		if f := full(in); f < 0.9 || f > 0.95 {
			t.Errorf("%s: %.3f of the sheets' area", in.Name, f)
		}
	}
}

func TestDrawRefuses(t *testing.T) {
	for want, o := range map[string]order{
		"-kind":       {kind: "chairs", class: 1, pieces: 1, most: 1},
		"-class":      {kind: "classes", class: 11, pieces: 1, most: 1},
		"-pieces":     {kind: "classes", class: 1, most: 1},
		"-count":      {kind: "furniture", count: -1},
		"least first": {kind: "classes", class: 1, pieces: 1, least: 0.9, most: 0.1},
		"from 0 to 1": {kind: "classes", class: 1, pieces: 1, least: math.NaN(), most: 1},
		"wider":       {kind: "classes", class: 1, pieces: 1, count: 1, least: 0.999, most: 0.9991},
	} {
		err := o.check()
		if err == nil {
			err = o.write(io.Discard)
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want a word on %s", o, err, want)
		}
	}
}
