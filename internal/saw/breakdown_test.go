package saw

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var (
	trackSaw = Machine{Key: "track", Kind: "track", Kerf: unit.MM(2.2), Reach: unit.MM(2700)}
	tableSaw = Machine{Key: "table", Kind: "table", Kerf: unit.MM(3.2), Reach: unit.MM(1300), Least: unit.MM(20)}
	guided   = Machine{Key: "hand", Kind: "hand-guide", Kerf: unit.MM(2.4), Base: unit.MM(95)}
)

func broken(t testing.TB, job cutting.Job, letters []string, m Machine) (cutting.Result, Sequence) {
	t.Helper()
	job.Kerf = m.Kerf
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 200})
	if err != nil {
		t.Fatal(err)
	}
	return r, BreakDown(Panels{Title: "test", Stock: "ply", Job: job, Layouts: r.Layouts, Letters: letters}, m)
}

// Two half shells of 1838.19 x 420 from a panel of 2440 x 1220 trimmed by 10
// all round with a kerf of 2.2. Derived by plain arithmetic: after two strips
// of 420 remain 1200 - 2 x 422.2 = 355.6, after the length 2420 - 1838.19 -
// 2.2 = 579.61.
func TestHalfShells(t *testing.T) {
	ten := unit.MM(10)
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "ply", W: unit.MM(2440), H: unit.MM(1220), Stock: -1, Trim: cutting.Trim{Left: ten, Right: ten, Bottom: ten, Top: ten}}},
		Items:  []cutting.Item{{ID: "A", W: unit.MM(1838.19), H: unit.MM(420), Qty: 2}},
	}
	job.LeastOffcut.W, job.LeastOffcut.H = unit.MM(300), unit.MM(150)
	_, s := broken(t, job, []string{"A"}, trackSaw)
	var settings []string
	for _, st := range s.Setups {
		settings = append(settings, fmt.Sprintf("%d %s %s %v %d", st.N, st.Way, st.Reference, st.Setting.MM(), st.Cuts[0].Times))
	}
	want := []string{
		"1 rail at the mark upper long edge 1210 1",
		"2 rail at the mark lower long edge 1200 1",
		"3 rail at the mark right end 2430 1",
		"4 rail at the mark left end 2420 1",
	}
	if d := cmp.Diff(want, settings[:4]); d != "" {
		t.Errorf("trims (-want +got):\n%s", d)
	}
	lefts := map[float64]bool{}
	for _, st := range s.Setups[4:] {
		for _, c := range st.Cuts {
			lefts[c.Left.MM()] = true
		}
	}
	if !lefts[355.6] || !lefts[579.61] {
		t.Errorf("remainders 355.6 and 579.61 are not both among %v", lefts)
	}
}

// Every row adds up to the whole, to the nanometre, and the rectangles of the
// layout with their kerfs and trims cover the panel.
func TestNothingIsLost(t *testing.T) {
	machines := []Machine{trackSaw, tableSaw, guided}
	rapid.Check(t, func(rt *rapid.T) {
		m := machines[rapid.IntRange(0, 2).Draw(rt, "machine")]
		trim := unit.MM(float64(rapid.IntRange(0, 12).Draw(rt, "trim")))
		job := cutting.Job{
			Sheets: []cutting.Sheet{{ID: "ply", W: unit.MM(2440), H: unit.MM(1220), Stock: -1, Trim: cutting.Trim{Left: trim, Right: trim, Bottom: trim, Top: trim}}},
			Stages: rapid.SampledFrom([]int{0, 2, 3}).Draw(rt, "stages"),
		}
		if job.Stages > 0 {
			job.Run = cutting.Run(rapid.IntRange(0, 2).Draw(rt, "run"))
		}
		job.LeastOffcut.W, job.LeastOffcut.H = unit.MM(300), unit.MM(150)
		var letters []string
		for i := range rapid.IntRange(1, 7).Draw(rt, "parts") {
			letters = append(letters, string(rune('A'+i)))
			job.Items = append(job.Items, cutting.Item{
				ID: letters[i], Turn: rapid.Bool().Draw(rt, "turn"),
				W:   unit.MM(float64(rapid.IntRange(300, 11000).Draw(rt, "w")) / 10),
				H:   unit.MM(float64(rapid.IntRange(300, 11000).Draw(rt, "h")) / 10),
				Qty: rapid.IntRange(1, 6).Draw(rt, "n"),
			})
		}
		r, s := broken(t, job, letters, m)
		for _, row := range s.Account {
			if row.Sum() != row.Whole {
				rt.Errorf("%s: %v adds up to %v", row.Of, row.Whole, row.Sum())
			}
			for _, v := range []unit.Length{row.Parts, row.Kerfs, row.Trims, row.Offcut, row.Waste} {
				if v < 0 {
					rt.Errorf("%s: a negative amount in %+v", row.Of, row)
				}
			}
		}
		replay(rt, job, r, s, letters, m)
	})
}

// replay saws as the setups say, knowing nothing of the layout: it keeps the
// pieces at hand by name and takes each cut off them. In the end the parts
// asked for must be there, each in its size and number.
func replay(t *rapid.T, job cutting.Job, r cutting.Result, s Sequence, letters []string, m Machine) {
	type piece struct {
		w, h   unit.Length
		copies int
	}
	hand := map[string]piece{}
	got := map[string]int{}
	off := func(name string, p piece) {
		for i, letter := range letters {
			if it := job.Items[i]; letter == name {
				if !(p.w == it.W && p.h == it.H || it.Turn && p.w == it.H && p.h == it.W) {
					t.Errorf("part %s comes off as %v x %v", name, p.w.MM(), p.h.MM())
				}
				got[letter] += p.copies
				return
			}
		}
		hand[name] = p
	}
	n := 1
	for _, l := range r.Layouts {
		name := fmt.Sprintf("panel %d", n)
		if l.Copies > 1 {
			name = fmt.Sprintf("panels %d-%d", n, n+l.Copies-1)
		}
		n += l.Copies
		hand[name] = piece{job.Sheets[l.Sheet].W, job.Sheets[l.Sheet].H, l.Copies}
		if root := usable(l.Root, job.Sheets[l.Sheet]); root.Kind == cutting.Part {
			got[letters[root.Item]] += l.Copies // the whole panel is the part
		}
	}
	for _, st := range s.Setups {
		for _, c := range st.Cuts {
			p, ok := hand[c.Of]
			if !ok {
				t.Fatalf("setup %d cuts %s, which is not there", st.N, c.Of)
			}
			size := func(p *piece) *unit.Length { return &p.h }
			if strings.HasSuffix(st.Reference, "end") {
				size = func(p *piece) *unit.Length { return &p.w }
			}
			for range c.Times / p.copies {
				taken := p
				*size(&taken) = st.Check
				if c.Gives == "trim" {
					p = taken
					continue
				}
				off(c.Gives, taken)
				*size(&p) = max(*size(&p)-st.Check-m.Kerf, 0)
			}
			if c.Gives != "trim" && *size(&p) != c.Left {
				t.Errorf("setup %d leaves %v of %s, it says %v", st.N, size(&p).MM(), c.Of, c.Left.MM())
			}
			hand[c.Of] = p
			if c.Rest != "" {
				off(c.Rest, p)
			}
		}
	}
	for i, letter := range letters {
		want := job.Items[i].Qty
		for _, short := range r.Short {
			if short.Item == i {
				want -= short.Count
			}
		}
		if got[letter] != want {
			t.Errorf("%d of part %s come off, %d are asked for", got[letter], letter, want)
		}
	}
}
