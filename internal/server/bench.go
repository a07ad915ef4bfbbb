package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/plan"
	"casewright/internal/station"
)

// BenchReply is the page of the bench.
type BenchReply struct {
	Stand
	Record string `json:"record" doc:"id of the record, for what is measured"`
	station.Bench
}

// GlueUpsReply is the page of the glue-ups.
type GlueUpsReply struct {
	Stand
	station.GlueUps
}

// FinishingReply is the page of the finish.
type FinishingReply struct {
	Stand
	station.Finishing
}

// DeliveryReply is the delivery note.
type DeliveryReply struct {
	Stand
	station.Delivery
}

// registerBench puts up the bench and the places after it.
func (s *Server) registerBench(api huma.API) {
	registerPlace(s, api, "bench", "Steps at bench and machines, openings to measure, joints and screws", station.BenchPage, func(st Stand, record string, b station.Bench) BenchReply {
		return BenchReply{st, record, b}
	})
	registerPlace(s, api, "glue-up", "The glue-ups with their clocks and clamps", station.GluePage, func(st Stand, _ string, g station.GlueUps) GlueUpsReply {
		return GlueUpsReply{st, g}
	})
	registerPlace(s, api, "finish", "The finish, grit by grit and coat by coat", station.FinishPage, func(st Stand, _ string, f station.Finishing) FinishingReply {
		return FinishingReply{st, f}
	})
	registerPlace(s, api, "delivery", "The delivery note", station.DeliveryPage, func(st Stand, _ string, d station.Delivery) DeliveryReply {
		return DeliveryReply{st, d}
	})
}

// registerPlace puts up one place whose page follows from the plan and the ticks.
func registerPlace[V, R any](s *Server, api huma.API, place, says string, page func(plan.Plan, station.Ticks) V, reply func(Stand, string, V) R) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/" + place, OperationID: place, Summary: says, Tags: []string{place},
	}, func(ctx context.Context, in *ByID) (*struct{ Body R }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		ticks, err := s.done(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body R }{reply(stand(p), p.Record.ID, page(p.Plan, ticks))}, nil
	})
}
