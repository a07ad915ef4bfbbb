package server

import (
	"bytes"
	"compress/gzip"
	"crypto/tls"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"
	"testing/fstest"

	"casewright/internal/app"
	"casewright/internal/store/storetest"
)

// bench is a server with the clock in hand. It lies in 192.168.1.0/24 as .2.
type bench struct {
	*Server
	clock *hand
	http.Handler
}

func newBench(t *testing.T, lan bool) *bench {
	t.Helper()
	clock := newHand()
	w := app.NewWorkbench(storetest.NewMemory(clock.now), clock.now)
	t.Cleanup(w.Close)
	opt := Options{Web: fstest.MapFS{
		"index.html":         {Data: []byte("<!doctype html><title>Casewright</title>")},
		"assets/main-abc.js": {Data: bytes.Repeat([]byte("let width = 17.25;\n"), 500)},
		"assets/f.woff2":     {Data: bytes.Repeat([]byte("wOF2"), 900)},
	}}
	if lan {
		opt.LAN = &LAN{Port: 8455, Name: "bench", Networks: func() []netip.Prefix {
			return []netip.Prefix{netip.MustParsePrefix("192.168.1.2/24"), netip.MustParsePrefix("203.0.113.7/28")}
		}}
		var err error
		if opt.LAN.Cert, err = OpenCertificate(t.TempDir(), clock.now, opt.LAN); err != nil {
			t.Fatal(err)
		}
	}
	s := New(w, opt)
	return &bench{s, clock, s.Handler()}
}

// ask is one request as it comes in.
type ask struct {
	method, path, from, host, body string
	header                         map[string]string
	clear                          bool // not by TLS though from elsewhere
}

func (b *bench) do(a ask) *httptest.ResponseRecorder {
	r := httptest.NewRequest(or(a.method, "GET"), "http://x"+a.path, strings.NewReader(a.body))
	r.Host = or(a.host, "localhost:8455")
	r.RemoteAddr = or(a.from, "127.0.0.1:50000")
	if a.body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for k, v := range a.header {
		r.Header.Set(k, v)
	}
	if !a.clear && !strings.HasPrefix(r.RemoteAddr, "127.") && !strings.HasPrefix(r.RemoteAddr, "[::1]") {
		r.TLS = &tls.ConnectionState{}
		if a.host == "" {
			r.Host = "192.168.1.2:8455"
		}
	}
	w := httptest.NewRecorder()
	b.ServeHTTP(w, r)
	return w
}

const fromPhone = "192.168.1.20:40000"

func TestWhoIsLetThrough(t *testing.T) {
	own := map[string]string{"Origin": "http://localhost:8455", "Sec-Fetch-Site": "same-origin"}
	tests := []struct {
		name string
		lan  bool
		ask  ask
		want int
	}{
		{"this machine", false, ask{path: "/api/pieces"}, 200},
		{"this machine, by number", false, ask{path: "/api/pieces", host: "127.0.0.1:8455"}, 200},
		{"this machine, next protocol", false, ask{path: "/api/pieces", host: "[::1]:8455", from: "[::1]:5"}, 200},
		{"this machine, number of the old in the next", false, ask{path: "/api/pieces", from: "[::ffff:127.0.0.1]:5", clear: true}, 200},
		{"this machine, no port", false, ask{path: "/api/pieces", host: "LOCALHOST."}, 200},
		{"a name that was made to lead here", false, ask{path: "/api/pieces", host: "evil.example:8455"}, 421},
		{"a name that starts like ours", false, ask{path: "/", host: "localhost.evil.example"}, 421},
		{"no name", false, ask{path: "/", host: " "}, 421},
		{"the own address while others are not let in", false, ask{path: "/", host: "192.168.1.2:8455"}, 421},
		{"from elsewhere while nobody is let in", false, ask{path: "/", from: fromPhone}, 403},
		{"passed on by a program of this machine", false, ask{path: "/", header: map[string]string{"X-Forwarded-For": "8.8.8.8"}}, 403},
		{"no address at all", false, ask{path: "/", from: "@", clear: true}, 403},

		{"a change from the own page", false, ask{method: "POST", path: "/api/devices/code", header: own}, 409},
		{"a change by a program without a page", false, ask{method: "POST", path: "/api/devices/code"}, 409},
		{"a change from another site", false, ask{method: "POST", path: "/api/devices/code", header: map[string]string{"Sec-Fetch-Site": "cross-site"}}, 403},
		{"a change from another port of this machine", false, ask{method: "POST", path: "/api/devices/code", header: map[string]string{"Sec-Fetch-Site": "same-site", "Origin": "http://localhost:3000"}}, 403},
		{"a change by an old browser from another site", false, ask{method: "DELETE", path: "/api/devices/code", header: map[string]string{"Origin": "https://evil.example"}}, 403},
		{"a change from a page without an origin", false, ask{method: "POST", path: "/api/devices/code", header: map[string]string{"Origin": "null"}}, 403},
		{"a link from another site", false, ask{path: "/", header: map[string]string{"Sec-Fetch-Site": "cross-site"}}, 200},
		{"a picture of ours in another site", false, ask{path: "/api/pieces", header: map[string]string{"Sec-Fetch-Site": "cross-site"}}, 403},
		{"an address typed", false, ask{path: "/api/pieces", header: map[string]string{"Sec-Fetch-Site": "none"}}, 200},

		{"a device not let in: the pages", true, ask{path: "/join", from: fromPhone}, 200},
		{"a device not let in: any page", true, ask{path: "/piece/x/saw", from: fromPhone}, 200},
		{"a device not let in: how it stands", true, ask{path: "/api/join", from: fromPhone}, 200},
		{"a device not let in: pieces", true, ask{path: "/api/pieces", from: fromPhone}, 401},
		{"a device not let in: events", true, ask{path: "/api/events", from: fromPhone}, 401},
		{"a device not let in: a text", true, ask{path: "/api/docs/x/text", from: fromPhone}, 401},
		{"a device not let in: the API itself", true, ask{path: "/api/openapi.json", from: fromPhone}, 401},
		{"a device not let in: a path that looks open", true, ask{path: "/api/joiner", from: fromPhone}, 401},
		{"a device not let in: way round", true, ask{path: "/api/join/../pieces", from: fromPhone}, 307},
		{"a device not let in: doubled stroke", true, ask{path: "//api/pieces", from: fromPhone}, 307},
		{"a device with a wrong secret", true, ask{path: "/api/pieces", from: fromPhone, header: map[string]string{"Cookie": cookieName + "=AAAA"}}, 401},
		{"a device asks for the list of devices", true, ask{path: "/api/devices", from: fromPhone}, 403},
		{"a device asks for a code", true, ask{method: "POST", path: "/api/devices/code", from: fromPhone}, 403},
		{"a device that says it is this machine", true, ask{path: "/api/pieces", from: fromPhone, host: "localhost:8455"}, 401},
		{"this machine by its own address in the network", true, ask{path: "/api/pieces", from: "192.168.1.2:50000"}, 401},
		{"by name", true, ask{path: "/api/join", from: fromPhone, host: "bench.local:8455"}, 200},
		{"by another's address", true, ask{path: "/api/join", from: fromPhone, host: "192.168.1.99:8455"}, 421},
		{"in the clear", true, ask{path: "/join?x=1", from: fromPhone, host: "192.168.1.2:8455", clear: true}, 307},
		{"a change in the clear", true, ask{method: "POST", path: "/api/join", from: fromPhone, host: "192.168.1.2:8455", clear: true}, 403},
		{"from the internet", true, ask{path: "/join", from: "198.51.100.9:4000"}, 403},
		{"from the next house", true, ask{path: "/join", from: "203.0.113.200:4000", host: "203.0.113.7:8455"}, 403},
		{"from the same network with public addresses", true, ask{path: "/join", from: "203.0.113.9:4000", host: "203.0.113.7:8455"}, 200},
		{"this machine while others are let in", true, ask{path: "/api/devices"}, 200},
		{"another site's page on a phone", true, ask{method: "POST", path: "/api/join", from: fromPhone, header: map[string]string{"Sec-Fetch-Site": "cross-site"}}, 403},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			w := newBench(t, test.lan).do(test.ask)
			if w.Code != test.want {
				t.Fatalf("answered %d, want %d: %s", w.Code, test.want, w.Body)
			}
			if w.Code >= 400 && strings.HasPrefix(test.ask.path, "/api") {
				var p struct{ Detail string }
				if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || !strings.HasSuffix(p.Detail, "--lan") && !strings.HasSuffix(p.Detail, ".") && !strings.HasSuffix(p.Detail, "/join.") {
					t.Errorf("no sentence in %s", w.Body)
				}
			}
		})
	}
}

// Every reply has these, refused or not.
func TestHeads(t *testing.T) {
	b := newBench(t, true)
	for _, a := range []ask{{path: "/"}, {path: "/api/pieces"}, {path: "/", host: "evil.example"}, {path: "/api/pieces", from: fromPhone}, {path: "/nothing.js"}} {
		h := b.do(a).Header()
		csp := h.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'"} {
			if !strings.Contains(csp, part) {
				t.Errorf("%+v: no %s in %q", a, part, csp)
			}
		}
		if strings.Contains(csp, "unsafe") || strings.Contains(csp, "http") || strings.Contains(csp, "*") {
			t.Errorf("the policy lets others in: %q", csp)
		}
		for name, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := h.Get(name); got != want {
				t.Errorf("%+v: %s is %q", a, name, got)
			}
		}
		if h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%+v: others may read it", a)
		}
	}
	if got := b.do(ask{path: "/api/pieces"}).Header().Get("Cache-Control"); got != "no-store" {
		t.Errorf("pieces are kept: %q", got)
	}
	if got := b.do(ask{path: "/assets/main-abc.js"}).Header().Get("Cache-Control"); !strings.Contains(got, "immutable") {
		t.Errorf("a file with its hash in its name is not kept: %q", got)
	}
	if got := b.do(ask{path: "/"}).Header().Get("Cache-Control"); got != "no-cache" {
		t.Errorf("the page is kept: %q", got)
	}
}

func TestLargeBodiesAreRefused(t *testing.T) {
	b := newBench(t, true)
	big := `{"name":"` + strings.Repeat("x", largestBody) + `","code":"12345678"}`
	for _, a := range []ask{
		{method: "POST", path: "/api/pieces", body: big},
		{method: "POST", path: "/api/join", body: big, from: fromPhone},
		{method: "POST", path: "/api/join", body: big[:5000], from: fromPhone},
	} {
		if w := b.do(a); w.Code != http.StatusRequestEntityTooLarge {
			t.Errorf("%s: answered %d", a.path, w.Code)
		}
	}
}

func TestPacking(t *testing.T) {
	b := newBench(t, false)
	gz := map[string]string{"Accept-Encoding": "br, gzip"}
	w := b.do(ask{path: "/assets/main-abc.js", header: gz})
	if w.Header().Get("Content-Encoding") != "gzip" || w.Header().Get("Vary") != "Accept-Encoding" {
		t.Fatalf("not packed: %v", w.Header())
	}
	z, err := gzip.NewReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil || len(text) != 500*19 {
		t.Errorf("unpacked to %d bytes, %v", len(text), err)
	}
	plain := []ask{
		{path: "/assets/main-abc.js"},
		{path: "/assets/main-abc.js", header: map[string]string{"Accept-Encoding": "gzip;q=0, br"}},
		{path: "/assets/main-abc.js", header: map[string]string{"Accept-Encoding": "gzip", "Range": "bytes=0-99"}},
		{path: "/assets/f.woff2", header: gz},
		{path: "/", header: gz}, // too short to be worth it
		{path: "/assets/main-abc.js", method: "HEAD", header: gz},
	}
	for _, a := range plain {
		if w := b.do(a); w.Header().Get("Content-Encoding") != "" || w.Code >= 300 {
			t.Errorf("%+v: %d, %v", a, w.Code, w.Header())
		}
	}
}

func TestTakesGzip(t *testing.T) {
	for header, want := range map[string]bool{
		"": false, "gzip": true, "br, gzip": true, "gzip;q=0": false, "gzip; q=0.5": true, "*": true, "br": false, "gzipx": false, "gzip;q=x": false,
	} {
		if got := takesGzip(header); got != want {
			t.Errorf("%q: %v", header, got)
		}
	}
}
