package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

// YardReply is the page of the yard.
type YardReply struct {
	Stand
	Shop      string `json:"shop" doc:"id of the shop, for boards typed in"`
	ShopUnits string `json:"shop_units" enum:"mm,in" doc:"of bare numbers in the shop"`
	station.Yard
}

func (s *Server) registerYard(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/yard", OperationID: "yard", Tags: []string{"yard"},
		Summary: "What to buy, and where every part lies on panels and boards",
	}, func(ctx context.Context, in *ByID) (*struct{ Body YardReply }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body YardReply }{YardReply{stand(p), p.Shop.ID, p.Plan.Shop.Units.String(), station.YardPage(p.Plan)}}, nil
	})
}
