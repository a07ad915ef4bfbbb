package papers

import (
	"bytes"
	"context"
	"os"
	"strings"
	"sync"
	"testing"

	"casewright/internal/drawing"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
)

var demoNames = []string{"record-cabinet", "chest", "clinic-cabinet"}

// demos are the plans of the demo pieces, made once.
var demos = sync.OnceValues(func() (map[string]plan.Plan, error) {
	out := map[string]plan.Plan{}
	for _, name := range demoNames {
		text, err := os.ReadFile("../../demo/" + name + ".yaml")
		if err != nil {
			return nil, err
		}
		p, err := piece.Decode(name, bytes.NewReader(text))
		if err != nil {
			return nil, err
		}
		if text, err = os.ReadFile("../../demo/" + name + ".shop.yaml"); err != nil {
			return nil, err
		}
		s, err := shop.Decode(name, bytes.NewReader(text))
		if err != nil {
			return nil, err
		}
		if out[name], err = plan.Make(context.Background(), p, s, record.Record{Format: record.Format, Units: p.Units}, plan.Options{}); err != nil {
			return nil, err
		}
	}
	return out, nil
})

func demo(t testing.TB, name string) plan.Plan {
	t.Helper()
	all, err := demos()
	if err != nil {
		t.Fatal(err)
	}
	return all[name]
}

// variants are all ways in which a set can be printed.
var variants = []Options{{Paper: "a4", Units: "mm"}, {Paper: "a4", Units: "in"}, {Paper: "letter", Units: "mm"}, {Paper: "letter", Units: "in"}}

func (o Options) String() string { return o.Paper + " " + o.Units }

// printed keeps the sets of the demos: they are looked at by several tests.
var printed = map[string]*set{}

func composed(t testing.TB, name string, o Options) *set {
	t.Helper()
	key := name + " " + o.String()
	if printed[key] == nil {
		printed[key] = compose(t, demo(t, name), o)
	}
	return printed[key]
}

func compose(t testing.TB, p plan.Plan, o Options) *set {
	t.Helper()
	s, err := newSet(p, o)
	if err != nil {
		t.Fatal(err)
	}
	s.compose()
	return s
}

// texts are the lines of type on a sheet.
func texts(items []drawing.Item) []drawing.Text {
	var out []drawing.Text
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Text:
			if strings.TrimSpace(it.S) != "" {
				out = append(out, it)
			}
		case drawing.Clip:
			for _, t := range texts(it.Items) { // what the window cuts off is not seen
				if it.Window.Overlaps(box(t)) {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// box is the rectangle that a line of type takes, from the font's metrics:
// capitals 0.716 of the em, descenders 0.21 (hhea and OS/2 tables of the
// embedded font).
func box(t drawing.Text) drawing.Rect {
	w := t.Width()
	x := map[drawing.Anchor]float64{drawing.Middle: -w / 2, drawing.End: -w}[t.Anchor]
	up, down := 0.716*t.Size, 0.21*t.Size
	switch int(t.Turn+360) % 360 {
	case 90:
		return drawing.Rect{X: t.At.X - up, Y: t.At.Y - x - w, W: up + down, H: w}
	case 180:
		return drawing.Rect{X: t.At.X - x - w, Y: t.At.Y - down, W: w, H: up + down}
	case 270:
		return drawing.Rect{X: t.At.X - down, Y: t.At.Y + x, W: up + down, H: w}
	}
	return drawing.Rect{X: t.At.X + x, Y: t.At.Y - up, W: w, H: up + down}
}

// reach is the rectangle about all that an item draws.
func reach(it drawing.Item) drawing.Rect {
	switch it := it.(type) {
	case drawing.Text:
		return box(it)
	case drawing.Clip:
		return it.Window
	case drawing.Stroke:
		return drawing.View{Items: []drawing.Item{it}}.Bounds()
	case drawing.Fill:
		return drawing.View{Items: []drawing.Item{it}}.Bounds()
	}
	return drawing.Rect{}
}
