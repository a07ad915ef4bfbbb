// Package server is the door for browsers: the API over the use cases of app,
// described by an OpenAPI document, and the pages that are built into the
// program. Nothing it serves asks for anything from another machine.
package server

import (
	"io/fs"
	"log/slog"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"casewright/internal/app"
)

// Options say how a server stands.
type Options struct {
	Web     fs.FS // the built pages; nil: the API only
	Version string
	Log     *slog.Logger
	LAN     *LAN // nil: this machine only
}

// Server answers requests over one workbench.
type Server struct {
	bench *app.Workbench
	opt   Options
	api   huma.API
	mux   *http.ServeMux

	sets    recent[setKey, *paperSet]
	yards   recent[yardKey, *yardView]
	devices *devices
	pairing *pairing

	closing chan struct{} // closed when streams must end
}

// New puts all routes up. A nil workbench is allowed for the OpenAPI document
// alone.
func New(bench *app.Workbench, opt Options) *Server {
	if opt.Log == nil {
		opt.Log = slog.New(slog.DiscardHandler)
	}
	s := &Server{bench: bench, opt: opt, mux: http.NewServeMux(), closing: make(chan struct{})}
	cfg := huma.DefaultConfig("Casewright", opt.Version)
	cfg.DocsPath = ""    // that page loads scripts from elsewhere
	cfg.SchemasPath = "" // and nothing reads schemas one by one
	cfg.OpenAPIPath = "/api/openapi"
	cfg.CreateHooks = nil // no $schema in replies
	s.api = humago.New(s.mux, cfg)
	if bench != nil {
		s.devices = &devices{store: bench.Store, now: bench.Now, log: opt.Log}
		s.pairing = newPairing(bench.Now)
	}
	s.routes()
	return s
}

// Handler is the whole of it.
func (s *Server) Handler() http.Handler { return s.guard(packed(s.mux)) }

// Close ends the streams, so that the server can stop.
func (s *Server) Close() { close(s.closing) }

// OpenAPI is the document that describes the API, for the types of the pages.
func (s *Server) OpenAPI() ([]byte, error) { return s.api.OpenAPI().MarshalJSON() }
