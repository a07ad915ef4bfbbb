package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

// DeskReply is the page of the desk.
type DeskReply struct {
	Stand
	station.Desk
}

func (s *Server) registerDesk(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/desk", OperationID: "desk", Tags: []string{"desk"},
		Summary: "Parts with the sums behind their sizes, openings, findings, and keys that fields can name",
	}, func(ctx context.Context, in *ByID) (*struct{ Body DeskReply }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body DeskReply }{DeskReply{stand(p), station.DeskPage(p.Plan)}}, nil
	})
}
