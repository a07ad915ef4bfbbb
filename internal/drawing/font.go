package drawing

import (
	"encoding/binary"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// FontName is the family that every drawing is set in. It is embedded, under
// the SIL Open Font License 1.1; its figures are all of one width.
const FontName = "Liberation Sans"

// Weight is the weight of type.
type Weight int

// The weights.
const (
	Regular Weight = iota
	Bold
)

// FontFile is the TrueType file of a weight. It must not be changed.
func FontFile(w Weight) []byte {
	if w == Bold {
		return liberationsansbold.TTF
	}
	return liberationsansregular.TTF
}

// face holds the widths of a font's characters.
type face struct {
	perEm    float64
	advances []uint16        // by glyph, in units of the em
	glyphs   map[rune]uint16 // characters the font has
}

var faces = [2]func() *face{
	Regular: sync.OnceValue(func() *face { return readFace(FontFile(Regular)) }),
	Bold:    sync.OnceValue(func() *face { return readFace(FontFile(Bold)) }),
}

func faceOf(w Weight) *face {
	if w == Bold {
		return faces[Bold]()
	}
	return faces[Regular]()
}

// Has reports whether the font can draw c.
func Has(c rune, w Weight) bool {
	_, ok := faceOf(w).glyphs[c]
	return ok
}

// advance is the width of c at size 1; of an unknown character, that of "?".
func (f *face) advance(c rune) float64 {
	g, ok := f.glyphs[c]
	if !ok {
		g = f.glyphs['?']
	}
	if int(g) >= len(f.advances) {
		return 0.5
	}
	return float64(f.advances[g]) / f.perEm
}

// readFace reads the tables head, hhea, hmtx and cmap (format 4) of the
// OpenType specification. The file is one of the two embedded ones, so what
// is missing is a fault of the build, which the tests would show: it then
// reads as a font without characters.
func readFace(b []byte) *face {
	f := &face{perEm: 1000, glyphs: map[rune]uint16{}}
	u16 := func(at int) int {
		if at < 0 || at+2 > len(b) {
			return 0
		}
		return int(binary.BigEndian.Uint16(b[at:]))
	}
	u32 := func(at int) int { return u16(at)<<16 | u16(at+2) }
	table := map[string]int{}
	for i := range u16(4) {
		at := 12 + 16*i
		if at+16 <= len(b) {
			table[string(b[at:at+4])] = u32(at + 8)
		}
	}
	f.perEm = float64(max(1, u16(table["head"]+18)))
	for i := range u16(table["hhea"] + 34) {
		f.advances = append(f.advances, uint16(u16(table["hmtx"]+4*i)))
	}
	cmap := table["cmap"]
	for i := range u16(cmap + 2) {
		record := cmap + 4 + 8*i
		at := cmap + u32(record+4)
		if u16(record) == 3 && u16(record+2) == 1 && u16(at) == 4 {
			readCmap4(u16, at, f.glyphs)
		}
	}
	// Glyphs past the last advance share it.
	for _, g := range f.glyphs {
		for n := len(f.advances); n > 0 && int(g) >= len(f.advances); {
			f.advances = append(f.advances, f.advances[n-1])
		}
	}
	return f
}

func readCmap4(u16 func(int) int, at int, glyphs map[rune]uint16) {
	n := u16(at+6) / 2
	ends, starts := at+14, at+16+2*n
	deltas, offsets := starts+2*n, starts+4*n
	for s := range n {
		start, end := u16(starts+2*s), u16(ends+2*s)
		for c := start; c <= end && c < 0xFFFF; c++ {
			g := c
			if off := u16(offsets + 2*s); off != 0 {
				if g = u16(offsets + 2*s + off + 2*(c-start)); g == 0 {
					continue
				}
			}
			if g = (g + u16(deltas+2*s)) & 0xFFFF; g != 0 {
				glyphs[rune(c)] = uint16(g)
			}
		}
	}
}
