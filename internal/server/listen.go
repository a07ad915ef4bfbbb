package server

import (
	"container/list"
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
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
		l = newBothWays(l, h.TLSConfig, s.opt.Log)
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
	log    *slog.Logger
	ready  chan net.Conn
	failed chan error
	closed chan struct{}

	mu     sync.Mutex
	silent list.List // of net.Conn: those that have shown no first byte, the oldest first
}

// mostSilent is how many connections may hang without a first byte. Browsers
// open a few to have them ready; a thousand would be all the files that the
// program may have open. One more, and the oldest is cut.
const mostSilent = 128

func newBothWays(l net.Listener, config *tls.Config, log *slog.Logger) *bothWays {
	b := &bothWays{Listener: l, config: config, log: log, ready: make(chan net.Conn), failed: make(chan error, 1), closed: make(chan struct{})}
	go b.accept()
	return b
}

// accept goes on until the listener is closed. Whatever else fails, too many
// open files or a visitor who went away, passes, and the server must not stay
// deaf after it.
func (b *bothWays) accept() {
	const least, most = 5 * time.Millisecond, time.Second
	pause := least
	for {
		c, err := b.Listener.Accept()
		switch {
		case err == nil:
			pause = least
			go b.sort(c, b.hang(c))
			continue
		case errors.Is(err, net.ErrClosed):
			b.failed <- err
			return
		}
		b.log.Warn("a connection could not be taken; trying again", "error", err, "in", pause)
		select {
		case <-time.After(pause):
		case <-b.closed:
		}
		pause = min(2*pause, most)
	}
}

// hang notes a connection that has shown nothing yet.
func (b *bothWays) hang(c net.Conn) *list.Element {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.silent.Len() >= mostSilent {
		b.silent.Remove(b.silent.Front()).(net.Conn).Close() // its Read ends
	}
	return b.silent.PushBack(c)
}

func (b *bothWays) spoke(el *list.Element) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.silent.Remove(el) // does nothing for one that was cut
}

// tlsHandshake is the first byte of a TLS connection (RFC 8446, 5.1).
const tlsHandshake = 0x16

// sort waits for the first byte. It must not hold up the connections behind.
func (b *bothWays) sort(c net.Conn, el *list.Element) {
	first := make([]byte, 1)
	_ = c.SetReadDeadline(time.Now().Add(5 * time.Second))
	n, err := c.Read(first)
	b.spoke(el)
	if n == 0 || err != nil {
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
