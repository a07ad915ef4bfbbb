package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

type lineReply struct {
	Body struct {
		Stand
		Name  string         `json:"name"`
		Stops []station.Stop `json:"stops" doc:"in the order of the work"`
	}
}

func (s *Server) registerLine(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/line", OperationID: "line", Tags: []string{"stations"},
		Summary: "What is not yet settled at each place of work",
	}, func(ctx context.Context, in *ByID) (*lineReply, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		out := &lineReply{}
		out.Body.Stand, out.Body.Name, out.Body.Stops = stand(p), p.Piece.Name, station.Line(p.Plan)
		return out, nil
	})
}
