package server

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"math/big"
	"net/netip"
	"sync"
	"time"
)

// How pairing is bounded. Eight digits are a hundred million codes; ten
// guesses at each make one in ten million, and the waits stop a machine that
// asks for more.
const (
	codeLife  = 5 * time.Minute
	codeTries = 10        // wrong ones before a code is void, from wherever
	quietTime = time.Hour // without a wrong code, after which the past is forgotten
	mostFrom  = 1000      // addresses remembered
)

// code is eight digits.
type code [8]byte

// readCode reads a code as people type it: with or without spaces and
// hyphens.
func readCode(typed string) (code, bool) {
	var c code
	n := 0
	for _, r := range typed {
		switch {
		case r == ' ' || r == '-' || r == '\t' || r == '\u00a0' || r == '\u2009' || r == '\u202f' || r == '\u2013':
			continue
		case r < '0' || r > '9' || n == len(c):
			return code{}, false
		}
		c[n] = byte(r)
		n++
	}
	return c, n == len(c)
}

func newCode() code {
	var c code
	n, _ := rand.Int(rand.Reader, big.NewInt(100_000_000)) // never fails since Go 1.24
	copy(c[:], fmt.Sprintf("%08d", n))
	return c
}

// String is the code in two groups, as it is shown.
func (c code) String() string { return string(c[:4]) + " " + string(c[4:]) }

// waits counts wrong codes and tells how long to wait after them: the wait
// doubles with every further one.
type waits struct {
	free      int           // wrong ones without a wait
	first     time.Duration // the first wait
	most      time.Duration
	wrong     int
	until, at time.Time // no try before; the last wrong one
}

func (w *waits) left(now time.Time) time.Duration { return max(w.until.Sub(now), 0) }

func (w *waits) count(now time.Time) {
	if now.Sub(w.at) > quietTime {
		w.wrong = 0
	}
	w.wrong++
	w.at = now
	if over := w.wrong - w.free; over >= 0 {
		wait := w.most
		if over < 20 { // beyond, doubling would overflow, and is past the most
			wait = min(w.first<<over, w.most)
		}
		w.until = now.Add(wait)
	}
}

// forgets says that nothing of it matters any more.
func (w *waits) forgets(now time.Time) bool { return now.Sub(w.at) > quietTime && w.left(now) == 0 }

// pairing is the code on the laptop's screen, if there is one, and what was
// tried against it.
type pairing struct {
	now func() time.Time

	mu    sync.Mutex
	code  code
	until time.Time // zero: no code is shown
	tries int       // wrong ones at this code
	all   waits
	from  map[netip.Prefix]*waits
}

func newPairing(now func() time.Time) *pairing {
	return &pairing{
		now: now, from: map[netip.Prefix]*waits{},
		all: waits{free: codeTries, first: time.Minute, most: time.Hour},
	}
}

// show makes a new code; one shown before is void.
func (p *pairing) show() (code, time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.code, p.until, p.tries = newCode(), p.now().Add(codeLife), 0
	return p.code, p.until
}

// shown is the code that counts now.
func (p *pairing) shown() (code, time.Time, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.code, p.until, p.now().Before(p.until)
}

// hide makes the code void.
func (p *pairing) hide() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.until = time.Time{}
}

// try says whether a code is the one that is shown, and uses it up if so.
// While wait is not zero nothing is compared.
func (p *pairing) try(typed code, from netip.Addr) (right bool, wait time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	one := p.waitsOf(from, now)
	if wait = max(p.all.left(now), one.left(now)); wait > 0 {
		return false, wait
	}
	same := subtle.ConstantTimeCompare(typed[:], p.code[:]) == 1
	if now.Before(p.until) && same {
		p.until = time.Time{}
		p.all.wrong, one.wrong = 0, 0
		return true, 0
	}
	p.all.count(now)
	if one != &p.all {
		one.count(now)
	}
	if p.tries++; p.tries >= codeTries {
		p.until = time.Time{}
	}
	return false, 0
}

// waitsOf are those of one address, or of one network of the next protocol,
// whose every device can take any number of addresses. When too many are
// known the wait of all counts alone.
func (p *pairing) waitsOf(from netip.Addr, now time.Time) *waits {
	bits := 32
	if from.Is6() {
		bits = 64
	}
	key, err := from.Prefix(bits)
	if err != nil {
		return &p.all
	}
	if w := p.from[key]; w != nil {
		return w
	}
	if len(p.from) >= mostFrom {
		for k, w := range p.from {
			if w.forgets(now) {
				delete(p.from, k)
			}
		}
		if len(p.from) >= mostFrom {
			return &p.all
		}
	}
	w := &waits{free: 3, first: 15 * time.Second, most: time.Hour}
	p.from[key] = w
	return w
}
