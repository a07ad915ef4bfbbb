package server

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/drawing"
	"casewright/internal/store"
)

// Revision is one text a document had.
type Revision struct {
	Number int64     `json:"number"`
	Parent int64     `json:"parent" doc:"the one it was made from, 0 for the first"`
	Says   string    `json:"says" doc:"what changed"`
	Device string    `json:"device" doc:"where it comes from"`
	At     time.Time `json:"at"`
	Stands bool      `json:"stands" doc:"it is the one that stands"`
	Text   string    `json:"text,omitempty" doc:"when a single one is asked for"`
}

// ChangedField is a field that was written otherwise.
type ChangedField struct {
	Path  string `json:"path"`
	Words string `json:"words" doc:"the path as it is said"`
	Old   string `json:"old,omitempty" doc:"as typed; empty: not there"`
	New   string `json:"new,omitempty"`
}

func (s *Server) registerHistory(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"history"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/docs/{id}/history", "history", "The revisions of a document, latest first"), s.history)
	huma.Register(api, op(http.MethodGet, "/api/docs/{id}/revisions/{number}", "revision", "One revision with its text"), func(ctx context.Context, in *struct {
		ByID
		Number int64 `path:"number" minimum:"1"`
	},
	) (*struct{ Body Revision }, error) {
		d, err := s.bench.Store.Doc(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		r, err := s.bench.Store.Revision(ctx, in.ID, in.Number)
		if err != nil {
			return nil, s.problem(err)
		}
		names, err := s.deviceNames(ctx)
		if err != nil {
			return nil, s.problem(err)
		}
		out := revisionOf(r, d.Head, names)
		out.Text = string(r.Text)
		return &struct{ Body Revision }{out}, nil
	})
	huma.Register(api, op(http.MethodPost, "/api/docs/{id}/back", "backTo", "Go back to an earlier revision, as a new one"), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Base int64  `json:"base" doc:"the version this was decided on"`
			Edit string `json:"edit" minLength:"8" maxLength:"64"`
			To   int64  `json:"to" minimum:"1" doc:"number of the revision"`
		}
	},
	) (*docReply, error) {
		return s.reply(s.bench.BackTo(ctx, in.ID, in.Body.To, app.Change{Base: in.Body.Base, Edit: in.Body.Edit, Device: deviceOf(ctx)}))
	})
	huma.Register(api, op(http.MethodGet, "/api/docs/{id}/between", "between", "What was written otherwise from one revision to another"), func(ctx context.Context, in *struct {
		ByID
		From int64 `query:"from" minimum:"1" required:"true"`
		To   int64 `query:"to" minimum:"0" doc:"left out: the one that stands"`
	},
	) (*struct {
		Body struct {
			Fields []ChangedField `json:"fields"`
		}
	}, error,
	) {
		d, err := s.bench.Store.Doc(ctx, in.ID)
		if err != nil {
			return nil, s.problem(err)
		}
		out := &struct {
			Body struct {
				Fields []ChangedField `json:"fields"`
			}
		}{}
		if out.Body.Fields, err = s.fieldsBetween(ctx, d, in.From, in.To); err != nil {
			return nil, s.problem(err)
		}
		return out, nil
	})
}

func (s *Server) history(ctx context.Context, in *struct {
	ByID
	Below int64 `query:"below" minimum:"0" doc:"only revisions below this number; 0: from the latest"`
	Most  int   `query:"most" minimum:"1" maximum:"500" default:"100"`
},
) (*struct {
	Body struct {
		Version   int64      `json:"version"`
		Revisions []Revision `json:"revisions"`
		More      bool       `json:"more" doc:"there are older ones"`
	}
}, error,
) {
	d, err := s.bench.Store.Doc(ctx, in.ID)
	if err != nil {
		return nil, s.problem(err)
	}
	rs, err := s.bench.Store.History(ctx, in.ID, in.Below, in.Most+1)
	if err != nil {
		return nil, s.problem(err)
	}
	names, err := s.deviceNames(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &struct {
		Body struct {
			Version   int64      `json:"version"`
			Revisions []Revision `json:"revisions"`
			More      bool       `json:"more" doc:"there are older ones"`
		}
	}{}
	out.Body.Version, out.Body.Revisions = d.Version, []Revision{}
	for i, r := range rs {
		if i == in.Most {
			out.Body.More = true
			break
		}
		out.Body.Revisions = append(out.Body.Revisions, revisionOf(r, d.Head, names))
	}
	return out, nil
}

func revisionOf(r store.Revision, head int64, names map[string]string) Revision {
	device := "this computer"
	if r.Device != "" {
		device = or(names[r.Device], "another device")
	}
	return Revision{Number: r.Number, Parent: r.Parent, Says: r.Says, Device: device, At: r.At, Stands: r.Number == head}
}

func (s *Server) deviceNames(ctx context.Context) (map[string]string, error) {
	ds, err := s.bench.Store.Devices(ctx)
	out := map[string]string{}
	for _, d := range ds {
		out[d.ID] = d.Name
	}
	return out, err
}

// fieldsBetween is what was written otherwise from one revision to another; 0
// is the one that stands.
func (s *Server) fieldsBetween(ctx context.Context, d store.Doc, from, to int64) ([]ChangedField, error) {
	if to == 0 {
		to = d.Head
	}
	a, err := s.bench.Store.Revision(ctx, d.ID, from)
	if err != nil {
		return nil, err
	}
	b, err := s.bench.Store.Revision(ctx, d.ID, to)
	if err != nil {
		return nil, err
	}
	out := []ChangedField{}
	for _, f := range app.FieldsBetween(d.Kind, a.Text, b.Text) {
		out = append(out, ChangedField{f.Path, drawing.Words(f.Path), f.Old, f.New})
	}
	return out, nil
}
