package server

import (
	"bytes"
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/piece"
	"casewright/internal/store"
)

func (s *Server) registerPieces(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"pieces"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/pieces", "pieces", "All pieces, last changed first"), s.pieces)
	huma.Register(api, op(http.MethodPost, "/api/pieces", "addPiece", "A new piece: from a shape, a text, or another piece"), s.addPiece)
	huma.Register(api, op(http.MethodPost, "/api/pieces/{id}/shop", "linkShop", "Say in which shop a piece is made"), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Shop string `json:"shop"`
		}
	},
	) (*docReply, error) {
		return s.reply(s.bench.Link(ctx, in.ID, in.Body.Shop, deviceOf(ctx)))
	})
}

// PieceLine is a piece in the list of all.
type PieceLine struct {
	Doc
	Count int `json:"count" doc:"how many are to be made"`
}

func (s *Server) pieces(ctx context.Context, _ *struct{}) (*struct {
	Body struct {
		Pieces []PieceLine `json:"pieces"`
		Shapes []string    `json:"shapes" doc:"what a new piece can start from"`
	}
}, error,
) {
	ds, err := s.bench.Store.Docs(ctx, store.Piece)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &struct {
		Body struct {
			Pieces []PieceLine `json:"pieces"`
			Shapes []string    `json:"shapes" doc:"what a new piece can start from"`
		}
	}{}
	out.Body.Pieces, out.Body.Shapes = []PieceLine{}, piece.Shapes
	for _, d := range ds {
		p, _ := piece.Decode("", bytes.NewReader(d.Text))
		out.Body.Pieces = append(out.Body.Pieces, PieceLine{docBody(d), max(p.Count, 1)})
	}
	return out, nil
}

func (s *Server) addPiece(ctx context.Context, in *struct {
	Body struct {
		Shape  string `json:"shape,omitempty" doc:"start from this shape"`
		Units  string `json:"units,omitempty" enum:"mm,in" default:"mm"`
		Text   string `json:"text,omitempty" maxLength:"1048576" doc:"or from this text, a file of the maker's"`
		CopyOf string `json:"copy_of,omitempty" doc:"or from another piece"`
		Name   string `json:"name,omitempty" maxLength:"200"`
		Shop   string `json:"shop,omitempty" doc:"id of the shop; left out: the one that has its stock"`
		Keep   bool   `json:"keep,omitempty" doc:"keep a text that has problems too"`
	}
},
) (*docReply, error) {
	b := in.Body
	switch {
	case b.CopyOf != "":
		return s.reply(s.bench.Copy(ctx, b.CopyOf, b.Name))
	case b.Text != "":
		if _, err := piece.Decode("", bytes.NewReader([]byte(b.Text))); err != nil && !b.Keep {
			return nil, s.problem(err)
		}
		return s.reply(s.bench.AddPiece(ctx, or(b.Name, "Piece"), []byte(b.Text), b.Shop, "brought in from a file"))
	}
	text, err := app.Start(or(b.Shape, piece.Shapes[0]), b.Units)
	if err != nil {
		return nil, huma.Error422UnprocessableEntity(err.Error())
	}
	if b.Name != "" {
		if text, err = app.Named(store.Piece, text, b.Name); err != nil {
			return nil, s.problem(err)
		}
	}
	return s.reply(s.bench.AddPiece(ctx, or(b.Name, "New piece"), text, b.Shop, "begun"))
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
