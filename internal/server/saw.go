package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

// SawReply is the page of the saw.
type SawReply struct {
	Stand
	Record string `json:"record" doc:"id of the record, for the parts that are off"`
	station.Saw
}

func (s *Server) registerSaw(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/saw", OperationID: "saw",
		Summary: "Every setting of the saw in order, with its picture; waits until the layouts are sought in full", Tags: []string{"saw"},
	}, func(ctx context.Context, in *ByID) (*struct{ Body SawReply }, error) {
		// Nobody cuts by layouts that may still get better.
		p, err := s.bench.SettledPlan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		ticks, err := s.done(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body SawReply }{SawReply{stand(p), p.Record.ID, station.SawPage(p.Plan, ticks)}}, nil
	})
}
