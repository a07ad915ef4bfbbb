package drawing

import (
	"testing"

	"pgregory.net/rapid"
)

// Tiles cover the whole drawing, and neighbours share the overlap.
func TestTilesCoverTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		til := Tiling{
			Paper: rapid.SampledFrom([]Paper{A4, Letter, A4.Across()}).Draw(t, "paper"),
			Size: Rect{
				rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y"),
				rapid.Float64Range(1, 2500).Draw(t, "w"), rapid.Float64Range(1, 1300).Draw(t, "h"),
			},
		}
		windows, columns, rows := til.Windows()
		if len(windows) != columns*rows {
			t.Fatalf("%d windows, %d × %d", len(windows), columns, rows)
		}
		for i, w := range windows {
			col, row := i%columns, i/columns
			if col > 0 {
				if share := windows[i-1].Right() - w.X; share < Overlap-1e-9 || share > Overlap+1e-9 {
					t.Fatalf("neighbours share %v", share)
				}
			}
			if row > 0 {
				if share := windows[i-columns].Bottom() - w.Y; share < Overlap-1e-9 || share > Overlap+1e-9 {
					t.Fatalf("neighbours share %v", share)
				}
			}
		}
		p := Pt{til.Size.X + rapid.Float64Range(0, 1).Draw(t, "px")*til.Size.W, til.Size.Y + rapid.Float64Range(0, 1).Draw(t, "py")*til.Size.H}
		for _, w := range windows {
			if w.Inset(-1e-9).Holds(Rect{p.X, p.Y, 0, 0}) {
				return
			}
		}
		t.Fatalf("nothing shows %v", p)
	})
}

// What a tile shows is not scaled, and it stays within the frame.
func TestTilesAreTrue(t *testing.T) {
	// Each tile shows 173 mm of it, 10 of them shared: 163 + 163 + 173 = 499.
	line := Segment(PenOutline, Pt{0, 0}, Pt{499, 0})
	sheets, err := Tile([]Item{line}, Tiling{Paper: A4, Size: Rect{0, -20, 499, 40}})
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) != 3 {
		t.Fatalf("%d sheets for 499 mm across A4", len(sheets))
	}
	for _, s := range sheets {
		for _, it := range s.Items {
			c, ok := it.(Clip)
			if !ok {
				continue
			}
			if !(Rect{0, 0, s.W, s.H}).Inset(Margin).Holds(c.Window) {
				t.Errorf("window %v leaves the frame", c.Window)
			}
			n := c.Items[0].(Stroke).Paths[0].Nodes
			if l := n[1].X - n[0].X; l != 499 {
				t.Errorf("499 mm became %v", l)
			}
		}
		for _, b := range boxes(s.Items) {
			if !(Rect{0, 0, s.W, s.H}).Inset(Margin).Holds(b) {
				t.Errorf("words at %v leave the frame", b)
			}
		}
	}
}

func TestTooManyTiles(t *testing.T) {
	if _, err := Tile(nil, Tiling{Paper: A4, Size: Rect{0, 0, 50_000, 5000}}); err == nil {
		t.Error("a drawing of 50 by 5 m was tiled")
	}
}
