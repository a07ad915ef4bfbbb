package saw

import (
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

func centres(start, pitch unit.Length, n int) []unit.Length {
	out := make([]unit.Length, n)
	for i := range out {
		out[i] = start + (pitch*unit.Length(2*i+1))/2
	}
	return out
}

// The fence example: straight leg 300, pitch 9.370, blade 3.2, 20 kerfs. Kerf 1
// is centred at 304.685 with the fence at 303.085, kerf 20 at 482.715 with the
// fence at 481.115 and cut first; on a panel 1646.3 long the mirror image of
// kerf 1 is centred at 1341.615. Derived: fence = centre less half a kerf.
func TestFenceReadings(t *testing.T) {
	length, pitch := unit.MM(1646.3), unit.MM(9.370)
	left := centres(unit.MM(300), pitch, 20)
	right := make([]unit.Length, 20)
	for i, c := range left {
		right[19-i] = length - c
	}
	k := Kerfed{Letter: "A", Name: "shell", Count: 1, Length: length, Width: unit.MM(400), Groups: []Group{
		{Bend: "left", Centres: left, Kerf: unit.MM(3.2), Depth: unit.MM(16.6)},
		{Bend: "right", Centres: right, Kerf: unit.MM(3.2), Depth: unit.MM(16.6)},
	}}
	s := Kerfs(k, tableSaw)
	if len(s.Setups) != 20 {
		t.Fatalf("%d settings, 20 wanted: each serves both ends", len(s.Setups))
	}
	first, last := s.Setups[0], s.Setups[19]
	if first.Setting != unit.MM(481.115) || last.Setting != unit.MM(303.085) {
		t.Errorf("first %v, last %v; 481.115 and 303.085 wanted", first.Setting.MM(), last.Setting.MM())
	}
	if first.Cuts[0].Centre != unit.MM(482.715) || last.Cuts[0].Centre != unit.MM(304.685) || last.Cuts[1].Centre != unit.MM(1341.615) {
		t.Errorf("centres %v, %v and %v", first.Cuts[0].Centre.MM(), last.Cuts[0].Centre.MM(), last.Cuts[1].Centre.MM())
	}
	if row := s.Account[0]; row.Sum() != row.Whole || row.Kerfs != 40*unit.MM(3.2) {
		t.Errorf("account %+v", row)
	}
}

// A fence of 300 mm does not reach a bend 400 mm from either end.
func TestBeyondTheFence(t *testing.T) {
	k := Kerfed{Letter: "A", Count: 1, Length: unit.MM(900), Width: unit.MM(500), Groups: []Group{
		{Bend: "middle", Centres: centres(unit.MM(400), unit.MM(10), 10), Kerf: unit.MM(3.2), Depth: unit.MM(16)},
	}}
	m := tableSaw
	m.Reach = unit.MM(300)
	for _, st := range Kerfs(k, m).Setups {
		if st.Way != Beyond || st.Note == "" {
			t.Errorf("setting %v is said to be made by %q", st.Setting.MM(), st.Way)
		}
	}
	for _, st := range Kerfs(k, guided).Setups {
		if st.Way != GuideMark || st.Guide != st.Setting-guided.Base {
			t.Errorf("guide at %v for a mark at %v", st.Guide.MM(), st.Setting.MM())
		}
	}
}

// Every kerf of every group is cut exactly once in each part, at the place the
// setting gives, and settings never grow.
func TestEveryKerfOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := unit.MM(float64(rapid.IntRange(8000, 20000).Draw(t, "length")) / 10)
		w := unit.MM(float64(rapid.IntRange(16, 40).Draw(t, "kerf")) / 10)
		k := Kerfed{Letter: "A", Count: rapid.IntRange(1, 4).Draw(t, "count"), Length: length, Width: unit.MM(450)}
		for g := range rapid.IntRange(1, 3).Draw(t, "groups") {
			start := length.Scale(float64(g)/3) + unit.MM(float64(rapid.IntRange(0, 500).Draw(t, "start"))/10)
			group := Group{Bend: string(rune('a' + g)), Centres: centres(start+w, 2*w, rapid.IntRange(1, 12).Draw(t, "n")), Kerf: w, Depth: unit.MM(16)}
			if rapid.Bool().Draw(t, "two passes") {
				group.Passes = []unit.Length{w / 2}
			}
			k.Groups = append(k.Groups, group)
		}
		m := tableSaw
		m.Kerf = w
		s := Kerfs(k, m)
		got := map[unit.Length]int{}
		before := s.Setups[0].Setting
		for _, st := range s.Setups {
			if st.Setting > before {
				t.Errorf("setting %v after %v", st.Setting.MM(), before.MM())
			}
			before = st.Setting
			for i, c := range st.Cuts {
				at := st.Setting + w/2
				if (st.Reference == "far end") != (i == 1) {
					at = length - at
				}
				if d := (at - c.Centre).Abs(); d > mirrorSlack+1 {
					t.Errorf("kerf %s is set %v from its place", c.Kerf, d.MM())
				}
				got[c.Centre]++
			}
		}
		for c, n := range got {
			if n != 1 {
				t.Errorf("the cut centred at %v is made %d times", c.MM(), n)
			}
		}
		strokes := 0
		for _, g := range k.Groups {
			strokes += len(g.Centres) * (1 + len(g.Passes))
		}
		if len(got) != strokes {
			t.Errorf("%d cuts for %d passes", len(got), strokes)
		}
	})
}

func TestSolidSettingsOnce(t *testing.T) {
	s := Solid("oak", "oak", []Stick{
		{"B", 2, unit.MM(350), unit.MM(30)}, {"C", 2, unit.MM(1440), unit.MM(30)}, {"D", 2, unit.MM(350), unit.MM(24)},
	}, tableSaw)
	var got []float64
	for _, st := range s.Setups {
		got = append(got, st.Setting.MM())
	}
	want := []float64{30, 24, 1440, 350}
	if len(got) != len(want) {
		t.Fatalf("settings %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("settings %v, want %v", got, want)
		}
	}
	if s.Setups[2].Way != Beyond {
		t.Errorf("a length of 1440 with a fence of 1300 is set by %q", s.Setups[2].Way)
	}
}
