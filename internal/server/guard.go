package server

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"casewright/internal/store"
)

type remoteKey struct{}

// remoteOf is the address a request comes from.
func remoteOf(ctx context.Context) netip.Addr {
	a, _ := ctx.Value(remoteKey{}).(netip.Addr)
	return a
}

type callerKey struct{}

// caller is the device a request comes from, and how it stands. Requests from
// this machine have none.
type caller struct {
	store.Device
	standing standing
}

// guard stands before everything else. What comes from this machine itself is
// let through, once it is sure that the maker's own pages sent it; what comes
// from elsewhere has to be a device that was let in.
func (s *Server) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		heads(w.Header())
		from, known := remoteAddr(r)
		local := known && from.IsLoopback() && !forwarded(r)
		switch {
		case !local && s.opt.LAN == nil:
			refuse(w, http.StatusForbidden, "Only the machine that runs casewright is let in. To let others in, start it with: casewright serve --lan")
			return
		case !local && !s.opt.LAN.near(from):
			refuse(w, http.StatusForbidden, "Only devices in the same network are let in.")
			return
		case !s.ours(r.Host):
			// Another site's name that leads here: its scripts must not read us.
			refuse(w, http.StatusMisdirectedRequest, "This is not the address of the workbench. Use the one it printed when it started.")
			return
		case !local && r.TLS == nil:
			secured(w, r)
			return
		case cross.Check(r) != nil || fromOtherPage(r):
			refuse(w, http.StatusForbidden, "Another page asked for this. Open the workbench itself.")
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, largestBody)
		if r.URL.Path == "/api/events" { // the only reply without an end
			c := http.NewResponseController(w)
			_ = c.SetReadDeadline(time.Time{})
			_ = c.SetWriteDeadline(time.Time{})
		}
		ctx := context.WithValue(r.Context(), remoteKey{}, from)
		if local {
			next.ServeHTTP(w, r.WithContext(ctx))
			return
		}
		s.outside(ctx, w, r, next)
	})
}

// outside serves a device in the network. The pages hold nothing of the
// maker's and are open, so that a device can be let in; the API is not.
func (s *Server) outside(ctx context.Context, w http.ResponseWriter, r *http.Request, next http.Handler) {
	d, standing := s.devices.who(ctx, r)
	ctx = context.WithValue(ctx, callerKey{}, caller{d, standing})
	open := !within(r.URL.Path, "/api") || within(r.URL.Path, "/api/join")
	switch {
	case within(r.URL.Path, "/api/devices"):
		refuse(w, http.StatusForbidden, "Devices are let in and shut out on the machine that runs casewright.")
	case standing == in:
		ctx, leave := s.devices.enter(withDevice(ctx, d.ID), d.ID)
		defer leave()
		next.ServeHTTP(w, r.WithContext(ctx))
	case open:
		next.ServeHTTP(w, r.WithContext(ctx))
	case standing == revoked:
		refuse(w, http.StatusUnauthorized, "This device was shut out. To let it in again, type a new code at /join.")
	default:
		refuse(w, http.StatusUnauthorized, "This device is not let in yet. Type the code from the laptop at /join.")
	}
}

// within says whether a path is a place or below it.
func within(path, place string) bool {
	rest, ok := strings.CutPrefix(path, place)
	return ok && (rest == "" || rest[0] == '/')
}

// remoteAddr is the other end of the connection: what no header can claim.
func remoteAddr(r *http.Request) (netip.Addr, bool) {
	ap, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return netip.Addr{}, false
	}
	return ap.Addr().Unmap(), true
}

// forwarded says that a program on this machine passes on what came from
// elsewhere. Such a request is not from this machine.
func forwarded(r *http.Request) bool {
	for _, h := range []string{"Forwarded", "X-Forwarded-For", "X-Real-Ip", "Via"} {
		if r.Header.Get(h) != "" {
			return true
		}
	}
	return false
}

// ours says whether a Host header names this machine.
func (s *Server) ours(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	if a, err := netip.ParseAddr(name); err == nil {
		return a.IsLoopback() || s.opt.LAN != nil && s.opt.LAN.isOwn(a.Unmap())
	}
	return name == "localhost" || s.opt.LAN != nil && s.opt.LAN.isName(name)
}

// fromOtherPage says that a page of another site asks the API for something,
// even if only to read. Browsers say so themselves.
func fromOtherPage(r *http.Request) bool {
	site := r.Header.Get("Sec-Fetch-Site")
	return within(r.URL.Path, "/api") && (site == "cross-site" || site == "same-site")
}

// secured sends a page asked for in the clear to where nobody can listen in.
func secured(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		refuse(w, http.StatusForbidden, "From another device the workbench is reached by https only.")
		return
	}
	w.Header().Set("Cache-Control", "no-store")
	http.Redirect(w, r, "https://"+r.Host+r.URL.RequestURI(), http.StatusTemporaryRedirect)
}

// refuse answers with one sentence, as problem+json.
func refuse(w http.ResponseWriter, status int, says string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(huma.ErrorModel{Status: status, Title: http.StatusText(status), Detail: says})
}
