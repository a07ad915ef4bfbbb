// Package papers puts drawings and tables on printed sheets, one paper for
// each place of work: desk, yard, saw and bench. Every paper is a view of a
// plan; nothing is worked out here but where things stand on the sheet.
package papers

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/plan"
)

// Place is a place of work.
type Place string

// The places, in the order of the work.
const (
	Desk     Place = "desk"
	Yard     Place = "yard"
	Saw      Place = "saw"
	Bench    Place = "bench"
	Glue     Place = "glue-up"
	Finish   Place = "finish"
	Delivery Place = "delivery"
)

// title is the place as it opens a line.
func (p Place) title() string { return document.Capital(string(p)) }

// Paper is what one place of work needs on one subject, on as many sheets as
// it takes.
type Paper struct {
	Place  Place
	Name   string
	Sheets []drawing.Sheet
}

// Options choose how the papers are set. The zero value follows the piece and
// the shop.
type Options struct {
	Paper string // a4 or letter; empty: what the shop prints on
	Units string // mm or in leads; empty: the piece's own
	Date  string // for the title block; empty: left to be written in
}

// Set gives all papers of a plan. The error is about the options; a plan that
// was made can always be printed.
func Set(p plan.Plan, opt Options) ([]Paper, error) {
	s, err := newSet(p, opt)
	if err != nil {
		return nil, err
	}
	s.compose()
	return s.papers(), nil
}

// compose sets the papers in the order of the work.
func (s *set) compose() {
	s.desk()
	s.order()
	s.quote()
	s.calculation()
	s.changeNote()
	s.afterwards()
	s.yard()
	s.saw()
	s.bench()
	s.steps()
	s.glueUps()
	s.finishCard()
	s.delivery()
}

// set is a set of papers in the making.
type set struct {
	p     plan.Plan
	draw  drawing.Options
	paper drawing.Paper
	date  string
	pages []*page
	views []namedView // every drawing that was made, for the single files
}

type namedView struct {
	name string
	view drawing.View
}

// page is one sheet whose frame is drawn last, when the number of pages is
// known.
type page struct {
	place Place
	name  string
	paper drawing.Paper
	scale string
	sheet *drawing.Sheet
}

func newSet(p plan.Plan, opt Options) (*set, error) {
	s := &set{p: p, date: opt.Date}
	switch pick(opt.Paper, p.Shop.Paper, "a4") {
	case "a4":
		s.paper = drawing.A4
	case "letter":
		s.paper = drawing.Letter
	default:
		return nil, fmt.Errorf("papers: %q is not a paper that can be printed; give a4 or letter", pick(opt.Paper, p.Shop.Paper))
	}
	s.draw.Units = p.Piece.Units
	if opt.Units != "" {
		if err := s.draw.Units.UnmarshalText([]byte(opt.Units)); err != nil {
			return nil, fmt.Errorf("papers: %w", err)
		}
	}
	return s, nil
}

// pick is the first word that is not empty.
func pick(words ...string) string {
	for _, w := range words {
		if w != "" {
			return w
		}
	}
	return ""
}

// add opens a new page and gives the room within its frame.
func (s *set) add(place Place, name string, across bool) (*page, drawing.Rect) {
	paper := s.paper
	if across {
		paper = paper.Across()
	}
	pg := &page{place: place, name: name, paper: paper, sheet: drawing.NewSheet(paper, place.title()+": "+name)}
	s.pages = append(s.pages, pg)
	return pg, room(paper)
}

// room is what the frame leaves of a paper.
func room(p drawing.Paper) drawing.Rect {
	return drawing.Frame(drawing.NewSheet(p, ""), drawing.TitleBlock{})
}

// papers frames the pages and gathers them.
func (s *set) papers() []Paper {
	var out []Paper
	for i, pg := range s.pages {
		framed := drawing.NewSheet(pg.paper, pg.sheet.Title)
		drawing.Frame(framed, s.title(pg.sheet.Title, pg.scale, i+1, len(s.pages)))
		framed.Add(pg.sheet.Items...)
		if n := len(out); n == 0 || out[n-1].Place != pg.place || out[n-1].Name != pg.name {
			out = append(out, Paper{Place: pg.place, Name: pg.name})
		}
		last := &out[len(out)-1]
		last.Sheets = append(last.Sheets, *framed)
	}
	return out
}

func (s *set) title(paper, scale string, page, of int) drawing.TitleBlock {
	return drawing.TitleBlock{
		Piece: s.p.Piece.Name, Paper: paper, Revision: s.p.Revision, Date: s.date,
		Units: s.draw.UnitsText(), Scale: scale, Page: page, Of: of,
	}
}
