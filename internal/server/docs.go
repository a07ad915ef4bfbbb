package server

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/document"
	"casewright/internal/store"
)

// Doc is a document as the pages know it.
type Doc struct {
	ID       string    `json:"id"`
	Kind     string    `json:"kind" enum:"piece,shop,record"`
	Name     string    `json:"name"`
	Version  int64     `json:"version" doc:"grows by one with every change, undo and redo"`
	Head     int64     `json:"head" doc:"number of the revision that stands"`
	CanUndo  bool      `json:"can_undo"`
	CanRedo  bool      `json:"can_redo"`
	Shop     string    `json:"shop,omitempty" doc:"pieces: the shop it is made in"`
	Record   string    `json:"record,omitempty" doc:"pieces: its record"`
	Archived bool      `json:"archived"`
	Changed  time.Time `json:"changed"`
	Problems []Trouble `json:"problems" doc:"what is wrong with its text"`
}

func docBody(d store.Doc) Doc {
	out := Doc{
		ID: d.ID, Kind: string(d.Kind), Name: d.Name, Version: d.Version, Head: d.Head,
		CanUndo: d.CanUndo, CanRedo: d.CanRedo, Shop: d.Shop, Record: d.Record, Archived: d.Archived, Changed: d.Changed,
		Problems: []Trouble{},
	}
	for _, p := range app.Problems(d) {
		out.Problems = append(out.Problems, Trouble{Doc: out.Kind, ID: d.ID, Path: p.Path, Line: p.Line, Col: p.Col, Says: p.Says})
	}
	return out
}

type docReply struct{ Body Doc }

func (s *Server) reply(d store.Doc, err error) (*docReply, error) {
	if err != nil {
		return nil, s.problem(err)
	}
	return &docReply{docBody(d)}, nil
}

// ByID names a document in an address.
type ByID struct {
	ID string `path:"id" maxLength:"40" doc:"of the document"`
}

// largestBody bounds every request; a document has at most a megabyte.
const largestBody = 2 << 20

func (s *Server) registerDocs(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: largestBody, Tags: []string{"documents"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/docs/{id}", "doc", "A document"), func(ctx context.Context, in *ByID) (*docReply, error) {
		return s.reply(s.bench.Store.Doc(ctx, in.ID))
	})
	huma.Register(api, op(http.MethodGet, "/api/shops", "shops", "All shops"), s.shops)
	huma.Register(api, op(http.MethodPatch, "/api/docs/{id}", "edit", "Change fields of a document"), s.edit)
	huma.Register(api, op(http.MethodPut, "/api/docs/{id}/text", "editText", "Change the whole text of a document"), s.editText)
	huma.Register(api, op(http.MethodGet, "/api/docs/{id}/outline", "outline", "A document as a tree of fields"), s.outline)
	for _, m := range []struct {
		path, id, says string
		do             func(context.Context, string, int64, string) (store.Doc, error)
	}{
		{"/api/docs/{id}/undo", "undo", "Take the last change back", func(ctx context.Context, id string, base int64, dev string) (store.Doc, error) {
			return s.bench.Undo(ctx, id, base, dev)
		}},
		{"/api/docs/{id}/redo", "redo", "Put the change last taken back in again", func(ctx context.Context, id string, base int64, dev string) (store.Doc, error) {
			return s.bench.Redo(ctx, id, base, dev)
		}},
	} {
		huma.Register(api, op(http.MethodPost, m.path, m.id, m.says), func(ctx context.Context, in *struct {
			ByID
			Body struct {
				Base int64 `json:"base" doc:"the version this was decided on"`
			}
		},
		) (*docReply, error) {
			return s.reply(m.do(ctx, in.ID, in.Body.Base, deviceOf(ctx)))
		})
	}
	huma.Register(api, op(http.MethodPost, "/api/docs/{id}/archive", "archive", "Put a document away, or take it out again"), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Away bool `json:"away"`
		}
	},
	) (*docReply, error) {
		return s.reply(s.bench.Archive(ctx, in.ID, in.Body.Away, deviceOf(ctx)))
	})
	s.mux.HandleFunc("GET /api/docs/{id}/text", s.text)
}

func (s *Server) shops(ctx context.Context, _ *struct{}) (*struct{ Body []Doc }, error) {
	ds, err := s.bench.Store.Docs(ctx, store.Shop)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &struct{ Body []Doc }{Body: []Doc{}}
	for _, d := range ds {
		out.Body = append(out.Body, docBody(d))
	}
	return out, nil
}

// FieldChange is one change of a document by field.
type FieldChange struct {
	Path  string `json:"path" maxLength:"400" doc:"such as inside.columns[0].width"`
	Do    string `json:"do" enum:"set,remove,insert"`
	Value string `json:"value,omitempty" maxLength:"200000" doc:"as typed; for groups and lists a fragment of YAML"`
}

func (s *Server) edit(ctx context.Context, in *struct {
	ByID
	Body struct {
		Base    int64         `json:"base" doc:"the version the change was made from"`
		Edit    string        `json:"edit" minLength:"8" maxLength:"64" doc:"id of the edit, given by the page; sent twice it counts once"`
		Changes []FieldChange `json:"changes" minItems:"1" maxItems:"500"`
	}
},
) (*docReply, error) {
	c := app.Change{Base: in.Body.Base, Edit: in.Body.Edit, Device: deviceOf(ctx)}
	for _, f := range in.Body.Changes {
		c.Changes = append(c.Changes, document.Change{Path: f.Path, Do: f.Do, Value: f.Value})
	}
	return s.reply(s.bench.Edit(ctx, in.ID, c))
}

func (s *Server) editText(ctx context.Context, in *struct {
	ByID
	Body struct {
		Base int64  `json:"base"`
		Edit string `json:"edit" minLength:"8" maxLength:"64"`
		Text string `json:"text" maxLength:"1048576"`
	}
},
) (*docReply, error) {
	return s.reply(s.bench.Edit(ctx, in.ID, app.Change{Base: in.Body.Base, Edit: in.Body.Edit, Device: deviceOf(ctx), Text: []byte(in.Body.Text)}))
}

type outlineReply struct {
	Body struct {
		Version int64          `json:"version"`
		Root    document.Field `json:"root"`
	}
}

func (s *Server) outline(ctx context.Context, in *ByID) (*outlineReply, error) {
	d, err := s.bench.Store.Doc(ctx, in.ID)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &outlineReply{}
	out.Body.Version, out.Body.Root = d.Version, app.Outline(d)
	return out, nil
}

// text gives the file as the maker wrote it, to keep or to carry elsewhere.
func (s *Server) text(w http.ResponseWriter, r *http.Request) {
	d, err := s.bench.Store.Doc(r.Context(), r.PathValue("id"))
	if err != nil {
		http.Error(w, "This is not here.", http.StatusNotFound)
		return
	}
	name := fileName(d.Name)
	if d.Kind != store.Piece {
		name += "." + string(d.Kind)
	}
	w.Header().Set("Content-Type", "application/yaml; charset=utf-8")
	w.Header().Set("ETag", fmt.Sprintf("%q", fmt.Sprint(d.Version))) // an edit says on which version it was made
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`.yaml"`)
	_, _ = w.Write(d.Text)
}

// fileName is a name in small letters and hyphens, safe in any file system.
func fileName(name string) string {
	var out []rune
	for _, r := range name {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			out = append(out, r)
		case r >= 'A' && r <= 'Z':
			out = append(out, r+'a'-'A')
		case len(out) > 0 && out[len(out)-1] != '-':
			out = append(out, '-')
		}
	}
	for len(out) > 0 && out[len(out)-1] == '-' {
		out = out[:len(out)-1]
	}
	if len(out) == 0 {
		return "piece"
	}
	return string(out)
}
