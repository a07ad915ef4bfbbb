package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/papers"
	"casewright/internal/station"
)

// ChangesReply is what became of a piece from one revision to another.
type ChangesReply struct {
	Piece  string         `json:"piece" doc:"id of the piece"`
	From   Revision       `json:"from"`
	To     Revision       `json:"to"`
	Fields []ChangedField `json:"fields" doc:"what was written otherwise in the piece"`
	station.Changes
}

func (s *Server) registerChanges(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/pieces/{id}/changes", OperationID: "changes", Tags: []string{"history"},
		Summary: "Every number and paper that changed from one revision of a piece to another, in the shop as it stands",
	}, s.changes)
}

func (s *Server) changes(ctx context.Context, in *struct {
	ByID
	From  int64 `query:"from" minimum:"0" doc:"number of a revision; left out: the one before"`
	To    int64 `query:"to" minimum:"0" doc:"number of a revision; left out: the one that stands"`
	Brief bool  `query:"brief" doc:"the counts and papers only"`
},
) (*struct{ Body ChangesReply }, error) {
	d, err := s.bench.Store.Doc(ctx, in.ID)
	if err != nil {
		return nil, s.problem(err)
	}
	if in.To == 0 {
		in.To = d.Head
	}
	to, err := s.bench.Store.Revision(ctx, in.ID, in.To)
	if err != nil {
		return nil, s.problem(err)
	}
	if in.From == 0 {
		in.From = max(to.Parent, 1)
	}
	from, err := s.bench.Store.Revision(ctx, in.ID, in.From)
	if err != nil {
		return nil, s.problem(err)
	}
	before, err := s.bench.PlanAt(ctx, in.ID, in.From)
	if err != nil {
		return nil, s.problem(err)
	}
	after, err := s.bench.PlanAt(ctx, in.ID, in.To)
	if err != nil {
		return nil, s.problem(err)
	}
	changed, err := papers.Changed(before, after, papers.Options{})
	if err != nil {
		return nil, s.problem(err)
	}
	names, err := s.deviceNames(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	out := ChangesReply{Piece: in.ID, From: revisionOf(from, d.Head, names), To: revisionOf(to, d.Head, names), Changes: station.ChangesOf(before, after, changed)}
	if out.Fields, err = s.fieldsBetween(ctx, d, in.From, in.To); err != nil {
		return nil, s.problem(err)
	}
	if in.Brief {
		out.Places = []station.ChangePlace{}
	}
	return &struct{ Body ChangesReply }{out}, nil
}
