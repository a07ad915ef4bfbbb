package server

import (
	"compress/gzip"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"sync"
)

// shortest is the length in bytes from which packing is worth it.
const shortest = 1024

// packers are used again: each holds some hundred kilobytes.
var packers = sync.Pool{New: func() any {
	z, _ := gzip.NewWriterLevel(io.Discard, 5) // the level is a valid one
	return z
}}

// packed sends text by gzip to those who take it.
func packed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p := &packer{ResponseWriter: w, takes: r.Method != http.MethodHead && takesGzip(r.Header.Get("Accept-Encoding"))}
		defer p.close()
		next.ServeHTTP(p, r)
	})
}

// takesGzip reads an Accept-Encoding header.
func takesGzip(header string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(part, ";")
		if name = strings.TrimSpace(name); name != "gzip" && name != "*" {
			continue
		}
		_, q, given := strings.Cut(strings.ReplaceAll(weight, " ", ""), "q=")
		if !given {
			return true
		}
		f, err := strconv.ParseFloat(q, 64)
		return err == nil && f > 0
	}
	return false
}

// packer decides, once the head of the reply is known, whether to pack.
type packer struct {
	http.ResponseWriter
	takes   bool // the other side does
	decided bool
	z       *gzip.Writer // nil: as it is
}

func (p *packer) WriteHeader(status int) {
	if status >= 200 && !p.decided {
		p.decide(status)
	}
	p.ResponseWriter.WriteHeader(status)
}

func (p *packer) decide(status int) {
	p.decided = true
	h := p.Header()
	kind, _, _ := mime.ParseMediaType(h.Get("Content-Type"))
	if kind == "application/pdf" {
		h.Del("Content-Security-Policy") // it stops the viewers of some browsers, and no script runs there
	}
	if !text(kind) || h.Get("Content-Encoding") != "" {
		return
	}
	h.Add("Vary", "Accept-Encoding")
	if n, err := strconv.Atoi(h.Get("Content-Length")); err == nil && n < shortest {
		return
	}
	bodyless := status == http.StatusNoContent || status == http.StatusNotModified || status == http.StatusPartialContent
	if !p.takes || bodyless {
		return
	}
	h.Del("Content-Length")
	h.Del("Accept-Ranges")
	h.Set("Content-Encoding", "gzip")
	p.z = packers.Get().(*gzip.Writer)
	p.z.Reset(p.ResponseWriter)
}

// text says whether a kind of content gets shorter by packing. A stream of
// events does not go through a packer, which would hold events back.
func text(kind string) bool {
	switch {
	case kind == "text/event-stream":
		return false
	case strings.HasPrefix(kind, "text/"), strings.HasSuffix(kind, "+json"), strings.HasSuffix(kind, "+xml"):
		return true
	}
	switch kind {
	case "application/json", "application/javascript", "application/yaml", "application/xml",
		"application/manifest+json", "model/gltf-binary", "image/vnd.dxf":
		return true
	}
	return false
}

func (p *packer) Write(b []byte) (int, error) {
	if !p.decided {
		if p.Header().Get("Content-Type") == "" {
			p.Header().Set("Content-Type", http.DetectContentType(b))
		}
		p.WriteHeader(http.StatusOK)
	}
	if p.z != nil {
		return p.z.Write(b)
	}
	return p.ResponseWriter.Write(b)
}

// FlushError sends what was written so far.
func (p *packer) FlushError() error {
	if p.z != nil {
		if err := p.z.Flush(); err != nil {
			return err
		}
	}
	return http.NewResponseController(p.ResponseWriter).Flush()
}

// Unwrap lets http.ResponseController reach what is below.
func (p *packer) Unwrap() http.ResponseWriter { return p.ResponseWriter }

func (p *packer) close() {
	if p.z == nil {
		return
	}
	_ = p.z.Close() // the other side has gone: there is nobody to tell
	packers.Put(p.z)
	p.z = nil
}
