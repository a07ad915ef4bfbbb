package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

// Picture is an SVG drawing that is put into a page.
type Picture struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}

// WantedDrawing says which drawing, in which room.
type WantedDrawing struct {
	ByID
	View   string  `path:"view" enum:"front,side,top,back,aslant,exploded,section-x,section-y,section-z,part,kerfs,layout"`
	At     string  `query:"at" maxLength:"40" doc:"of a section: where, in any unit form"`
	Letter string  `query:"letter" maxLength:"20" doc:"of part and kerfs"`
	Bend   int     `query:"bend" default:"-1" doc:"of kerfs: which bend, -1 for all"`
	Stock  string  `query:"stock" maxLength:"200" doc:"of layout: key of the panel, or wood and class"`
	Layout int     `query:"n" default:"1" doc:"of layout: which, from 1"`
	Units  string  `query:"units" enum:"mm,in," doc:"which lead; left out: the piece's own"`
	Plain  bool    `query:"plain" doc:"without dimensions"`
	Single bool    `query:"single" doc:"in one unit only"`
	Marked bool    `query:"letters" doc:"parts lettered in balloons"`
	Hidden bool    `query:"hidden" doc:"hidden edges dashed"`
	Wide   float64 `query:"w" minimum:"0" maximum:"4000" doc:"room in pixels"`
	High   float64 `query:"h" minimum:"0" maximum:"4000" doc:"room in pixels"`
}

func (s *Server) registerDrawing(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/drawing/{view}", OperationID: "drawing", Tags: []string{"desk"},
		Summary:   "A drawing of the piece for a page: parts carry data-part, sizes that can be typed over data-path",
		Responses: svgReply,
	}, func(ctx context.Context, in *WantedDrawing) (*Picture, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		text, err := station.Drawing(p.Plan, station.DrawingOf{
			View: in.View, At: in.At, Part: in.Letter, Bend: in.Bend, Stock: in.Stock, Layout: in.Layout,
			Units: in.Units, Plain: in.Plain, Single: in.Single, Mark: in.Marked, Hidden: in.Hidden, Wide: in.Wide, High: in.High,
		})
		if err != nil {
			return nil, huma.Error422UnprocessableEntity(err.Error())
		}
		return &Picture{ContentType: "image/svg+xml", Body: []byte(text)}, nil
	})
}

// svgReply is how the API's description tells of a picture.
var svgReply = map[string]*huma.Response{"200": {
	Description: "SVG", Content: map[string]*huma.MediaType{"image/svg+xml": {Schema: &huma.Schema{Type: huma.TypeString}}},
}}
