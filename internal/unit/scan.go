package unit

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode"
)

// maxText is the longest text read as one quantity, in bytes. It keeps the
// arithmetic on what a stranger typed small.
const maxText = 100

// term is one number with the unit written after it ("" when none was).
type term struct {
	num  *big.Rat
	frac bool // written with a fraction bar
	unit string
}

// whole says that the number is an integer written without a fraction bar.
func (t term) whole() bool { return !t.frac && t.num.IsInt() }

// quantity is what was read: a sign and one term or, as in feet and inches,
// several. The terms themselves are never negative.
type quantity struct {
	neg   bool
	terms []term
}

// sum is the signed total of the terms in the unit of which each holds
// size(unit).
func (q quantity) sum(size func(unit string) *big.Rat) *big.Rat {
	total := new(big.Rat)
	for _, t := range q.terms {
		total.Add(total, new(big.Rat).Mul(t.num, size(t.unit)))
	}
	if q.neg {
		total.Neg(total)
	}
	return total
}

// token is the smallest thing with a meaning: a number, a word or a sign.
type token struct {
	kind  byte     // 'n' number, 'v' one-sign fraction such as ¾, 'w' word, otherwise the sign itself
	text  string   // as written, in lower case
	num   *big.Rat // of 'n' and 'v'
	space bool     // a space stands before it
}

// oneSign holds the fractions that have a character of their own.
var oneSign = map[rune][2]int64{
	'¼': {1, 4}, '½': {1, 2}, '¾': {3, 4}, '⅓': {1, 3}, '⅔': {2, 3},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅙': {1, 6}, '⅚': {5, 6},
	'⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// alike maps the typographer's characters to the typist's.
var alike = strings.NewReplacer(
	"⁄", "/", "∕", "/", // fraction slash, division slash
	"''", `"`, "′′", `"`, "’’", `"`, "″", `"`, "“", `"`, "”", `"`, "„", `"`, "ʺ", `"`,
	"′", "'", "’", "'", "‘", "'", "ʹ", "'",
	"−", "-", "–", "-", "—", "-", "‐", "-", "‑", "-",
	"º", "°", "˚", "°", "µ", "u", "μ", "u",
)

const (
	superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	subscripts   = "₀₁₂₃₄₅₆₇₈₉"
)

// scan cuts text into tokens.
func scan(text string) ([]token, error) {
	rs := []rune(strings.ToLower(alike.Replace(text)))
	var out []token
	space := false
	for i := 0; i < len(rs); {
		r, start := rs[i], i
		tok := token{space: space}
		space = false
		switch {
		case unicode.IsSpace(r):
			space = true
			i++
			continue
		case isDigit(r) || isPoint(rs, i):
			for i < len(rs) && (isDigit(rs[i]) || isPoint(rs, i)) {
				i++
			}
			n, err := decimal(string(rs[start:i]))
			if err != nil {
				return nil, err
			}
			tok.kind, tok.num = 'n', n
		case digitIn(superscripts, r) >= 0:
			tok.kind, tok.num, i = raised(superscripts, rs, i)
		case digitIn(subscripts, r) >= 0:
			tok.kind, tok.num, i = raised(subscripts, rs, i)
		case unicode.IsLetter(r):
			for i < len(rs) && unicode.IsLetter(rs[i]) {
				i++
			}
			tok.kind = 'w'
		case strings.ContainsRune(`'"°/-+.,`, r):
			tok.kind = byte(r) // '°' is U+00B0, so it too fits one byte
			i++
		case r == '≈' || r == '~':
			return nil, errors.New("≈ marks a figure that was rounded for show; leave it out if that figure is the size you mean")
		default:
			f, ok := oneSign[r]
			if !ok {
				return nil, fmt.Errorf("the sign %s has no place in it", quote(string(r)))
			}
			tok.kind, tok.num = 'v', big.NewRat(f[0], f[1])
			i++
		}
		tok.text = string(rs[start:i])
		out = append(out, tok)
	}
	return out, nil
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// isPoint says that rs[i] is a point or comma with a digit after it; any
// other point ends an abbreviation ("in.").
func isPoint(rs []rune, i int) bool {
	return (rs[i] == '.' || rs[i] == ',') && i+1 < len(rs) && isDigit(rs[i+1])
}

// digitIn is the value of r in a row of ten raised or lowered digits, or -1.
func digitIn(row string, r rune) int {
	n := 0
	for _, d := range row {
		if d == r {
			return n
		}
		n++
	}
	return -1
}

// raised reads a run of digits of the row from rs[i] on.
func raised(row string, rs []rune, i int) (byte, *big.Rat, int) {
	n := new(big.Int)
	for ; i < len(rs) && digitIn(row, rs[i]) >= 0; i++ {
		n.Mul(n, big.NewInt(10))
		n.Add(n, big.NewInt(int64(digitIn(row, rs[i]))))
	}
	return 'n', new(big.Rat).SetInt(n), i
}

// decimal is the exact value of digits with at most one point or comma.
//
// A comma is a decimal comma. "1,250" is refused because half of its readers
// take it for twelve hundred and fifty; "0,125" and "1250,125" can only be
// meant one way.
func decimal(s string) (*big.Rat, error) {
	first := strings.IndexAny(s, ".,")
	if first >= 0 && strings.ContainsAny(s[first+1:], ".,") {
		return nil, fmt.Errorf("%s has more than one point or comma; write thousands without a separator", s)
	}
	if first >= 0 && s[first] == ',' {
		before, after := s[:first], s[first+1:]
		if len(after) == 3 && 1 <= len(before) && len(before) <= 3 && before[0] != '0' {
			return nil, fmt.Errorf("%s can mean %s or %s.%s; write %s%s, or %s.%s with a point",
				s, before+after, before, after, before, after, before, after)
		}
		s = before + "." + after
	}
	n, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, fmt.Errorf("%s is not a number", s)
	}
	return n, nil
}

// read takes text apart into a quantity. A first unit for which joins is true
// may be followed by a second term, with a dash or comma between.
func read(text string, joins func(unit string) bool) (quantity, error) {
	var q quantity
	if len(text) > maxText {
		return q, errors.New("it is too long to be one size")
	}
	toks, err := scan(text)
	if err != nil {
		return q, err
	}
	if len(toks) > 0 && (toks[0].kind == '-' || toks[0].kind == '+') {
		q.neg = toks[0].kind == '-'
		toks = toks[1:]
	}
	if len(toks) == 0 {
		return q, errors.New("there is no number")
	}
	for all := toks; len(toks) > 0; {
		if n := len(q.terms); n > 0 {
			if n > 1 || !joins(q.terms[0].unit) {
				before := all[len(all)-len(toks)-1]
				return q, fmt.Errorf("%s is left over after %s", quote(toks[0].text), quote(before.text))
			}
			if toks[0].kind == '-' || toks[0].kind == ',' {
				toks = toks[1:]
			}
		}
		var t term
		if t, toks, err = number(toks); err != nil {
			return q, err
		}
		t.unit, toks = unitName(toks)
		q.terms = append(q.terms, t)
	}
	return q, nil
}

// number reads a decimal, a fraction, or a whole number and a fraction.
func number(toks []token) (term, []token, error) {
	if len(toks) == 0 {
		return term{}, nil, errors.New("a number is missing at its end")
	}
	if f, n, err := fraction(toks); n > 0 || err != nil {
		return term{num: f, frac: true}, toks[n:], err
	}
	if toks[0].kind != 'n' {
		return term{}, nil, fmt.Errorf("a number should stand where %s does", quote(toks[0].text))
	}
	first, rest := toks[0], toks[1:]
	dash := len(rest) > 0 && rest[0].kind == '-'
	tail := rest
	if dash {
		tail = rest[1:]
	}
	f, n, err := fraction(tail)
	if err != nil {
		return term{}, nil, err
	}
	if n == 0 {
		return term{num: first.num}, rest, nil
	}
	switch {
	case dash && (rest[0].space || tail[0].space):
		return term{}, nil, errors.New("a dash with a space beside it could mean minus")
	case !first.num.IsInt() || strings.ContainsAny(first.text, ".,"):
		return term{}, nil, fmt.Errorf("%s has a decimal and a fraction", quote(first.text))
	case f.Cmp(big.NewRat(1, 1)) >= 0:
		return term{}, nil, fmt.Errorf("the fraction after %s is not less than one", first.text)
	}
	return term{num: f.Add(f, first.num), frac: true}, tail[n:], nil
}

// fraction reads "3/4" or "¾" at the start of toks and says how many tokens
// it took; 0 when there is none.
func fraction(toks []token) (*big.Rat, int, error) {
	switch {
	case len(toks) > 0 && toks[0].kind == 'v':
		return new(big.Rat).Set(toks[0].num), 1, nil
	case len(toks) > 1 && toks[0].kind == 'n' && toks[1].kind == '/':
	default:
		return nil, 0, nil
	}
	if len(toks) < 3 || toks[2].kind != 'n' {
		return nil, 0, errors.New("the number below the fraction bar is missing")
	}
	above, below := toks[0], toks[2]
	if strings.ContainsAny(above.text+below.text, ".,") {
		return nil, 0, errors.New("a fraction takes whole numbers above and below the bar")
	}
	if below.num.Sign() == 0 {
		return nil, 0, errors.New("nothing can be divided by zero")
	}
	return new(big.Rat).Quo(above.num, below.num), 3, nil
}

// unitName takes a word, with the point of an abbreviation, or a unit sign
// off the start of toks.
func unitName(toks []token) (string, []token) {
	if len(toks) == 0 {
		return "", toks
	}
	switch toks[0].kind {
	case 'w':
		name, rest := toks[0].text, toks[1:]
		if len(rest) > 0 && rest[0].kind == '.' && !rest[0].space {
			rest = rest[1:]
		}
		return name, rest
	case '\'', '"', 0xb0:
		return toks[0].text, toks[1:]
	}
	return "", toks
}

// nearest is r rounded to a whole number, halves away from zero.
func nearest(r *big.Rat) *big.Int {
	num := new(big.Int).Abs(r.Num())
	num.Lsh(num, 1).Add(num, r.Denom())
	num.Quo(num, new(big.Int).Lsh(r.Denom(), 1))
	if r.Sign() < 0 {
		num.Neg(num)
	}
	return num
}

// refuse is the one sentence that says what was read, why it will not do, and
// how it could be written.
func refuse(text, what string, why error, like string) error {
	if strings.TrimSpace(text) == "" {
		return fmt.Errorf("%s is missing; write it like %s", what, like)
	}
	return fmt.Errorf("cannot read %s as %s: %w; write it like %s", quote(text), what, why, like)
}

// quote puts text between typographic quotes, since inch marks are common in
// it; long text is cut and control characters are replaced.
func quote(text string) string {
	const most = 40
	var b strings.Builder
	n := 0
	for _, r := range text {
		if n++; n > most {
			b.WriteRune('…')
			break
		}
		if !unicode.IsPrint(r) {
			r = '�'
		}
		b.WriteRune(r)
	}
	return "“" + b.String() + "”"
}
