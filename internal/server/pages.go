package server

import (
	"io/fs"
	"net/http"
	"path"
	"strings"
)

// registerPages puts up the built pages. Every address that is no file is
// the one page, which finds its way itself.
func (s *Server) registerPages() {
	if s.opt.Web == nil {
		return
	}
	s.mux.HandleFunc("GET /", s.page)
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if strings.HasPrefix(name, "api/") {
		http.NotFound(w, r)
		return
	}
	info, err := fs.Stat(s.opt.Web, name)
	if name == "" || err != nil || info.IsDir() {
		if path.Ext(name) != "" { // a file that is not there
			http.NotFound(w, r)
			return
		}
		name = "index.html"
	}
	if strings.HasPrefix(name, "assets/") {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	if _, err := fs.Stat(s.opt.Web, name); err != nil {
		http.Error(w, "The pages are not built into this program. Build it with: make build", http.StatusNotFound)
		return
	}
	http.ServeFileFS(w, r, s.opt.Web, name)
}
