package shop_test

import (
	"strings"
	"testing"

	"casewright/internal/shop"
)

// Rates, terms and supplies that contradict themselves get one sentence with
// the figure and the remedy. 40 % of markup is 28.57 % of margin: 40 / 140.
func TestMoneyRules(t *testing.T) {
	const base = "format: 1\nunits: mm\nsaws: {s: {kind: table, kerf: 3}}\n"
	for _, c := range []struct{ add, want string }{
		{"rates: {wage: 40, margin-percent: 40, markup-percent: 40}", "A markup of 40 % on the cost is a margin of 28.57 % of the price. Keep the one that you mean."},
		{"rates: {margin-percent: 40}", "rates.wage is missing"},
		{"rates: {wage: 40, overhead-per-year: 24000}", "rates.billable-hours is missing"},
		{"rates: {wage: 40, margin-percent: 100}", "at most 95"},
		{"rates: {wage: 40.005}", "more than two decimals"},
		{"terms: {payments: [{percent: 50, when: now}, {percent: 40, when: then}]}", "terms.payments add up to 90 %"},
		{"supplies: {a: {kind: abrasive}}", "covers-m2 is missing"},
		{"supplies: {a: {kind: finish, covers-m2: 8}}", "class is missing"},
		{"supplies: {a: {kind: glue, class: oil}}", "only a finish has one"},
		{"supplies: {a: {kind: finish, class: epoxy-slow, covers-m2: 8}}", "that of a glue"},
		{"supplies: {a: {kind: wrap, covers-m2: 2}}", "Write each instead"},
		{"supplies: {a: {kind: glue, each: 2}}", "is measured. Leave it out"},
		{"rates: {wage: 40, margin-percent: 40}\ntax: {name: VAT, percent: 19}\nterms: {payments: [{percent: 33.3, when: a}, {percent: 33.3, when: b}, {percent: 33.4, when: c}]}", ""},
	} {
		_, err := shop.Decode("x", strings.NewReader(base+c.add))
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.add, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %v, want %q", c.add, err, c.want)
		}
	}
}
