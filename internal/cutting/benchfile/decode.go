// Package benchfile reads cutting problems from JSON lines and writes the
// plans that answer them, one JSON object a line. It reads and writes only
// what it is handed: no files, no clock.
//
// A problem has whole lengths in a unit of its own; here one such unit counts
// as one millimetre. Prices have up to four decimals.
package benchfile

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// Limits of a file, so that a wrong one is refused at once.
const (
	MaxLine  = 4 << 20
	MaxKinds = 5_000
	priceDec = 10_000 // prices are held in ten-thousandths
	step     = unit.Millimetre
)

// Instance is one problem and the cases it is to be solved in.
type Instance struct {
	Name      string  `json:"name"`
	Set       string  `json:"set"`
	Tier      string  `json:"tier"`
	Cell      string  `json:"cell"`
	Kind      string  `json:"kind"` // 2d or 1d
	Source    string  `json:"source"`
	Objective string  `json:"objective"` // sheets, bars, price or strip
	Kerf      int64   `json:"kerf"`
	Trim      int64   `json:"trim"`
	Sheets    []Stock `json:"sheets"`
	Stocks    []Stock `json:"stocks"`
	Items     []Item  `json:"items"`
	Cases     []Case  `json:"cases"`
}

// Stock is one sheet or bar size.
type Stock struct {
	ID    string      `json:"id"`
	W     int64       `json:"w"`
	H     int64       `json:"h"`
	Len   int64       `json:"len"`
	Price json.Number `json:"price"`
	Stock *int        `json:"stock"` // nil: as many as needed
}

// Item is one part.
type Item struct {
	ID     string `json:"id"`
	W      int64  `json:"w"`
	H      int64  `json:"h"`
	Len    int64  `json:"len"`
	Qty    int    `json:"qty"`
	Rotate *bool  `json:"rotate"` // false: keeps its grain even where the case lets parts turn
}

// Case is one way to solve an instance, with the values known for it.
type Case struct {
	ID          string   `json:"id"`
	Rotate      bool     `json:"rotate"`
	Best        *float64 `json:"best"`
	BestIs      string   `json:"best_is"`
	BestFrom    string   `json:"best_from"`
	Lower       float64  `json:"lower"`
	LowerFrom   string   `json:"lower_from"`
	Proven      bool     `json:"proven"`
	AreaLower   float64  `json:"area_lower"`
	FreeBest    *float64 `json:"free_best"`
	FreeLower   *float64 `json:"free_lower"`
	StagedLower *float64 `json:"staged_lower"`
}

// Reader reads instances one after the other.
type Reader struct {
	in   *bufio.Scanner
	line int
}

// NewReader reads from r.
func NewReader(r io.Reader) *Reader {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, 64<<10), MaxLine)
	return &Reader{in: s}
}

// Next returns the next instance, or io.EOF. An error names the line and what
// is wrong with it.
func (r *Reader) Next() (*Instance, error) {
	for r.in.Scan() {
		r.line++
		text := bytes.TrimSpace(r.in.Bytes())
		if len(text) == 0 {
			continue
		}
		in, err := Decode(text)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", r.line, err)
		}
		return in, nil
	}
	if err := r.in.Err(); err != nil {
		if errors.Is(err, bufio.ErrTooLong) {
			return nil, fmt.Errorf("line %d is longer than %d bytes; a cutting problem has one instance a line", r.line+1, MaxLine)
		}
		return nil, err
	}
	return nil, io.EOF
}

// Decode reads one instance and checks it.
func Decode(text []byte) (*Instance, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	in := new(Instance)
	if err := d.Decode(in); err != nil {
		return nil, fmt.Errorf("not a cutting problem: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("more than one value on the line; give one instance a line")
	}
	return in, in.check()
}

func (in *Instance) check() error {
	stocks, what := in.Sheets, "sheets"
	switch {
	case in.Name == "":
		return errors.New("the instance has no name")
	case in.Kind == "1d":
		stocks, what = in.Stocks, "stocks"
		if in.Objective != "bars" && in.Objective != "price" {
			return fmt.Errorf("%s: objective %q is neither bars nor price", in.Name, in.Objective)
		}
		if len(in.Sheets) > 0 {
			return fmt.Errorf("%s: boards (kind 1d) have stocks, not sheets", in.Name)
		}
	case in.Kind == "2d":
		if in.Objective != "sheets" && in.Objective != "price" && in.Objective != "strip" {
			return fmt.Errorf("%s: objective %q is none of sheets, price, strip", in.Name, in.Objective)
		}
		if len(in.Stocks) > 0 {
			return fmt.Errorf("%s: panels (kind 2d) have sheets, not stocks", in.Name)
		}
	default:
		return fmt.Errorf("%s: kind %q is neither 2d nor 1d", in.Name, in.Kind)
	}
	if len(stocks) == 0 || len(stocks) > MaxKinds {
		return fmt.Errorf("%s: %d %s; give 1 to %d", in.Name, len(stocks), what, MaxKinds)
	}
	if len(in.Items) > MaxKinds || len(in.Cases) > 100 {
		return fmt.Errorf("%s: %d items and %d cases; at most %d and 100", in.Name, len(in.Items), len(in.Cases), MaxKinds)
	}
	const most = int64(cutting.MaxLength / step)
	bad := func(v int64) bool { return v <= 0 || v > most }
	if in.Kerf < 0 || in.Kerf > most || in.Trim < 0 || in.Trim > most {
		return fmt.Errorf("%s: kerf %d, trim %d; both must be 0 to %d", in.Name, in.Kerf, in.Trim, most)
	}
	for _, s := range stocks {
		if in.Kind == "2d" && (bad(s.W) || bad(s.H) || s.Len != 0) || in.Kind == "1d" && (bad(s.Len) || s.W != 0 || s.H != 0) {
			return fmt.Errorf("%s: %s %q has a size that is missing, wrong for its kind, or not within 1 to %d", in.Name, what, s.ID, most)
		}
		if _, err := price(s.Price); err != nil {
			return fmt.Errorf("%s: %s %q: %w", in.Name, what, s.ID, err)
		}
		if s.Stock != nil && *s.Stock < 0 {
			return fmt.Errorf("%s: %s %q has a stock of %d; give 0 or more, or null for as many as needed", in.Name, what, s.ID, *s.Stock)
		}
	}
	pieces := 0
	for _, it := range in.Items {
		if in.Kind == "2d" && (bad(it.W) || bad(it.H) || it.Len != 0) || in.Kind == "1d" && (bad(it.Len) || it.W != 0 || it.H != 0) {
			return fmt.Errorf("%s: item %q has a size that is missing, wrong for its kind, or not within 1 to %d", in.Name, it.ID, most)
		}
		if it.Qty < 0 || it.Qty > cutting.MaxPieces {
			return fmt.Errorf("%s: item %q is asked for %d times; give 0 to %d", in.Name, it.ID, it.Qty, cutting.MaxPieces)
		}
		pieces += it.Qty
	}
	if pieces > cutting.MaxPieces {
		return fmt.Errorf("%s: %d pieces in all; at most %d", in.Name, pieces, cutting.MaxPieces)
	}
	return nil
}

// price reads a decimal of at most four places exactly.
func price(n json.Number) (unit.Money, error) {
	whole, frac, _ := strings.Cut(string(n), ".")
	if len(frac) > 4 {
		return 0, fmt.Errorf("the price %s has more than four decimals", n)
	}
	v, err := strconv.ParseInt(whole+frac+"0000"[len(frac):], 10, 64)
	if err != nil || v < 0 || v > 1<<47 {
		return 0, fmt.Errorf("the price %q is no plain number between 0 and ten thousand million", n)
	}
	return unit.Money(v), nil
}

// Job is the two-dimensional problem of a case.
func (in *Instance) Job(c Case) cutting.Job {
	job := cutting.Job{Kerf: unit.Length(in.Kerf) * step}
	switch in.Objective {
	case "price":
		job.Objective = cutting.LeastPrice
	case "strip":
		job.Objective = cutting.LeastHeight
	}
	t := unit.Length(in.Trim) * step
	for _, s := range in.Sheets {
		p, _ := price(s.Price) // checked when decoded
		job.Sheets = append(job.Sheets, cutting.Sheet{
			ID: s.ID, W: unit.Length(s.W) * step, H: unit.Length(s.H) * step, Price: p,
			Stock: stock(s), Trim: cutting.Trim{Left: t, Right: t, Bottom: t, Top: t},
		})
	}
	for _, it := range in.Items {
		job.Items = append(job.Items, cutting.Item{
			ID: it.ID, W: unit.Length(it.W) * step, H: unit.Length(it.H) * step, Qty: it.Qty,
			Turn: c.Rotate && (it.Rotate == nil || *it.Rotate),
		})
	}
	return job
}

// BarJob is the one-dimensional problem of a case.
func (in *Instance) BarJob(Case) cutting.BarJob {
	job := cutting.BarJob{Kerf: unit.Length(in.Kerf) * step}
	if in.Objective == "price" {
		job.Objective = cutting.LeastPrice
	}
	for _, s := range in.Stocks {
		p, _ := price(s.Price)
		job.Bars = append(job.Bars, cutting.Bar{ID: s.ID, Len: unit.Length(s.Len) * step, Price: p, Stock: stock(s), Trim: unit.Length(in.Trim) * step})
	}
	for _, it := range in.Items {
		job.Items = append(job.Items, cutting.BarItem{ID: it.ID, Len: unit.Length(it.Len) * step, Qty: it.Qty})
	}
	return job
}

func stock(s Stock) int {
	if s.Stock == nil {
		return -1
	}
	return *s.Stock
}

// figure turns a value of the engine into the instance's own measure.
func (in *Instance) figure(v int64) float64 {
	switch in.Objective {
	case "price":
		return float64(v) / priceDec
	case "strip":
		return math.Ceil(float64(v) / float64(step))
	}
	return float64(v)
}
