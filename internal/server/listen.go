package server

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"
)

// Serve answers on a listener until the context ends; then it ends the
// streams, lets replies under way finish and returns.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	h := &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       time.Minute,
		WriteTimeout:      2 * time.Minute, // papers of a large piece over a slow radio
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(s.opt.Log.Handler(), slog.LevelDebug), // mostly devices that do not know the certificate yet
	}
	if s.opt.LAN != nil {
		h.TLSConfig = s.opt.LAN.Cert.config(s.opt.LAN)
		l = newBothWays(l, h.TLSConfig)
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	s.Close()
	end, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := h.Shutdown(end); err != nil {
		return errors.Join(h.Close(), ignoreLate(err))
	}
	return nil
}

// ignoreLate: a reply that takes too long is cut, which is no fault.
func ignoreLate(err error) error {
	if errors.Is(err, context.DeadlineExceeded) {
		return nil
	}
	return err
}

// bothWays takes connections in the clear and by TLS on one port, so that
// there is one address to know: the first byte of TLS is never one of HTTP.
type bothWays struct {
	net.Listener
	config *tls.Config
	ready  chan net.Conn
	failed chan error
	closed chan struct{}
}

func newBothWays(l net.Listener, config *tls.Config) *bothWays {
	b := &bothWays{l, config, make(chan net.Conn), make(chan error, 1), make(chan struct{})}
	go b.accept()
	return b
}

func (b *bothWays) accept() {
	for {
		c, err := b.Listener.Accept()
		if err != nil {
			var again net.Error
			if errors.As(err, &again) && again.Timeout() {
				continue
			}
			b.failed <- err
			return
		}
		go b.sort(c)
	}
}

// tlsHandshake is the first byte of a TLS connection (RFC 8446, 5.1).
const tlsHandshake = 0x16

// sort waits for the first byte. It must not hold up the connections behind.
func (b *bothWays) sort(c net.Conn) {
	first := make([]byte, 1)
	_ = c.SetReadDeadline(time.Now().Add(5 * time.Second))
	if n, err := c.Read(first); n == 0 || err != nil {
		c.Close()
		return
	}
	_ = c.SetReadDeadline(time.Time{})
	var sorted net.Conn = &begun{c, first}
	if first[0] == tlsHandshake {
		sorted = tls.Server(sorted, b.config)
	}
	select {
	case b.ready <- sorted:
	case <-b.closed:
		c.Close()
	}
}

func (b *bothWays) Accept() (net.Conn, error) {
	select {
	case c := <-b.ready:
		return c, nil
	case err := <-b.failed:
		return nil, err
	}
}

func (b *bothWays) Close() error {
	select {
	case <-b.closed:
	default:
		close(b.closed)
	}
	return b.Listener.Close()
}

// begun is a connection whose first byte was read already.
type begun struct {
	net.Conn
	first []byte
}

func (c *begun) Read(p []byte) (int, error) {
	if len(c.first) > 0 && len(p) > 0 {
		n := copy(p, c.first)
		c.first = c.first[n:]
		return n, nil
	}
	return c.Conn.Read(p)
}
