package plan_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// What findings say is read at the bench: whole sentences, a capital at the
// start and a full stop at the end, no hole where a word was missing. Held
// over the demos and over every piece that a maker may start from.
func TestFindingsAreSentences(t *testing.T) {
	look := func(name string, p piece.Piece, s shop.Shop) {
		for _, f := range make1(t, p, s, record.Record{}, 20).Findings {
			if f.ID == "" || f.Place == "" {
				t.Errorf("%s: a finding without a name or a place: %+v", name, f)
			}
			for what, text := range map[string]string{"says": f.Says, "advice": f.Advice} {
				if text == "" && what == "advice" {
					continue
				}
				if bad := notSentences(text); bad != "" {
					t.Errorf("%s, %s %s: %s: %q", name, f.ID, what, bad, text)
				}
			}
		}
	}
	for _, name := range demos {
		p, s := open(t, name)
		look(name, p, s)
	}
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		s, err := shop.Decode("shop", bytes.NewReader(shop.New(sys)))
		if err != nil {
			t.Fatal(err)
		}
		for _, shape := range piece.Shapes {
			text, err := piece.New(shape, sys)
			if err != nil {
				t.Fatal(err)
			}
			p, err := piece.Decode(shape, bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			look(shape+" in "+sys.String(), p, s)
		}
	}
}

// notSentences says what is wrong with the form of a text, "" for nothing.
func notSentences(text string) string {
	first, _ := utf8.DecodeRuneInString(text)
	switch {
	case !unicode.IsUpper(first):
		return "no capital at the start"
	case !strings.HasSuffix(text, ".") || strings.HasSuffix(text, ".."):
		return "no full stop at the end"
	case strings.Contains(text, "  ") || strings.Contains(text, " .") || strings.Contains(text, " ,"):
		return "a word is missing"
	case strings.Contains(text, "%!"):
		return "a value is not printed"
	}
	return ""
}
