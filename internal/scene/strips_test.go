package scene

import (
	"encoding/json"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the file of strips anew")

// stripsFile is what the browser's chain of lands is tested against.
const stripsFile = "../../web/src/stations/desk/model/strips.json"

// The file that the test of the browser's chain reads holds what this package
// makes of the same strips.
func TestStripsFile(t *testing.T) {
	type pose struct {
		Share float64 `json:"share"`
		Lands []Pose  `json:"lands"`
	}
	type example struct {
		Name  string `json:"name"`
		Strip Strip  `json:"strip"`
		Spot  Spot   `json:"spot"`
		Poses []pose `json:"poses"`
	}
	var all []example
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "free"} {
		b := Make(demo(t, name)).Bodies[0]
		e := example{Name: name, Strip: *b.Strip, Spot: b.Spots[0]}
		for _, share := range []float64{0, 0.35, 1} {
			lands := b.Strip.Lands(share)
			for i, l := range lands {
				lands[i] = Pose{fine(l.XMM), fine(l.YMM), fine(l.Rad)}
			}
			e.Poses = append(e.Poses, pose{share, lands})
		}
		all = append(all, e)
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	text = append(text, '\n')
	if *update {
		if err := os.WriteFile(stripsFile, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if read(t, stripsFile) != string(text) {
		t.Errorf("%s is not what this package makes; run go test ./internal/scene -update", stripsFile)
	}
}
