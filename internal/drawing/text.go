package drawing

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sizes of type, in millimetres of the em. Few steps, so that a sheet reads
// calmly; Small is the least that is legible at arm's length.
const (
	SizeSmall  = 2.3
	SizeText   = 3.0
	SizeLarge  = 4.2
	SizeTitle  = 6.0
	SizeSaw    = 6.0   // the saw's papers double SizeText
	CapHeight  = 0.716 // of the em; from the font's OS/2 table
	LineHeight = 1.3   // of the em
)

// Anchor says which point of a text's first line stands at Text.At.
type Anchor int

// The anchors: along the line, on its base line.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of type. Inch fractions such as 11-29/32 or 3/4 are set as
// fractions, unless Plain.
type Text struct {
	At     Pt
	S      string
	Size   float64 // em, in millimetres
	Anchor Anchor
	Turn   float64 // degrees, anticlockwise as seen
	Weight Weight
	Grey   float64 // 0 black to 1 white
	Plain  bool
}

// Span is a run of a text that is set at one size: the text itself, or the
// upper or lower figure of a fraction. X and Rise are its place from the
// start of the text's base line, Rise upward.
type Span struct {
	X, Rise, Size float64
	S             string
}

// fraction finds the proper fractions of an inch in a text, with the whole
// inches before them. Classes of thickness such as 4/4 and 8/4 are no proper
// fractions and stay in line.
var fraction = regexp.MustCompile(`(?:(\d{1,4})[- ])?(\d{1,2})/(2|4|8|16|32|64)(?:\D|$)`)

const (
	figureSize = 0.72 // of the small figures
	figureRise = 0.28 // of the upper figure
	solidus    = "\u2044"
)

// Spans lays the text out, and gives its width.
func (t Text) Spans() ([]Span, float64) {
	f, s := faceOf(t.Weight), Clean(t.S)
	var spans []Span
	x := 0.0
	put := func(s string, size, rise float64) {
		if s == "" {
			return
		}
		spans = append(spans, Span{X: x, Rise: rise * t.Size, Size: size * t.Size, S: s})
		for _, c := range s {
			x += f.advance(c) * size * t.Size
		}
	}
	for !t.Plain && strings.IndexByte(s, '/') >= 0 {
		whole, num, den, from, to, ok := firstFraction(s)
		if !ok {
			break
		}
		put(s[:from]+whole, 1, 0)
		if whole != "" {
			put(" ", 0.4, 0)
		}
		put(num, figureSize, figureRise)
		put(solidus, 1, 0)
		put(den, figureSize, 0)
		s = s[to:]
	}
	put(s, 1, 0)
	return spans, x
}

// firstFraction finds the first proper inch fraction in s.
func firstFraction(s string) (whole, num, den string, from, to int, ok bool) {
	for at := 0; at < len(s); {
		m := fraction.FindStringSubmatchIndex(s[at:])
		if m == nil {
			return
		}
		for i := range m {
			if m[i] >= 0 {
				m[i] += at
			}
		}
		if m[2] >= 0 {
			whole = s[m[2]:m[3]]
		} else {
			whole = ""
		}
		num, den, from, to = s[m[4]:m[5]], s[m[6]:m[7]], m[0], m[7]
		joined := from > 0 && joins(s[:from]) || to < len(s) && (s[to] == '/' || s[to] == '.') && to+1 < len(s) && isDigit(s[to+1])
		less := len(num) < len(den) || len(num) == len(den) && num < den
		if less && !joined && num[0] != '0' {
			return whole, num, den, from, to, true
		}
		at = m[5]
	}
	return "", "", "", 0, 0, false
}

// joins reports whether what ends s would make a following number part of a
// longer one, such as a date or a decimal.
func joins(s string) bool {
	c := s[len(s)-1]
	return isDigit(c) || c == '/' || c == '.' && len(s) > 1 && isDigit(s[len(s)-2])
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// Width is the length of the text on paper.
func (t Text) Width() float64 {
	_, w := t.Spans()
	return w
}

// Clean makes s fit for a line of type: without control characters and
// broken bytes, every white space a blank.
func Clean(s string) string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "?")
	}
	return strings.Map(func(c rune) rune {
		switch {
		case unicode.IsSpace(c):
			return ' '
		case unicode.IsControl(c) || c == 0xFFFE || c == 0xFFFF || c >= 0xFDD0 && c <= 0xFDEF:
			return -1
		}
		return c
	}, s)
}

// Wrap breaks s into lines of at most the width, at blanks; a word that is
// too long is broken within. Line feeds in s are kept.
func Wrap(s string, size, width float64, w Weight) []string {
	var out []string
	for _, para := range strings.Split(s, "\n") {
		out = append(out, wrapLine(Clean(para), size, width, w)...)
	}
	return out
}

func wrapLine(s string, size, width float64, w Weight) []string {
	wide := func(s string) bool { return Text{S: s, Size: size, Weight: w}.Width() > width }
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if !wide(next) {
			line = next
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for wide(word) {
			head, tail := splitWord(word, wide)
			if tail == "" {
				break
			}
			out = append(out, head)
			word = tail
		}
		line = word
	}
	return append(out, line)
}

// splitWord cuts off as much of a word as fits, at least one character.
func splitWord(word string, wide func(string) bool) (head, tail string) {
	end := 0
	for i, c := range word {
		next := i + utf8.RuneLen(c)
		if end > 0 && wide(word[:next]) {
			break
		}
		end = next
	}
	return word[:end], word[end:]
}

// TextBlock sets s in lines within r from its top, and gives what is left of
// r below them. What does not fit in height runs on; callers that care
// compare the rest's height with zero.
func (s *Sheet) TextBlock(r Rect, text string, size float64, w Weight) (rest Rect) {
	y := r.Y
	for _, l := range Wrap(text, size, r.W, w) {
		s.Add(Text{At: Pt{r.X, y + size*0.95}, S: l, Size: size, Weight: w})
		y += size * LineHeight
	}
	return Rect{r.X, y, r.W, r.Bottom() - y}
}

// bounds is the rectangle that the text takes on a sheet, if it is turned by
// no other than whole quarter turns.
func (t Text) bounds() Rect {
	w := t.Width()
	x := map[Anchor]float64{Start: 0, Middle: -w / 2, End: -w}[t.Anchor]
	up, down := CapHeight*t.Size, 0.21*t.Size
	switch int(t.Turn+360) % 360 {
	case 90:
		return Rect{t.At.X - up, t.At.Y - x - w, up + down, w}
	case 180:
		return Rect{t.At.X - x - w, t.At.Y - down, w, up + down}
	case 270:
		return Rect{t.At.X - down, t.At.Y + x, up + down, w}
	}
	return Rect{t.At.X + x, t.At.Y - up, w, up + down}
}

// Knock is the white area that keeps lines off the text; it goes on the sheet
// before it.
func (t Text) Knock(pad float64) Fill { return Area(White, t.bounds().Inset(-pad)) }
