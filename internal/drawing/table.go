package drawing

// Column is a column of a table.
type Column struct {
	Head  string
	Share float64 // of the table's width, against the other columns' shares
	Right bool    // set to the right: figures, which are all of one width
	Bold  bool
	Light bool // smaller and lighter: the other unit beside the leading one
}

// lightSize is the size of light figures against the table's type.
const lightSize = 0.88

func (c Column) size(size float64) float64 {
	if c.Light {
		return size * lightSize
	}
	return size
}

// TableStyle sets a table's type; the zero value is that of the papers.
type TableStyle struct {
	Size float64 // 0: SizeText
	Rows bool    // leave every second row pale
}

const (
	cellPad  = 1.2
	cellRise = 0.9
)

// Table sets rows in columns from the top of r, wrapped within their cells,
// with the heads above and a rule under each row. It gives the rows that
// found no room, for the next sheet, and what is left of r below. A row that
// is taller than an empty r is set all the same, so that nothing waits for
// ever.
func (s *Sheet) Table(r Rect, columns []Column, rows [][]string, st TableStyle) (rest [][]string, below Rect) {
	size := st.Size
	if size == 0 {
		size = SizeText
	}
	total := 0.0
	for _, c := range columns {
		total += c.Share
	}
	if total <= 0 || len(columns) == 0 {
		return nil, r
	}
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i] = c.Head
	}
	y := s.row(r, r.Y, columns, heads, total, size*0.85, true, false)
	s.Add(Segment(PenMedium, Pt{r.X, y}, Pt{r.Right(), y}))
	for i, row := range rows {
		h := rowHeight(r.W, columns, row, total, size)
		if y+h > r.Bottom()+1e-9 && i > 0 {
			return rows[i:], Rect{r.X, y, r.W, 0}
		}
		y = s.row(r, y, columns, row, total, size, false, st.Rows && i%2 == 1)
		s.Add(Segment(PenGhost, Pt{r.X, y}, Pt{r.Right(), y}))
	}
	return nil, Rect{r.X, y, r.W, r.Bottom() - y}
}

// TableHeight is the height that a table takes with all its rows.
func TableHeight(width float64, columns []Column, rows [][]string, st TableStyle) float64 {
	size := st.Size
	if size == 0 {
		size = SizeText
	}
	total := 0.0
	heads := make([]string, len(columns))
	for i, c := range columns {
		total += c.Share
		heads[i] = c.Head
	}
	if total <= 0 {
		return 0
	}
	h := rowHeight(width, columns, heads, total, size*0.85)
	for _, row := range rows {
		h += rowHeight(width, columns, row, total, size)
	}
	return h
}

func cellLines(width float64, c Column, text string, total, size float64) []string {
	w := Regular
	if c.Bold {
		w = Bold
	}
	return Wrap(text, c.size(size), c.Share/total*width-2*cellPad, w)
}

func rowHeight(width float64, columns []Column, row []string, total, size float64) float64 {
	n := 1
	for i, c := range columns {
		if i < len(row) {
			n = max(n, len(cellLines(width, c, row[i], total, size)))
		}
	}
	return float64(n)*size*LineHeight + 2*cellRise
}

func (s *Sheet) row(r Rect, y float64, columns []Column, row []string, total, size float64, head, pale bool) (bottom float64) {
	h := rowHeight(r.W, columns, row, total, size)
	if pale {
		s.Add(Area(Pale, Rect{r.X, y, r.W, h}))
	}
	x := r.X
	for i, c := range columns {
		w := c.Share / total * r.W
		if i < len(row) {
			for j, l := range cellLines(r.W, c, row[i], total, size) {
				t := Text{At: Pt{x + cellPad, y + cellRise + size*(1+LineHeight*float64(j))}, S: l, Size: c.size(size)}
				if c.Light {
					t.Grey = 0.35
				}
				if c.Bold {
					t.Weight = Bold
				}
				if head {
					t.Weight, t.Grey = Regular, 0.35
				}
				if c.Right {
					t.At.X, t.Anchor = x+w-cellPad, End
				}
				s.Add(t)
			}
		}
		x += w
	}
	return y + h
}
