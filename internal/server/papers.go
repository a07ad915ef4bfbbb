package server

import (
	"archive/zip"
	"bytes"
	"cmp"
	"context"
	"errors"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/app"
	"casewright/internal/drawing"
	"casewright/internal/papers"
	"casewright/internal/render/pdf"
	"casewright/internal/render/svg"
	"casewright/internal/station"
	"casewright/internal/unit"
)

// PapersReply lists the papers of a piece.
type PapersReply struct {
	Stand
	station.Papers
}

// WantedPapers says how a set is printed.
type WantedPapers struct {
	ByID
	Paper string `query:"paper" enum:"a4,letter," doc:"left out: what the shop prints on"`
	Units string `query:"units" enum:"mm,in," doc:"which lead; left out: the piece's own"`
}

// Download is a file of a set.
type Download struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

func (s *Server) registerPapers(api huma.API) {
	op := func(path, id, says, kind string) huma.Operation {
		o := huma.Operation{Method: http.MethodGet, Path: path, OperationID: id, Summary: says, Tags: []string{"papers"}}
		if kind != "" {
			o.Responses = map[string]*huma.Response{"200": {
				Description: says, Content: map[string]*huma.MediaType{kind: {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}},
			}}
		}
		return o
	}
	huma.Register(api, op("/api/pieces/{id}/papers", "papers", "All papers of the piece", ""), s.papers)
	huma.Register(api, op("/api/pieces/{id}/files", "files", "All files of the piece", ""), s.files)
	huma.Register(api, op("/api/pieces/{id}/papers/page/{page}", "paper", "One page as a picture, such as 3.svg", "image/svg+xml"), s.paper)
	huma.Register(api, op("/api/pieces/{id}/files/{file}", "file", "A file of the piece, such as papers.pdf; all.zip holds everything", "application/octet-stream"), s.file)
	huma.Register(api, op("/api/pieces/{id}/files/{folder}/{file}", "fileIn", "A drawing or an outline of the piece", "application/octet-stream"), s.fileIn)
}

func (s *Server) papers(ctx context.Context, in *WantedPapers) (*struct{ Body PapersReply }, error) {
	p, set, err := s.printed(ctx, in)
	if err != nil {
		return nil, err
	}
	return &struct{ Body PapersReply }{PapersReply{stand(p), station.PapersPage(set.papers, set.templates, set.opt)}}, nil
}

func (s *Server) files(ctx context.Context, in *WantedPapers) (*struct {
	Body struct {
		Stand
		Files []station.PaperFile `json:"files"`
	}
}, error,
) {
	p, set, err := s.printed(ctx, in)
	if err != nil {
		return nil, err
	}
	names, err := set.names()
	if err != nil {
		return nil, s.problem(err)
	}
	out := &struct {
		Body struct {
			Stand
			Files []station.PaperFile `json:"files"`
		}
	}{}
	out.Body.Stand, out.Body.Files = stand(p), station.PaperFiles(p.Plan, names)
	return out, nil
}

func (s *Server) paper(ctx context.Context, in *struct {
	WantedPapers
	Page string `path:"page" pattern:"^[0-9]{1,4}\\.svg$"`
},
) (*Picture, error) {
	_, set, err := s.printed(ctx, &in.WantedPapers)
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(strings.TrimSuffix(in.Page, ".svg"))
	if err != nil || n < 1 || n > len(set.sheets) {
		return nil, huma.Error404NotFound("There is no such page. The papers may have changed; read the list again.")
	}
	var b bytes.Buffer
	if err := svg.Write(&b, set.sheets[n-1], svg.Options{}); err != nil {
		return nil, s.problem(err)
	}
	return &Picture{ContentType: "image/svg+xml", Body: b.Bytes()}, nil
}

// WantedFile names one file.
type WantedFile struct {
	WantedPapers
	File  string `path:"file" maxLength:"200"`
	Place string `query:"place" enum:"desk,yard,saw,bench,glue-up,finish,delivery," doc:"of papers.pdf: only this place of work"`
	Show  bool   `query:"show" doc:"to look at in the browser, not to keep"`
}

func (s *Server) file(ctx context.Context, in *WantedFile) (*Download, error) {
	return s.download(ctx, in, "")
}

func (s *Server) fileIn(ctx context.Context, in *struct {
	WantedFile
	Folder string `path:"folder" enum:"drawings,outlines"`
},
) (*Download, error) {
	return s.download(ctx, &in.WantedFile, in.Folder+"/")
}

func (s *Server) download(ctx context.Context, in *WantedFile, folder string) (*Download, error) {
	p, set, err := s.printed(ctx, &in.WantedPapers)
	if err != nil {
		return nil, err
	}
	data, ok, err := set.file(folder+in.File, in.Place)
	if err != nil {
		return nil, s.problem(err)
	}
	if !ok {
		return nil, huma.Error404NotFound("There is no such file. The piece may have changed; read the list again.")
	}
	name := in.File
	if in.Place != "" {
		name = in.Place + ".pdf"
	}
	how := "attachment"
	if in.Show {
		how = "inline"
	}
	return &Download{
		ContentType: cmp.Or(kinds[path.Ext(in.File)], "application/octet-stream"),
		Disposition: mime.FormatMediaType(how, map[string]string{"filename": fileName(p.Piece.Name) + "-" + name}),
		Body:        data,
	}, nil
}

var kinds = map[string]string{
	".pdf": "application/pdf", ".svg": "image/svg+xml", ".dxf": "image/vnd.dxf", ".csv": "text/csv; charset=utf-8",
	".glb": "model/gltf-binary", ".json": "application/json", ".txt": "text/plain; charset=utf-8", ".zip": "application/zip",
}

// printed is the set of papers of a piece, composed before or now. The layouts
// on it are those of the full search.
func (s *Server) printed(ctx context.Context, in *WantedPapers) (app.Planned, *paperSet, error) {
	p, err := s.bench.SettledPlan(ctx, in.ID)
	if err != nil {
		return p, nil, s.problem(err)
	}
	opt := papers.Options{Paper: cmp.Or(in.Paper, p.Plan.Shop.Paper, "a4"), Units: in.Units, Date: s.bench.Now().Format(time.DateOnly)}
	if opt.Units == "" {
		opt.Units = "mm"
		if p.Plan.Piece.Units == unit.Imperial {
			opt.Units = "in"
		}
	}
	set := s.sets.get(setKey{p.Key, opt}, keptSets, func() *paperSet {
		return &paperSet{opt: opt, all: sync.OnceValues(func() ([]papers.File, error) { return papers.Files(p.Plan, opt) })}
	})
	if err := set.compose(p); err != nil {
		return p, nil, s.problem(err)
	}
	return p, set, nil
}

// paperSet is one composed set; its files are made when one is asked for.
type paperSet struct {
	opt             papers.Options
	once            sync.Once
	papers          []papers.Paper
	sheets          []drawing.Sheet
	templates       bool
	title, revision string
	err             error
	all             func() ([]papers.File, error)
}

// errUnfinished stands in a set until it is composed: a fault of the program
// on the way must not leave an empty set that looks finished.
var errUnfinished = errors.New("the papers of this piece could not be put together; that is a fault of the program, not yours. Take back what was changed last, and keep the text to report it")

// compose puts the set together, the first time it is asked for.
func (s *paperSet) compose(p app.Planned) error {
	s.once.Do(func() {
		s.err = errUnfinished
		s.err = s.composed(p)
	})
	return s.err
}

func (s *paperSet) composed(p app.Planned) error {
	var err error
	if s.papers, err = papers.Set(p.Plan, s.opt); err != nil {
		return err
	}
	templates, err := papers.Templates(p.Plan, s.opt)
	s.templates = len(templates) > 0
	for _, paper := range s.papers {
		s.sheets = append(s.sheets, paper.Sheets...)
	}
	s.title, s.revision = p.Piece.Name, p.Plan.Revision
	return err
}

func (s *paperSet) names() ([]string, error) {
	files, err := s.all()
	var out []string
	for _, f := range files {
		out = append(out, f.Name)
	}
	return out, err
}

// file gives a file of the set by its name, all.zip for all of them, and
// papers.pdf cut down to one place of work.
func (s *paperSet) file(name, place string) ([]byte, bool, error) {
	if place != "" && name == "papers.pdf" {
		return s.pdfOf(place)
	}
	files, err := s.all()
	if err != nil {
		return nil, false, err
	}
	if name == "all.zip" {
		data, err := zipped(files)
		return data, err == nil, err
	}
	for _, f := range files {
		if f.Name == name {
			return f.Data, true, nil
		}
	}
	return nil, false, nil
}

func (s *paperSet) pdfOf(place string) ([]byte, bool, error) {
	var sheets []drawing.Sheet
	for _, p := range s.papers {
		if string(p.Place) == place {
			sheets = append(sheets, p.Sheets...)
		}
	}
	if len(sheets) == 0 {
		return nil, false, nil
	}
	var b bytes.Buffer
	err := pdf.Write(&b, sheets, pdf.Info{Title: s.title + ": " + place, Subject: "Revision " + s.revision})
	return b.Bytes(), err == nil, err
}

// zipped packs the files; the same files give the same bytes.
func zipped(files []papers.File) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.Data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

type setKey struct {
	plan app.Key
	opt  papers.Options
}

// keptSets is how many composed sets stay in memory: one with its files takes
// a few megabytes.
const keptSets = 6
