package server

import (
	"bytes"
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/station"
	"casewright/internal/store"
)

// ShopReply is the page of a shop.
type ShopReply struct {
	ID      string     `json:"id"`
	Name    string     `json:"name"`
	Version int64      `json:"version"`
	Pieces  []MadeHere `json:"pieces" doc:"made in this shop"`
	station.ShopRoom
}

// MadeHere is a piece made in a shop.
type MadeHere struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

func (s *Server) registerShop(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"shop"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/shops/{id}", "shop", "A shop in sections, with what the records teach"), s.shop)
	huma.Register(api, op(http.MethodPost, "/api/shops", "addShop", "A new shop, to start from or as a copy"), s.addShop)
}

// shop shows also a shop with problems: what can be read of it.
func (s *Server) shop(ctx context.Context, in *ByID) (*struct{ Body ShopReply }, error) {
	d, err := s.bench.Store.Doc(ctx, in.ID)
	if err == nil && d.Kind != store.Shop {
		err = store.ErrMissing
	}
	if err != nil {
		return nil, s.problem(err)
	}
	pieces, err := s.bench.Store.Docs(ctx, store.Piece)
	if err != nil {
		return nil, s.problem(err)
	}
	out := ShopReply{ID: d.ID, Name: d.Name, Version: d.Version, Pieces: []MadeHere{}}
	var made []station.Made
	for _, p := range pieces {
		if p.Shop != d.ID || p.Archived {
			continue
		}
		out.Pieces = append(out.Pieces, MadeHere{p.ID, p.Name})
		if rec, err := s.bench.Store.Doc(ctx, p.Record); err == nil {
			r, _ := record.Decode("", bytes.NewReader(rec.Text)) // what can be read of it
			made = append(made, station.Made{ID: p.ID, Name: p.Name, Record: r})
		}
	}
	v, _ := shop.Decode("", bytes.NewReader(d.Text))
	out.ShopRoom = station.ShopPage(v, made)
	return &struct{ Body ShopReply }{out}, nil
}

func (s *Server) addShop(ctx context.Context, in *struct {
	Body struct {
		Units  string `json:"units,omitempty" enum:"mm,in" default:"mm"`
		CopyOf string `json:"copy_of,omitempty" maxLength:"40"`
		Name   string `json:"name,omitempty" maxLength:"200"`
	}
},
) (*docReply, error) {
	b := in.Body
	text, says := []byte(nil), "begun"
	if b.CopyOf != "" {
		d, err := s.bench.Store.Doc(ctx, b.CopyOf)
		if err == nil && d.Kind != store.Shop {
			err = store.ErrMissing
		}
		if err != nil {
			return nil, s.problem(err)
		}
		text, says = d.Text, "copied from "+d.Name
		b.Name = or(b.Name, d.Name+", copy")
	} else {
		var err error
		if text, err = app.Start("shop", or(b.Units, "mm")); err != nil {
			return nil, s.problem(err)
		}
	}
	if b.Name != "" {
		if named, err := app.Named(store.Shop, text, b.Name); err == nil {
			text = named // a text with problems is copied as it is
		}
	}
	return s.reply(s.bench.Add(ctx, store.Shop, or(b.Name, "My shop"), text, says))
}
