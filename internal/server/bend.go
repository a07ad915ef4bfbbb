package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
)

// BendReply is the page of the bends, with the documents that its edits go
// to.
type BendReply struct {
	Stand
	Shop   string `json:"shop" doc:"id of the shop"`
	Record string `json:"record" doc:"id of the record"`
	station.Bending
}

// RecordReply is the page of a piece's record.
type RecordReply struct {
	Stand
	Shop   string `json:"shop" doc:"id of the shop"`
	Record string `json:"record" doc:"id of the record"`
	station.Recorded
}

func (s *Server) registerBend(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"bend"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/pieces/{id}/bend", "bend", "The bends of a piece, drawn as they close"), func(ctx context.Context, in *ByID) (*struct{ Body BendReply }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body BendReply }{BendReply{stand(p), p.Shop.ID, p.Record.ID, station.BendPage(p.Plan)}}, nil
	})
	huma.Register(api, op(http.MethodPost, "/api/pieces/{id}/bend/try", "tryBend", "What a test bend would change, before it is saved"), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Bend int `json:"bend" minimum:"0" maximum:"1000" doc:"number of the bend on its page"`
			station.TypedTest
		}
	},
	) (*struct{ Body station.TestSays }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body station.TestSays }{station.TryTest(p.Plan, in.Body.Bend, in.Body.TypedTest)}, nil
	})
	huma.Register(api, op(http.MethodGet, "/api/pieces/{id}/record", "record", "What was measured, bent, cut and spent on a piece"), func(ctx context.Context, in *ByID) (*struct{ Body RecordReply }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body RecordReply }{RecordReply{stand(p), p.Shop.ID, p.Record.ID, station.RecordPage(p.Plan)}}, nil
	})
}
