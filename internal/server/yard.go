package server

import (
	"context"
	"net/http"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
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
		v := s.yards.get(yardKey{p.Key, p.Settled}, keptYards, func() *yardView { return &yardView{} })
		page, err := v.page(ctx, func() station.Yard { return station.YardPage(ctx, p.Plan) })
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body YardReply }{YardReply{stand(p), p.Shop.ID, p.Plan.Shop.Units.String(), page}}, nil
	})
}

// yardKey names a plan: the same texts have one with layouts of a short search
// and one of the full search.
type yardKey struct {
	plan    app.Key
	settled bool
}

// keptYards is how many pages of the yard stay in memory, each some tens of
// kilobytes.
const keptYards = 24

// yardView is the page of one plan. It is worked out once, since layouts are
// sought for it where a size could save a panel: seconds, for many pieces.
type yardView struct {
	mu   sync.Mutex
	made *station.Yard
}

// page gives the page. One that was worked out for somebody who went away in
// the middle is not kept.
func (v *yardView) page(ctx context.Context, work func() station.Yard) (station.Yard, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.made == nil {
		page := work()
		if ctx.Err() != nil {
			return page, ctx.Err()
		}
		v.made = &page
	}
	return *v.made, nil
}
