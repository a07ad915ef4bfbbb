package server

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

var secure = &tls.ConnectionState{}

// stream is a reply that can be read while it is written.
type stream struct {
	head http.Header
	out  *io.PipeReader
	in   *io.PipeWriter
}

func newStream() *stream {
	out, in := io.Pipe()
	return &stream{http.Header{}, out, in}
}

func (s *stream) Header() http.Header         { return s.head }
func (s *stream) WriteHeader(int)             {}
func (s *stream) Write(b []byte) (int, error) { return s.in.Write(b) }
func (s *stream) Flush()                      {}

// serving starts a server on a real port of this machine and gives its port
// and how to stop it.
func serving(t *testing.T, b *bench) (port string, stop func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- b.Serve(ctx, l) }()
	_, port, _ = net.SplitHostPort(l.Addr().String())
	return port, func() error {
		cancel()
		select {
		case err := <-ended:
			return err
		case <-time.After(10 * time.Second):
			t.Fatal("it does not stop")
			return nil
		}
	}
}

func TestStopEndsStreams(t *testing.T) {
	port, stop := serving(t, newBench(t, false))
	reply, err := http.Get("http://127.0.0.1:" + port + "/api/events")
	if err != nil {
		t.Fatal(err)
	}
	defer reply.Body.Close()
	if enc := reply.Header.Get("Content-Encoding"); enc != "" {
		t.Errorf("events are held back by %s", enc)
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
	if _, err := io.ReadAll(reply.Body); err != nil {
		t.Errorf("the stream did not end well: %v", err)
	}
}

// One port speaks both ways; by TLS it shows a certificate that a device
// which was told to trust the authority accepts.
func TestBothWays(t *testing.T) {
	b := newBench(t, true)
	port, stop := serving(t, b)
	defer stop()
	if silent, err := net.Dial("tcp", "127.0.0.1:"+port); err == nil { // says nothing and holds nobody up
		defer silent.Close()
	}
	get := func(scheme string, trust *x509.CertPool, name string) (*http.Response, error) {
		tr := &http.Transport{
			TLSClientConfig: &tls.Config{RootCAs: trust, ServerName: name},
			DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
				return (&net.Dialer{}).DialContext(ctx, network, "127.0.0.1:"+port)
			},
			ForceAttemptHTTP2: true,
		}
		t.Cleanup(tr.CloseIdleConnections)
		return (&http.Client{Transport: tr}).Get(scheme + "://localhost:" + port + "/api/join")
	}
	reply, err := get("http", nil, "")
	if err != nil || reply.StatusCode != 200 {
		t.Fatalf("in the clear: %v, %v", reply, err)
	}
	reply.Body.Close()
	pool := x509.NewCertPool()
	pool.AddCert(b.opt.LAN.Cert.authority.Leaf)
	for _, name := range []string{"bench", "bench.local", "192.168.1.2"} {
		reply, err = get("https", pool, name)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		reply.Body.Close()
		if reply.StatusCode != 200 || reply.ProtoMajor != 2 {
			t.Errorf("%s: %s by %s", name, reply.Status, reply.Proto)
		}
	}
	if _, err := get("https", pool, "another.local"); err == nil {
		t.Error("the certificate holds for another name")
	}
	if _, err := get("https", x509.NewCertPool(), "bench"); err == nil {
		t.Error("the certificate holds without the authority")
	}
}

// faulty fails at times before it takes a connection.
type faulty struct {
	net.Listener
	faults []error
}

func (f *faulty) Accept() (net.Conn, error) {
	if len(f.faults) > 0 {
		err := f.faults[0]
		f.faults = f.faults[1:]
		return nil, &net.OpError{Op: "accept", Net: "tcp", Err: os.NewSyscallError("accept", err)}
	}
	return f.Listener.Accept()
}

// Too many open files, or a visitor who went away, must not make the server
// deaf for good; only closing ends it.
func TestListenGoesOnAfterFaults(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	b := newBothWays(&faulty{l, []error{syscall.EMFILE, syscall.ECONNABORTED, errors.New("something new")}}, nil, slog.New(slog.DiscardHandler))
	go func() {
		c, err := net.Dial("tcp", l.Addr().String())
		if err == nil {
			defer c.Close()
			_, _ = c.Write([]byte("GET"))
			_, _ = io.ReadAll(c)
		}
	}()
	type taken struct {
		c   net.Conn
		err error
	}
	got := make(chan taken, 1)
	take := func() { c, err := b.Accept(); got <- taken{c, err} }
	go take()
	select {
	case x := <-got:
		if x.err != nil {
			t.Fatal(x.err)
		}
		x.c.Close()
	case <-time.After(5 * time.Second):
		t.Fatal("nobody is let in any more")
	}
	b.Close()
	go take()
	select {
	case x := <-got:
		if !errors.Is(x.err, net.ErrClosed) {
			t.Errorf("closed, it gives %v", x.err)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("it does not end when it is closed")
	}
}

// Those who say nothing are cut, the oldest first, before they take all the
// files the program may open.
func TestFewHangSilent(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	b := newBothWays(l, nil, slog.New(slog.DiscardHandler))
	defer b.Close()
	var all []net.Conn
	for range mostSilent + 1 {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		all = append(all, c)
	}
	_ = all[0].SetReadDeadline(time.Now().Add(3 * time.Second)) // less than silence is borne
	if _, err := all[0].Read(make([]byte, 1)); err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
		t.Errorf("the oldest still hangs: %v", err)
	}
	last := all[mostSilent]
	if _, err := last.Write([]byte("GET")); err != nil {
		t.Fatal(err)
	}
	c, err := b.Accept()
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if c.RemoteAddr().String() != last.LocalAddr().String() {
		t.Error("it is not the one who spoke")
	}
}

func TestCertificateIsKeptAndRenewed(t *testing.T) {
	clock, dir := newHand(), t.TempDir()
	nets := []netip.Prefix{netip.MustParsePrefix("192.168.1.2/24")}
	l := &LAN{Name: "bench", Networks: func() []netip.Prefix { return nets }}
	open := func() *Certificate {
		t.Helper()
		c, err := OpenCertificate(dir, clock.now, l)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	first := open()
	if open().fingerprint() != first.fingerprint() {
		t.Error("a restart makes a new certificate")
	}
	nets = append(nets, netip.MustParsePrefix("10.0.0.9/8"))
	moved := open()
	if moved.fingerprint() == first.fingerprint() {
		t.Error("a new address does not make a new certificate")
	}
	nets = nets[:1]
	if open().fingerprint() != moved.fingerprint() {
		t.Error("coming back to an address makes a new certificate")
	}
	// A public network that came later: the authority may not speak for it,
	// and the rest must still hold.
	nets = append(nets, netip.MustParsePrefix("203.0.113.7/24"))
	later := open()
	if later.server.Leaf.VerifyHostname("203.0.113.7") == nil {
		t.Error("the certificate holds for a network the authority was not made for")
	}
	verify := func(c *Certificate, name string) error {
		pool := x509.NewCertPool()
		pool.AddCert(first.authority.Leaf)
		_, err := c.server.Leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: name, CurrentTime: clock.now()})
		return err
	}
	for _, name := range []string{"192.168.1.2", "10.0.0.9", "bench.local"} {
		if err := verify(later, name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	clock.on(serverLife - renewBefore + time.Hour)
	if renewed := open(); renewed.fingerprint() == later.fingerprint() || verify(renewed, "bench") != nil {
		t.Error("it is not renewed before it ends")
	}
	// Nobody else may read the keys.
	for _, what := range []string{"authority", "server"} {
		info, err := os.Stat(filepath.Join(dir, what+".pem"))
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v", what, info, err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "server.pem"), []byte("spoilt"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenCertificate(dir, clock.now, l); err == nil || !strings.Contains(err.Error(), "delete it") {
		t.Errorf("a spoilt file: %v", err)
	}
}

// What a device trusts for the workbench it must trust for nothing else.
func TestAuthorityIsNarrow(t *testing.T) {
	b := newBench(t, true)
	c := b.opt.LAN.Cert
	bad := template(b.clock.now(), serverLife, "Bank")
	bad.DNSNames = []string{"bank.example"}
	bad.ExtKeyUsage = []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}
	forged, err := sign(filepath.Join(t.TempDir(), "forged"), bad, c.authority)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(c.authority.Leaf)
	if _, err := forged.Leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: "bank.example", CurrentTime: b.clock.now()}); err == nil {
		t.Error("the authority can speak for a bank")
	}
}
