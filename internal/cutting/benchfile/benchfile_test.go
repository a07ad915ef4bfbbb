package benchfile

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"casewright/internal/cutting"
)

// Our own small problems; the optima follow from the area.
const panels = `{"name":"own_1","set":"OWN","kind":"2d","objective":"price","kerf":3,"trim":10,"sheets":[{"id":"S1","w":230,"h":120,"price":12.5,"stock":null},{"id":"S2","w":120,"h":120,"price":7.25,"stock":1}],"items":[{"id":"P1","w":100,"h":48,"qty":3},{"id":"P2","w":48,"h":98,"qty":1,"rotate":false}],"cases":[{"id":"R","rotate":true,"best":12.5,"best_is":"own","best_from":"","lower":12.5,"lower_from":"area","proven":true,"area_lower":12.5}]}`

const boards = `{"name":"own_2","kind":"1d","objective":"bars","kerf":3,"trim":0,"stocks":[{"id":"B1","len":2400,"price":1,"stock":null}],"items":[{"id":"P1","len":798,"qty":6}],"cases":[{"id":"B","best":2,"lower":2,"proven":true}]}`

func TestSolveAndWrite(t *testing.T) {
	r := NewReader(strings.NewReader(panels + "\n\n" + boards + "\n"))
	var out bytes.Buffer
	var tally Tally
	for {
		in, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range in.Cases {
			p, err := Solve(context.Background(), in, c, 1, cutting.Budget{})
			if err != nil {
				t.Fatal(err)
			}
			tally.Add(c, p, true)
			if err := Write(&out, p); err != nil {
				t.Fatal(err)
			}
		}
	}
	// 100x48 three times and 48x98 on 200x100: two by two with kerfs.
	const want = `{"instance":"own_1","case":"R","bound":12.5,"proven":true,"seconds":0,"sheets":[{"sheet":"S1","parts":[{"item":"P1",`
	lines := strings.Split(out.String(), "\n")
	if !strings.HasPrefix(lines[0], want) {
		t.Errorf("got  %s\nwant %s", lines[0], want)
	}
	const bars = `{"instance":"own_2","case":"B","bound":2,"proven":true,"seconds":0,"bars":[{"stock":"B1","parts":[{"item":"P1","qty":3}]},{"stock":"B1","parts":[{"item":"P1","qty":3}]}]}`
	if lines[1] != bars {
		t.Errorf("got  %s\nwant %s", lines[1], bars)
	}
	if tally.Cases != 2 || tally.Equal != 2 || tally.Proven != 2 || tally.Gap() != 0 {
		t.Errorf("%+v", tally)
	}
}

func TestDecodeRefuses(t *testing.T) {
	for text, want := range map[string]string{
		`{`: "not a cutting problem",
		strings.Replace(panels, `"kerf":3`, `"kerf":-3`, 1):                 "kerf -3",
		strings.Replace(panels, `"kind":"2d"`, `"kind":"3d"`, 1):            `kind "3d"`,
		strings.Replace(panels, `"w":100`, `"w":0`, 1):                      `item "P1"`,
		strings.Replace(panels, `"price":12.5`, `"price":12.55555`, 1):      "four decimals",
		strings.Replace(panels, `"stock":1}`, `"stock":-1}`, 1):             "stock of -1",
		strings.Replace(panels, `"qty":3`, `"qty":1000000000`, 1):           "asked for 1000000000 times",
		strings.Replace(panels, `"trim":10`, `"trim":10,"colour":"red"`, 1): "colour",
		panels + panels: "more than one value",
		strings.Replace(boards, `"len":798`, `"w":798`, 1): "wrong for its kind",
	} {
		_, err := Decode([]byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60s: %v, want %q", text, err, want)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(panels))
	f.Add([]byte(boards))
	f.Add([]byte(`{"name":"x","kind":"2d","objective":"strip","sheets":[{"w":1e5,"h":3,"price":-0}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		in, err := Decode(b)
		if err != nil {
			return
		}
		pieces := 0
		for _, it := range in.Items {
			pieces += it.Qty
		}
		if pieces > 200 || len(in.Cases) > 3 || len(in.Items) > 30 {
			return
		}
		for _, c := range in.Cases {
			if _, err := Solve(context.Background(), in, c, 1, cutting.Budget{Iterations: 10}); err != nil && strings.Contains(err.Error(), "layout") {
				t.Fatal(err) // a refused layout, not one that leaves parts out
			}
		}
	})
}

// The open problems, where they are at hand: go test -bench . -benchtime 1x
func BenchmarkOpenProblems(b *testing.B) {
	files, err := filepath.Glob("../../../../shared/bench/*.jsonl")
	if err != nil || len(files) == 0 {
		b.Skip("the open cutting problems are not at hand; see docs/cutting.md")
	}
	for _, name := range files {
		b.Run(strings.TrimSuffix(filepath.Base(name), ".jsonl"), func(b *testing.B) {
			for range b.N {
				var t Tally
				f, err := os.Open(name)
				if err != nil {
					b.Fatal(err)
				}
				r := NewReader(f)
				for in, err := r.Next(); err == nil; in, err = r.Next() {
					for _, c := range in.Cases {
						if in.Tier == "full" {
							continue
						}
						p, err := Solve(context.Background(), in, c, 1, cutting.Budget{Iterations: 100_000})
						if err != nil {
							b.Error(err)
						}
						t.Add(c, p, err == nil)
					}
				}
				f.Close()
				b.ReportMetric(float64(t.Proven), "proven")
				b.ReportMetric(float64(t.Worse), "worse")
				b.ReportMetric(t.Gap(), "%gap")
			}
		})
	}
}
