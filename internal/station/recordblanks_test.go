package station

import (
	"fmt"
	"strings"
	"testing"
)

// Blanks that lie there are counted apart from parts that are cut, by the
// letter of the part as planned.
func TestRecordPageCountsBlanks(t *testing.T) {
	const head = "format: 1\nunits: mm\n"
	const measured = "openings:\n  - {opening: column 1 row 1, widths: [462, 462, 462], heights: [165, 165, 165]}\n"
	for _, c := range []struct {
		text            string
		need, lie       int
		there           bool
		path, takes, of string
	}{
		{head, 4, 0, false, "blanks[0]", "", "0 measures"},
		{head + "blanks: [{part: M, count: 3}]\n", 4, 3, true, "blanks[0]", "", "3 blanks to be cut to measure"},
		{head + measured + "blanks: [{part: M, count: 4}]\n", 4, 4, true, "blanks[0]", "M1 and M", "4 blanks to be cut to measure"},
		{head + measured + "blanks: [{part: M, count: 3}]\ncut: [{part: M1, count: 1}]\n", 3, 3, true, "blanks[0]", "M1 and M", "1 of 52 parts cut, 3 blanks to be cut to measure"},
	} {
		page := RecordPage(demo(t, "record-cabinet", c.text))
		if len(page.Blanks) != 1 {
			t.Errorf("%q: %+v", c.text, page.Blanks)
			continue
		}
		k := page.Blanks[0]
		if got := fmt.Sprint(k.Letter, k.Need, k.Cut, k.There, k.Path, k.For); got != fmt.Sprint("M", c.need, c.lie, c.there, c.path, c.takes) {
			t.Errorf("%q: %s", c.text, got)
		}
		if c.lie > 0 && !strings.Contains(page.Answer, c.of) {
			t.Errorf("%q: answers %q", c.text, page.Answer)
		}
	}
}
