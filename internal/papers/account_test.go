package papers

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/price"
	"casewright/internal/record"
	"casewright/internal/render/pdf"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// accounts composes only the papers that speak of money, and the delivery note.
func accounts(t testing.TB, p plan.Plan, o Options) *set {
	t.Helper()
	s, err := newSet(p, o)
	if err != nil {
		t.Fatal(err)
	}
	s.quote()
	s.calculation()
	s.changeNote()
	s.afterwards()
	s.buying()
	s.delivery()
	return s
}

// pdfText is what an independent reader (poppler) finds on the pages that
// speak of money.
func pdfText(t testing.TB, s *set) []string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext of poppler-utils is not installed")
	}
	var sheets []drawing.Sheet
	for _, p := range s.papers() {
		sheets = append(sheets, p.Sheets...)
	}
	var b bytes.Buffer
	if err := pdf.Write(&b, sheets, pdf.Info{Title: "money"}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "papers.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := exec.Command(tool, "-layout", "-enc", "UTF-8", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(string(got), "\f")
}

func pagesOf(all []string, name string) string {
	var out []string
	for _, p := range all {
		if strings.Contains(p, name+"  ") {
			out = append(out, p)
		}
	}
	return strings.Join(out, "\n")
}

var moneyWord = regexp.MustCompile(`[+-]?\d+\.\d\d\b`)

// amounts reads the money of the first line with some that begins with the
// words.
func amounts(t testing.TB, page, words string) []unit.Money {
	t.Helper()
	for _, l := range strings.Split(page, "\n") {
		if !strings.HasPrefix(strings.TrimSpace(l), words) {
			continue
		}
		var out []unit.Money
		for _, w := range moneyWord.FindAllString(l, -1) {
			m, err := unit.ParseMoney(strings.TrimPrefix(w, "+"))
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, m)
		}
		if len(out) > 0 {
			return out
		}
	}
	t.Errorf("no line begins with %q", words)
	return nil
}

// The quote, the shop's calculation and the buying list name the same figures,
// read back from the PDF, and the figures add up.
func TestMoneyAgreesOnAllPapers(t *testing.T) {
	for _, name := range demoNames {
		p := demo(t, name)
		all := pdfText(t, accounts(t, p, Options{}))
		quote, calc, buy := pagesOf(all, "Desk: quote"), pagesOf(all, "Desk: shop calculation"), pagesOf(all, "Yard: what to buy")
		last := func(page, words string) unit.Money {
			a := amounts(t, page, words)
			if len(a) == 0 {
				t.Fatalf("%s: no amount beside %q", name, words)
			}
			return a[len(a)-1]
		}
		at := func(page, words string, i int) unit.Money {
			if a := amounts(t, page, words); len(a) > i {
				return a[i]
			}
			t.Fatalf("%s: too few amounts beside %q", name, words)
			return 0
		}
		net := last(quote, p.Piece.Name[:9])
		if net != p.Price.All.Net || at(calc, "Price, net", 0) != net {
			t.Errorf("%s: net %s on the quote, %s in the calculation, %s in the plan", name, net.Format(), at(calc, "Price, net", 0).Format(), p.Price.All.Net.Format())
		}
		whole := net
		if p.Shop.Tax != nil {
			tax := last(quote, p.Shop.Tax.Name[:3])
			if whole = last(quote, "To pay in all"); whole != net+tax || at(calc, "To pay", 0) != whole {
				t.Errorf("%s: %s and %s of tax is not %s", name, net.Format(), tax.Format(), whole.Format())
			}
		}
		paid := unit.Money(0)
		for _, x := range p.Price.Payments {
			paid += last(quote, document.Capital(x.When)[:8])
		}
		if paid != whole {
			t.Errorf("%s: payments of %s on %s", name, paid.Format(), whole.Format())
		}
		// The four tables of the calculation add up to the cost.
		sum := unit.Money(0)
		for _, g := range groupsOf(p.Price) {
			words := document.Capital(g.name) + " together"
			if len(g.all) == 1 {
				words = document.Capital(g.all[0].What)[:6]
			}
			sum += at(calc, words, 0)
		}
		if cost := at(calc, "Cost  ", 0); sum != cost || cost != p.Price.All.Cost || cost+at(calc, "Profit", 0) != net {
			t.Errorf("%s: tables add up to %s, cost %s, profit %s, price %s", name, sum.Format(), cost.Format(), at(calc, "Profit", 0).Format(), net.Format())
		}
		if p.Piece.Count > 1 && (at(calc, "Price, net", 1) != p.Price.One.Net || !strings.Contains(quote, "One alone would be "+p.Shop.Currency+" "+p.Price.One.Net.Format())) {
			t.Errorf("%s: the price of one alone, %s, is not on both papers", name, p.Price.One.Net.Format())
		}
		list := unit.Money(0)
		for _, l := range p.Buying {
			list += l.Price
		}
		if !strings.Contains(buy, p.Shop.Currency+" "+list.Format()) {
			t.Errorf("%s: the buying list does not name its sum of %s", name, list.Format())
		}
	}
}

// accounted is a demo with bills, hours, labels and two changes.
func accounted(t testing.TB) plan.Plan {
	p := demo(t, "record-cabinet")
	in := price.Input{
		Piece: p.Piece, Shop: p.Shop,
	}
	in.All.Hours = []price.Hours{
		{Operation: "sand", Name: "sanding", Setup: 60, Run: 240, Unit: "m²", Units: 8, Spent: 460, Done: true},
		{Operation: "fit", Name: "fitting", Run: 60, Unit: "front", Units: 4, Spent: 30},
	}
	in.All.Pieces, in.All.Buying = 1, p.Buying
	in.Record.Changes = []record.Change{{What: "a drawer in the middle bay", Date: "2027-03-04", Material: 8500, Hours: 5.5, Days: 4, Agreed: true}, {What: "pulls of the customer's own", Material: -2600}}
	in.Record.Bought = []record.Bought{
		{What: "oak plywood", Key: "oak-18", Count: 2, Paid: 30410, Lot: "17-B", Label: "formaldehyde class as printed: E1"},
		{What: "a new blade", Paid: 5990},
	}
	p.Record = in.Record
	p.Price = price.Make(in)
	return p
}

func TestChangeNoteAndAfterCalculation(t *testing.T) {
	p := accounted(t)
	for _, o := range variants {
		s := accounts(t, p, o)
		for i, pg := range s.pages {
			if pg.name != "change note" && pg.name != "after-calculation" && pg.place != Delivery {
				continue
			}
			in := room(pg.paper).Inset(-3.9)
			for _, it := range pg.sheet.Items {
				if !in.Holds(reach(it)) {
					t.Errorf("%s, page %d: %s leaves the frame", o, i+1, what(it))
				}
			}
			for _, pair := range clashes(*pg.sheet) {
				t.Errorf("%s, page %d: %s", o, i+1, pair)
			}
		}
	}
	all := pdfText(t, accounts(t, p, Options{}))
	note, after := pagesOf(all, "Desk: change note"), pagesOf(all, "Desk: after-calculation")
	quoted := amounts(t, note, "As quoted")
	total := quoted[2]
	if quoted[0]+quoted[1] != total || total != p.Price.All.Total {
		t.Errorf("as quoted %v", quoted)
	}
	for _, words := range []string{"A drawer in", "Pulls of the"} {
		a := amounts(t, note, words)
		if len(a) != 3 || total+a[0]+a[1] != a[2] {
			t.Fatalf("%s: %v on %s", words, a, total.Format())
		}
		total = a[2]
	}
	if !strings.Contains(note, "4 days later") || !strings.Contains(note, "new price EUR "+total.Format()) {
		t.Errorf("the change note does not say what comes of it:\n%s", note)
	}
	net, cost, left := amounts(t, after, "Price, net")[0], amounts(t, after, "Cost as it came out")[0], amounts(t, after, "Left:")
	if net-cost != left[len(left)-1] {
		t.Errorf("%s less %s is not %v", net.Format(), cost.Format(), left)
	}
	if !strings.Contains(strings.Join(strings.Fields(after), " "), "Write run: 50 under times.sand in the shop.") {
		t.Errorf("nothing is learned:\n%s", after)
	}
}

// A delivery note repeats labels word for word and claims nothing of its own.
func TestDeliveryNoteClaimsNothing(t *testing.T) {
	claims := regexp.MustCompile(`(?i)\b(compl(y|ies|iant|iance)|certified|conform\w*|meets|fulfil\w*|is safe|guarantee\w*)\b`)
	for _, name := range demoNames {
		s := accounts(t, demo(t, name), Options{})
		text := strings.Join(strings.Fields(said(s, Delivery, "delivery note")), " ")
		if m := claims.FindString(text); m != "" {
			t.Errorf("%s: the delivery note says %q", name, m)
		}
		if strings.Contains(text, "Materials, as entered") {
			t.Errorf("%s: materials are declared that nobody entered", name)
		}
		if regexp.MustCompile(`\bkeys\b`).MatchString(text) {
			t.Errorf("%s has no lock, and keys are handed over", name)
		}
		if said, has := strings.Contains(text, "its frame"), demo(t, name).Piece.Frame != nil; said != has {
			t.Errorf("%s: the note speaks of a frame: %v, it has one: %v", name, said, has)
		}
		if said, has := strings.Contains(text, "tip restraint with its instruction"), name == "chest"; said != has {
			t.Errorf("%s: a restraint comes with it: %v, it is bought: %v", name, said, has)
		}
	}
	s := accounts(t, accounted(t), Options{})
	text := said(s, Delivery, "delivery note")
	if !strings.Contains(text, "Oak plywood: formaldehyde class as printed: E1, lot 17-B") || strings.Contains(text, "new blade") {
		t.Errorf("the label is not repeated:\n%s", text)
	}
}

// What a bare shelf that hangs is handed over with: nothing is said of what it
// has not.
func TestDeliveryOfAHungShelf(t *testing.T) {
	text, err := piece.New("shelf", unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := piece.Decode("shelf", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	tools, err := shop.Decode("shop", bytes.NewReader(shop.New(unit.Metric)))
	if err != nil {
		t.Fatal(err)
	}
	shelf.Customer = &piece.Customer{Name: "Somebody"}
	p, err := plan.Make(context.Background(), shelf, tools, record.Record{Format: record.Format, Units: shelf.Units}, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	note := strings.Join(strings.Fields(said(accounts(t, p, Options{}), Delivery, "delivery note")), " ")
	for _, want := range []string{"Lift it by the case.", "The customer hangs it on the wall.", "wall fixings with their instruction", "two fixings carry all of it"} {
		if !strings.Contains(note, want) {
			t.Errorf("the note does not say %q:\n%s", want, note)
		}
	}
	if m := regexp.MustCompile(`(?i)\b(drawers?|doors?|legs|feet|keys|restraints?|straps|anchor\w*|nothing is entered)\b`).FindString(note); m != "" {
		t.Errorf("the note of a bare shelf says %q:\n%s", m, note)
	}
	if !slices.ContainsFunc(p.Buying, func(l yard.Line) bool { return strings.HasPrefix(l.What, "fixings suited to the wall") }) {
		t.Error("no fixings are bought")
	}
}

// The note of a piece that stands free says what nothing holds, and claims no
// more.
func TestNoteOfAFreePiece(t *testing.T) {
	for name, want := range map[string]string{"chest": "can pull it over forward", "clinic-cabinet": "It can be pulled or pushed over."} {
		p := demo(t, name)
		p.Piece.Use.Against, p.Piece.Use.Anchor = "free", false
		if name == "clinic-cabinet" {
			p.Piece.Base = nil // it rolls
		}
		note := strings.Join(strings.Fields(said(accounts(t, p, Options{}), Delivery, "delivery note")), " ")
		for _, want := range []string{"It is made to stand free", want, "Where children live or come, have it fixed to a wall", "Nobody climbs, sits or hangs on it."} {
			if !strings.Contains(note, want) {
				t.Errorf("%s: the note does not say %q:\n%s", name, want, note)
			}
		}
		if strings.Contains(note, "safe") {
			t.Errorf("%s: %s", name, note)
		}
	}
}

func TestNoCustomerNoQuote(t *testing.T) {
	p := demo(t, "record-cabinet")
	p.Piece.Customer = nil
	s := accounts(t, p, Options{})
	for _, pg := range s.pages {
		if pg.place == Delivery || pg.name == "quote" {
			t.Errorf("%s of a piece without a customer", pg.name)
		}
	}
	p.Price = price.Price{}
	if i := slices.IndexFunc(accounts(t, p, Options{}).pages, func(pg *page) bool { return pg.name == "shop calculation" }); i >= 0 {
		t.Error("a calculation without rates")
	}
}

// The quote as a customer reads it, with a price that does not move with the
// demo: ten hours and the way. Read it before you renew it with
// GOLDEN=write.
func TestTextOfTheQuote(t *testing.T) {
	p := demo(t, "record-cabinet")
	in := price.Input{Piece: p.Piece, Shop: p.Shop}
	in.All.Hours = []price.Hours{{Name: "all work", Setup: 200, Run: 400}}
	in.All.Pieces = 1
	in.One = in.All
	p.Price = price.Make(in)
	p.Route.Calendar.Days = 20
	s := accounts(t, p, Options{})
	var lines []string
	for _, pg := range s.pages {
		if pg.name == "quote" {
			for _, x := range texts(pg.sheet.Items) {
				if x.Turn == 0 && x.Size >= sizeNote-0.2 {
					lines = append(lines, x.S)
				}
			}
		}
	}
	got := strings.Join(lines, "\n") + "\n"
	const golden = "testdata/quote.txt"
	if os.Getenv("GOLDEN") == "write" {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the quote reads\n%s\nand did read\n%s", got, want)
	}
}
