package drawing

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// Margin is the white border of every sheet, in millimetres: what office
// printers leave blank, and room to hold it by.
const Margin = 11.0

// TitleBlock is what each sheet says about itself.
type TitleBlock struct {
	Piece    string
	Paper    string // such as "Saw: setups"
	Revision string
	Date     string // left blank to be written in, when empty
	Units    string // such as "mm (in)"
	Scale    string // such as "1:10"; empty where nothing is drawn to scale
	Page, Of int
}

const titleHeight = 13.0

// Frame draws the border and the title block, and gives the room within.
func Frame(s *Sheet, t TitleBlock) Rect {
	r := Rect{0, 0, s.W, s.H}.Inset(Margin)
	strip := Rect{r.X, r.Bottom() - titleHeight, r.W, titleHeight}
	s.Add(Box(PenFrame, r), Segment(PenFrame, Pt{strip.X, strip.Y}, Pt{strip.Right(), strip.Y}))

	page := ""
	if t.Page > 0 {
		page = fmt.Sprintf("%d of %d", t.Page, t.Of)
	}
	cells := []struct {
		head, s string
		share   float64
		w       Weight
	}{
		{"Piece", t.Piece, 0.31, Bold},
		{"Paper", t.Paper, 0.25, Bold},
		{"Scale", t.Scale, 0.08, Regular},
		{"Units", t.Units, 0.09, Regular},
		{"Revision", t.Revision, 0.10, Regular},
		{"Date", t.Date, 0.09, Regular},
		{"Page", page, 0.08, Regular},
	}
	x := strip.X
	for i, c := range cells {
		w := c.share * strip.W
		if i > 0 {
			s.Add(Segment(PenThin, Pt{x, strip.Y}, Pt{x, strip.Bottom()}))
		}
		s.Add(Text{At: Pt{x + 1.5, strip.Y + 3.6}, S: c.head, Size: 2.1, Grey: 0.4})
		s.fitText(Rect{x + 1.5, strip.Y + 4.4, w - 3, titleHeight - 5}, c.s, 3.6, c.w)
		x += w
	}
	return Rect{r.X, r.Y, r.W, r.H - titleHeight}.Inset(4)
}

// fitText sets one text in r, in one line or two, as large as fits up to the
// size; a single word, such as a date, in one. What still does not fit ends in an
// ellipsis.
func (s *Sheet) fitText(r Rect, text string, size float64, w Weight) {
	for ; size >= SizeSmall-0.01; size -= 0.3 {
		lines := Wrap(text, size, r.W, w)
		if len(lines) == 1 {
			s.Add(Text{At: Pt{r.X, r.Y + r.H/2 + size*CapHeight/2}, S: lines[0], Size: size, Weight: w, Plain: true})
			return
		}
		if len(lines) == 2 && 2*size*1.15 <= r.H && strings.Contains(text, " ") {
			for i, l := range lines {
				s.Add(Text{At: Pt{r.X, r.Y + size*(0.9+1.15*float64(i))}, S: l, Size: size, Weight: w, Plain: true})
			}
			return
		}
	}
	s.Add(Text{At: Pt{r.X, r.Y + r.H/2 + SizeSmall*CapHeight/2}, S: Shorten(text, SizeSmall, r.W, w), Size: SizeSmall, Weight: w, Plain: true})
}

// Shorten gives text, cut off with an ellipsis where it is longer than the
// width.
func Shorten(text string, size, width float64, w Weight) string {
	text = Clean(text)
	if (Text{S: text, Size: size, Weight: w}).Width() <= width {
		return text
	}
	c := []rune(text)
	short := func(n int) string { return string(c[:n]) + "…" }
	// The first length that is too long; one less fits.
	n := sort.Search(len(c), func(n int) bool { return Text{S: short(n), Size: size, Weight: w}.Width() > width })
	return short(max(n-1, 0))
}

// Head sets a heading over r and gives the rest below it.
func (s *Sheet) Head(r Rect, text string) (rest Rect) {
	lines := Wrap(text, SizeLarge, r.W, Bold)
	y := r.Y
	for _, l := range lines {
		s.Add(Text{At: Pt{r.X, y + SizeLarge*0.9}, S: l, Size: SizeLarge, Weight: Bold})
		y += SizeLarge * 1.25
	}
	y += 1.5
	return Rect{r.X, y, r.W, r.Bottom() - y}
}

// CheckBars draws a bar of 100 mm and one of 4 in, lying or standing, from
// the corner given: by them the maker sees whether the printer kept the size.
func (s *Sheet) CheckBars(at Pt, standing bool) {
	for i, bar := range []struct {
		length float64
		parts  int
		says   string
	}{
		{100, 10, "100 mm: measure this bar; print at 100 %"},
		{4 * 25.4, 4, "4 in"},
	} {
		put := func(along, across float64) Pt {
			if standing {
				return at.Add(across+9*float64(i), along)
			}
			return at.Add(along, across+9*float64(i))
		}
		s.Add(Stroke{PenMedium, []Path{pathOf([]Pt{put(0, 0), put(bar.length, 0)}, false)}})
		for j := 0; j <= bar.parts; j++ {
			x, h := bar.length*float64(j)/float64(bar.parts), 1.6
			if j == 0 || j == bar.parts || j*2 == bar.parts {
				h = 2.8
			}
			s.Add(Segment(PenThin, put(x, 0), put(x, h)))
		}
		t := Text{At: put(bar.length/2, 6.2), S: bar.says, Size: SizeSmall, Anchor: Middle}
		if standing {
			t.Turn = 270
			t.At = put(bar.length/2, 4.2)
		}
		s.Add(t)
	}
}

// registration is a cross in a circle at p, by which sheets are laid on each
// other, with its name.
func registration(p Pt, name string, nameLeft bool) []Item {
	t := Text{At: p.Add(2.4, -1.2), S: name, Size: SizeSmall, Plain: true}
	if nameLeft {
		t.At.X, t.Anchor = p.X-2.4, End
	}
	return []Item{
		Segment(PenThin, p.Add(-4, 0), p.Add(4, 0)),
		Segment(PenThin, p.Add(0, -4), p.Add(0, 4)),
		Circle(PenThin, p, 2),
		t.Knock(0.3), t,
	}
}

// columnName counts A, B, … Z, AA as on maps.
func columnName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

func pageName(col, row int) string { return columnName(col) + strconv.Itoa(row+1) }
