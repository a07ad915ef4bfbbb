package plan

import (
	"context"

	"casewright/internal/price"
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
	in := price.Input{Piece: p.Piece, Shop: p.Shop, Record: p.Record, Hours: hours(p)}
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

// list is the goods for so many pieces; layouts that the plan has are not made
// again.
func (p Plan) list(ctx context.Context, pieces int, opt Options) (price.List, error) {
	g := goods(p)
	if pieces != g.Pieces || len(p.Record.Cut) > 0 {
		whole := p.Record
		whole.Cut = nil
		var err error
		if g.Panels, err = yard.Panels(ctx, p.Model, pieces, p.Shop, whole, opt.Cutting); err != nil {
			return price.List{}, err
		}
		if g.Woods, err = yard.Woods(ctx, p.Model, pieces, p.Shop, whole, opt.Cutting); err != nil {
			return price.List{}, err
		}
		g.Pieces = pieces
	}
	return price.List{Pieces: pieces, Buying: buying(p, g), OnHand: yard.OnHand(g.Panels, p.Shop, p.Show), Panels: g.Panels}, nil
}
