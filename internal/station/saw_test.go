package station

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// demo is the plan of a demo piece with a record.
func demo(t testing.TB, name, rec string) plan.Plan {
	t.Helper()
	read := func(file string) *bytes.Reader {
		b, err := os.ReadFile("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.NewReader(b)
	}
	p, err := piece.Decode(name, read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, read(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var r record.Record
	if rec != "" {
		if r, err = record.Decode("record", strings.NewReader(rec)); err != nil {
			t.Fatal(err)
		}
	}
	out, err := plan.Make(context.Background(), p, s, r, plan.Options{Cutting: cutting.Budget{Iterations: 300}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Every cut of every sequence is on the page once, under a place of its own,
// and its picture names what is cut.
func TestSawShowsEveryCut(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p := demo(t, name, "")
		page := SawPage(p, nil)
		seen, n := map[string]bool{}, 0
		for i, q := range p.Setups {
			for j, st := range q.Setups {
				n++
				got := page.Runs[i].Settings[j]
				if got.N != n {
					t.Errorf("%s: setting %d is numbered %d", name, n, got.N)
				}
				if len(got.Cuts) != len(st.Cuts) {
					t.Fatalf("%s: setting %d shows %d cuts of %d", name, n, len(got.Cuts), len(st.Cuts))
				}
				for k, c := range got.Cuts {
					if seen[c.Place] {
						t.Errorf("%s: two cuts are ticked at %s", name, c.Place)
					}
					seen[c.Place] = true
					if c.Times != max(1, st.Cuts[k].Times) {
						t.Errorf("%s: setting %d: %d times, want %d", name, n, c.Times, st.Cuts[k].Times)
					}
					if !strings.HasPrefix(c.Picture, "<svg") || strings.Contains(c.Picture, "style=") || strings.Contains(c.Picture, "NaN") {
						t.Errorf("%s: setting %d: a picture that a page cannot show: %.80s", name, n, c.Picture)
					}
				}
			}
		}
		if want := document.Count(n, "setting"); !strings.HasPrefix(page.Answer, want) {
			t.Errorf("%s: answer %q does not begin with %q", name, page.Answer, want)
		}
	}
}

// A tick made for a setting never counts for another: of two plans, settings
// with one key are the same in figure, edge, depth and cuts; and what is left
// alone by a change keeps its key.
func TestSawKeysAreOfWhatIsSet(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	q := demo(t, "record-cabinet", "format: 1\nunits: mm\nkerfs: {table: 3.0}\n")
	all := func(p plan.Plan) map[string]string {
		out := map[string]string{}
		for _, r := range SawPage(p, nil).Runs {
			for _, s := range r.Settings {
				words := []string{s.Way, s.From, s.Setting.Own, s.Through.Own, s.Turn}
				if s.Depth != nil {
					words = append(words, s.Depth.Own)
				}
				for _, c := range s.Cuts {
					words = append(words, c.Of, c.Gives, c.Size, c.Kerf, c.Rest)
				}
				out[s.Key] = strings.Join(words, "|")
			}
		}
		return out
	}
	a, b := all(p), all(q)
	same := 0
	for k, w := range a {
		if v, ok := b[k]; ok {
			same++
			if v != w {
				t.Errorf("key %s is of %q and of %q", k, w, v)
			}
		}
	}
	if same == 0 {
		t.Error("a kerf of the table saw changes every key")
	}
	// With a wider kerf less remains of every panel and strip that is cut.
	wider := all(demo(t, "record-cabinet", "format: 1\nunits: mm\nkerfs: {track: 2.6}\n"))
	for _, run := range SawPage(p, nil).Runs {
		for _, s := range run.Settings {
			left := false
			for _, c := range s.Cuts {
				left = left || c.Left != nil
			}
			if _, kept := wider[s.Key]; kept && left {
				t.Errorf("setting %d keeps its key, though less remains: %s", s.N, a[s.Key])
			}
		}
	}
}

// What is ticked is counted down in the answer, and parts whose cuts are all
// ticked are offered to the record; the record then takes the changes.
func TestSawCountsDown(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	ticks := Ticks{}
	first := SawPage(p, nil)
	if first.Enter != nil {
		t.Fatalf("parts are offered before a cut: %s", first.Enter.Says)
	}
	n := 0
	for _, r := range first.Runs {
		n += len(r.Settings)
	}
	for _, c := range first.Runs[0].Settings[0].Cuts {
		ticks[c.Place] = c.Times
	}
	if got := SawPage(p, ticks).Answer; !strings.HasPrefix(got, fmt.Sprintf("%d of %d settings left", n-1, n)) {
		t.Errorf("with one setting done the answer is %q", got)
	}
	for _, s := range first.Runs[0].Settings {
		for _, c := range s.Cuts {
			ticks[c.Place] = c.Times + 5 // more than there are counts as all
		}
	}
	e := SawPage(p, ticks).Enter
	if e == nil {
		t.Fatal("the parts of the first panel are off, none is offered")
	}
	// All parts of the first panel's material, blanks apart from the others, and
	// none of another.
	says, lying, _ := strings.Cut(e.Says, "larger than they will be")
	for _, part := range p.Model.Parts {
		if got := strings.Contains(" "+says, fmt.Sprintf(" %d × %s", part.Count, part.Letter)); got != (part.Material == p.Setups[0].Stock && part.Oversize.Blank == 0) {
			t.Errorf("part %s of %s: offered is %t in %q", part.Letter, part.Material, got, e.Says)
		}
		if got := strings.Contains(lying, fmt.Sprintf(" %d × %s", part.Count, part.Letter)); got != (part.Oversize.Blank > 0) {
			t.Errorf("part %s: offered as a blank is %t in %q", part.Letter, got, e.Says)
		}
	}
	for i, c := range e.Changes {
		want := fmt.Sprintf("cut[%d]", i)
		if i == len(e.Changes)-1 {
			want = "blanks[0]"
		}
		if c.Do != "insert" || c.Path != want {
			t.Errorf("change %d is %+v", i, c)
		}
	}
	// With these in the record only the last cuts are left of that panel; once
	// they are ticked, cut parts take the place of blanks.
	text := []byte("format: 1\nunits: mm\n")
	var changes []document.Change
	for _, c := range e.Changes {
		changes = append(changes, document.Change{Path: c.Path, Do: c.Do, Value: c.Value})
	}
	text, err := document.Edit("record", record.Doc, record.Record{}, text, changes)
	if err != nil {
		t.Fatal(err)
	}
	q := demo(t, "record-cabinet", string(text))
	ticked := Ticks{}
	for i, r := range SawPage(q, nil).Runs {
		if q.Setups[i].Stock != p.Setups[0].Stock || q.Setups[i].Part != "" {
			continue
		}
		if !q.Setups[i].Sizes {
			t.Errorf("%s is to be sawn again", r.Title)
		}
		for _, s := range r.Settings {
			for _, c := range s.Cuts {
				ticked[c.Place] = c.Times
			}
		}
	}
	then := SawPage(q, ticked).Enter
	if then == nil || len(then.Changes) != 2 || then.Changes[0].Do != "insert" || !strings.HasPrefix(then.Changes[0].Path, "cut[") || then.Changes[1] != (DocChange{Path: "blanks[0]", Do: "remove"}) {
		t.Errorf("after the last cuts: %+v", then)
	}
	for _, r := range first.Runs {
		for _, s := range r.Settings {
			for _, c := range s.Cuts {
				ticks[c.Place] = c.Times
			}
		}
	}
	if got := SawPage(p, ticks).Answer; got != fmt.Sprintf("All %d settings are done", n) {
		t.Errorf("with all done the answer is %q", got)
	}
}
