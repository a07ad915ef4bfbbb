package plan

import (
	"context"

	"casewright/internal/price"
	"casewright/internal/route"
	"casewright/internal/yard"
)

// buying is the list for all pieces, with what is used up and what must go
// with the piece.
func buying(p Plan, goods yard.Goods) []yard.Line {
	return append(yard.Buy(goods), price.Supplied(p.Piece, p.Shop, p.Model, uses(p), goods.Pieces)...)
}

func goods(p Plan) yard.Goods {
	return yard.Goods{Piece: p.Piece, Shop: p.Shop, Model: p.Model, Pieces: p.Piece.Count, Panels: p.Panels, Woods: p.Woods, Show: p.Show}
}

// priced works the price out for all pieces and for one alone. A quote is for
// the whole piece, so parts that are cut already count as to be cut.
func priced(ctx context.Context, p Plan, opt Options) (price.Price, error) {
	if p.Shop.Rates == nil {
		return price.Make(price.Input{Piece: p.Piece, Shop: p.Shop}), nil
	}
	in := price.Input{Piece: p.Piece, Shop: p.Shop, Record: p.Record}
	var err error
	if in.All, err = p.list(ctx, p.Piece.Count, opt); err != nil {
		return price.Price{}, err
	}
	if in.One = in.All; p.Piece.Count > 1 {
		if in.One, err = p.list(ctx, 1, opt); err != nil {
			return price.Price{}, err
		}
	}
	return price.Make(in), nil
}

// list is the goods and the work for so many pieces, none of them begun;
// layouts that the plan has are not made again.
func (p Plan) list(ctx context.Context, pieces int, opt Options) (price.List, error) {
	if pieces != p.Piece.Count || len(p.Record.Cut) > 0 || len(p.Record.Left) > 0 || len(p.Record.Blanks) > 0 {
		p.Piece.Count, p.Record.Cut, p.Record.Blanks, p.Record.Left = pieces, nil, nil, nil
		p.Model = p.Model.Unbegun()
		var err error
		if p.Panels, err = yard.Panels(ctx, p.Model, p.Piece, pieces, p.Shop, p.Record, opt.Cutting); err != nil {
			return price.List{}, err
		}
		if p.Woods, err = yard.Woods(ctx, p.Model, pieces, p.Shop, p.Record, opt.Cutting); err != nil {
			return price.List{}, err
		}
		p.Setups = setups(p)
		p.Route = routed(p)
	}
	return price.List{Pieces: pieces, Buying: buying(p, goods(p)), OnHand: yard.OnHand(p.Panels, p.Shop, p.Show), Panels: p.Panels, Hours: hours(p)}, nil
}

func routed(p Plan) route.Route {
	return route.Make(route.Input{Piece: p.Piece, Shop: p.Shop, Record: p.Record, Model: p.Model, Panels: p.Panels, Woods: p.Woods, Setups: p.Setups, Show: p.Show})
}
