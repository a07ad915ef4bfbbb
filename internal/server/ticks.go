package server

import (
	"context"
	"math"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/station"
	"casewright/internal/store"
)

// TickBody is one press on the page: this is done, or taken back.
type TickBody struct {
	ID    string    `json:"id" minLength:"8" maxLength:"64" doc:"given by the page; sent twice it counts once"`
	Place string    `json:"place" minLength:"1" maxLength:"100" doc:"what is ticked"`
	Done  bool      `json:"done" doc:"false takes it back"`
	Count int       `json:"count,omitempty" minimum:"0" maximum:"1000000" doc:"of things counted down: how many are done"`
	At    time.Time `json:"at" doc:"by the clock of the device"`
}

// ticksReply carries the tick that counts for every place.
type ticksReply struct {
	Body struct {
		Piece string     `json:"piece"`
		Ticks []TickBody `json:"ticks"`
	}
}

func (s *Server) registerTicks(api huma.API) {
	op := func(method, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: "/api/pieces/{id}/ticks", OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"ticks"}}
	}
	huma.Register(api, op(http.MethodGet, "ticks", "What is done"), func(ctx context.Context, in *ByID) (*ticksReply, error) {
		return s.ticks(ctx, in.ID)
	})
	huma.Register(api, op(http.MethodPost, "tick", "Say what is done; the same ticks may be sent again"), func(ctx context.Context, in *struct {
		ByID
		Body []TickBody `maxItems:"1000"`
	},
	) (*ticksReply, error) {
		if err := s.isPiece(ctx, in.ID); err != nil {
			return nil, err
		}
		var ts []store.Tick
		for _, t := range in.Body {
			ts = append(ts, store.Tick{ID: t.ID, Place: t.Place, Done: t.Done, Count: t.Count, At: t.At})
		}
		if err := s.bench.Tick(ctx, in.ID, deviceOf(ctx), ts...); err != nil {
			return nil, s.problem(err)
		}
		return s.ticks(ctx, in.ID)
	})
}

// isPiece is an error unless there is a piece of that id.
func (s *Server) isPiece(ctx context.Context, id string) error {
	d, err := s.bench.Store.Doc(ctx, id)
	if err == nil && d.Kind != store.Piece {
		err = store.ErrMissing
	}
	if err != nil {
		return s.problem(err)
	}
	return nil
}

func (s *Server) ticks(ctx context.Context, id string) (*ticksReply, error) {
	if err := s.isPiece(ctx, id); err != nil {
		return nil, err
	}
	all, err := s.bench.Store.Ticks(ctx, id)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &ticksReply{}
	out.Body.Piece, out.Body.Ticks = id, []TickBody{}
	for _, t := range all {
		out.Body.Ticks = append(out.Body.Ticks, TickBody{ID: t.ID, Place: t.Place, Done: t.Done, Count: t.Count, At: t.At})
	}
	slices.SortFunc(out.Body.Ticks, func(a, b TickBody) int { return strings.Compare(a.Place, b.Place) })
	return out, nil
}

// done is the ticks of a piece as the stations take them. A tick without a
// count says that all of it is done.
func (s *Server) done(ctx context.Context, id string) (station.Ticks, error) {
	all, err := s.bench.Store.Ticks(ctx, id)
	if err != nil {
		return nil, err
	}
	out := station.Ticks{}
	for _, t := range all {
		switch {
		case !t.Done:
		case t.Count > 0:
			out[t.Place] = t.Count
		default:
			out[t.Place] = math.MaxInt
		}
	}
	return out, nil
}
