package server

import (
	"context"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/document"
	"casewright/internal/store"
)

// problem turns what went wrong into a reply with one clear sentence, and the
// places in the document where there are some.
func (s *Server) problem(err error) error {
	if err == nil {
		return nil
	}
	var stale *store.StaleError
	var ps document.Problems
	switch {
	case errors.As(err, &stale):
		return &Conflict{
			Status: http.StatusConflict, Title: "Changed meanwhile",
			Detail: "This was changed on another page since it was read here. Look at both and choose.",
			Now:    docBody(stale.Now),
		}
	case errors.As(err, &ps):
		e := &huma.ErrorModel{Status: http.StatusUnprocessableEntity, Title: "This cannot be used as it is", Detail: ps[0].Says}
		for _, p := range ps {
			e.Errors = append(e.Errors, &huma.ErrorDetail{Message: p.Says, Location: p.Path, Value: place{p.Line, p.Col}})
		}
		return e
	case errors.Is(err, store.ErrMissing):
		return huma.Error404NotFound("This is not here. It may have been put away, or the address is mistyped.")
	case errors.Is(err, context.Canceled):
		return huma.NewError(http.StatusRequestTimeout, "The page that asked has gone.")
	case errors.Is(err, store.ErrNothing):
		return huma.Error409Conflict("There is nothing more to undo or redo.")
	}
	s.opt.Log.Error("request failed", "error", err)
	return huma.Error500InternalServerError("This did not work: " + err.Error())
}

// place is where in a text a problem is, counted from 1.
type place struct {
	Line int `json:"line"`
	Col  int `json:"col"`
}

// Conflict is the reply to an edit of a text that has moved on: it carries
// the document as it stands.
type Conflict struct {
	Status int    `json:"status"`
	Title  string `json:"title"`
	Detail string `json:"detail"`
	Now    Doc    `json:"now"`
}

func (c *Conflict) Error() string  { return c.Detail }
func (c *Conflict) GetStatus() int { return c.Status }

// ContentType says that it is a problem (RFC 9457).
func (c *Conflict) ContentType(string) string { return "application/problem+json" }

// Trouble is one thing wrong in one of the three documents, beside a view of
// the last plan that could be made.
type Trouble struct {
	Doc  string `json:"doc" enum:"piece,shop,record"`
	ID   string `json:"id" doc:"of the document"`
	Path string `json:"path,omitempty"`
	Line int    `json:"line,omitempty"`
	Col  int    `json:"col,omitempty"`
	Says string `json:"says"`
}

func troubles(ps []app.Problem) []Trouble {
	out := make([]Trouble, 0, len(ps))
	for _, p := range ps {
		out = append(out, Trouble{string(p.Doc), p.ID, p.Path, p.Line, p.Col, p.Says})
	}
	return out
}

// Stand says of which texts a view is: every station's reply carries it.
type Stand struct {
	Piece    string    `json:"piece" doc:"id of the piece"`
	Version  int64     `json:"version" doc:"of the piece"`
	Revision string    `json:"revision" doc:"of the plan, as printed on the papers"`
	Settled  bool      `json:"settled" doc:"false while better layouts are still being sought; an event tells when that is done"`
	Problems []Trouble `json:"problems" doc:"what is wrong in the texts as they stand; the view is then of the last plan that could be made"`
}

func stand(p app.Planned) Stand {
	return Stand{p.Piece.ID, p.Piece.Version, p.Plan.Revision, p.Settled, troubles(p.Problems)}
}
