package server

import (
	"bytes"
	"context"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/station"
)

type cardReply struct {
	Body struct {
		Stand
		station.Card
	}
}

func (s *Server) registerHome(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"pieces"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/pieces/{id}/card", "card", "A piece in a few words, for the page of all pieces"), func(ctx context.Context, in *ByID) (*cardReply, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		out := &cardReply{}
		if ps := document.Problems(nil); errors.As(err, &ps) { // it has its place among the others all the same
			var q piece.Piece // as far as it can be read
			document.Decode("", bytes.NewReader(p.Piece.Text), piece.Doc, &q)
			out.Body.Stand, out.Body.Card = stand(p), station.CardWithout(p.Piece.Name, max(q.Count, 1), len(ps))
			return out, nil
		}
		if err != nil {
			return nil, s.problem(err)
		}
		out.Body.Stand, out.Body.Card = stand(p), station.CardOf(p.Plan)
		return out, nil
	})
	picture := op(http.MethodGet, "/api/pieces/{id}/picture.svg", "picture", "A piece drawn small, seen aslant")
	picture.Responses = svgReply
	huma.Register(api, picture, s.picture)
	huma.Register(api, op(http.MethodPost, "/api/bring", "bring", "Keep a file of the maker's: a piece, a shop or a record, by its fields"), func(ctx context.Context, in *struct {
		Body struct {
			Text  string `json:"text" minLength:"1" maxLength:"1048576"`
			Name  string `json:"name,omitempty" maxLength:"200" doc:"of the file, where the text gives none"`
			Piece string `json:"piece,omitempty" maxLength:"40" doc:"of a record: whose it is"`
		}
	},
	) (*docReply, error) {
		d, err := s.bench.Bring(ctx, or(in.Body.Name, "Piece"), []byte(in.Body.Text), in.Body.Piece, deviceOf(ctx))
		if errors.Is(err, app.ErrWhose) {
			return nil, huma.Error400BadRequest("This is a record of what was measured and cut. Say of which piece it is.")
		}
		return s.reply(d, err)
	})
}

func (s *Server) picture(ctx context.Context, in *struct {
	ByID
	Wide     float64 `query:"w" minimum:"0" maximum:"2000" doc:"room in pixels"`
	High     float64 `query:"h" minimum:"0" maximum:"2000" doc:"room in pixels"`
	Revision int64   `query:"revision" minimum:"0" doc:"as it was then; left out: as it stands"`
},
) (*Picture, error) {
	wide, high := in.Wide, in.High
	if wide == 0 || high == 0 {
		wide, high = 320, 240
	}
	if in.Revision > 0 {
		p, err := s.bench.PlanAt(ctx, in.ID, in.Revision)
		if err != nil {
			return nil, s.problem(err)
		}
		return &Picture{ContentType: "image/svg+xml", Body: []byte(station.Picture(p, wide, high))}, nil
	}
	p, err := s.bench.Plan(ctx, in.ID)
	if err != nil {
		return nil, s.problem(err)
	}
	return &Picture{ContentType: "image/svg+xml", Body: []byte(station.Picture(p.Plan, wide, high))}, nil
}
