package server

import (
	"encoding/json"
	"fmt"
	"testing"

	"casewright/internal/app"
	"casewright/internal/store/storetest"
)

// What one edit costs with the desk and the line of stations read anew, as a
// page does it, without network and disk. The full search for layouts goes on
// behind and is in it.
func BenchmarkEditWithPlan(b *testing.B) {
	clock := newHand()
	w := app.NewWorkbench(storetest.NewMemory(clock.now), clock.now)
	b.Cleanup(w.Close)
	if err := w.PutDemos(b.Context()); err != nil {
		b.Fatal(err)
	}
	s := New(w, Options{})
	on := &bench{s, clock, s.Handler()}
	var all struct{ Pieces []struct{ ID, Name string } }
	if err := json.Unmarshal(on.do(ask{path: "/api/pieces"}).Body.Bytes(), &all); err != nil {
		b.Fatal(err)
	}
	for _, p := range all.Pieces {
		b.Run(p.Name, func(b *testing.B) {
			var d struct{ Version int64 }
			_ = json.Unmarshal(on.do(ask{path: "/api/docs/" + p.ID}).Body.Bytes(), &d)
			for n := 0; b.Loop(); n++ {
				body := fmt.Sprintf(`{"base":%d,"edit":"edit-%08d","changes":[{"path":"case.height","do":"set","value":"%d.%d"}]}`, d.Version, d.Version, 405+n/10%10, n%10)
				r := on.do(ask{method: "PATCH", path: "/api/docs/" + p.ID, body: body})
				if err := json.Unmarshal(r.Body.Bytes(), &d); err != nil || r.Code != 200 {
					b.Fatalf("%d, %v: %s", r.Code, err, r.Body)
				}
				for _, part := range []string{"desk", "line"} {
					if r := on.do(ask{path: "/api/pieces/" + p.ID + "/" + part}); r.Code != 200 {
						b.Fatalf("%s: %d: %s", part, r.Code, r.Body)
					}
				}
			}
		})
	}
}
