package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/scene"
)

// SceneReply is the view in space of a piece.
type SceneReply struct {
	Stand
	scene.Scene
}

func (s *Server) registerScene(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/scene", OperationID: "scene",
		Summary: "The piece in space: parts, how they bend, open and come apart, and sizes", Tags: []string{"desk"},
	}, func(ctx context.Context, in *ByID) (*struct{ Body SceneReply }, error) {
		p, err := s.bench.Plan(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		return &struct{ Body SceneReply }{SceneReply{stand(p), scene.Make(p.Plan)}}, nil
	})
}
