package server

import (
	"fmt"
	"net/netip"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// hand is a clock that is set by hand.
type hand struct {
	mu sync.Mutex
	at time.Time
}

func newHand() *hand { return &hand{at: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)} }

func (h *hand) now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.at
}

func (h *hand) on(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.at = h.at.Add(d)
}

var (
	phone  = netip.MustParseAddr("192.168.1.20")
	tablet = netip.MustParseAddr("192.168.1.21")
)

// other is a code that is not c.
func other(c code) code {
	c[7] = '0' + (c[7]-'0'+1)%10
	return c
}

func TestReadCode(t *testing.T) {
	for typed, want := range map[string]string{
		"12345678": "12345678", "1234 5678": "12345678", "1234-5678": "12345678", " 0000\u00a00001 ": "00000001",
		"1 2 3 4 5 6 7 8": "12345678", "": "", "1234567": "", "123456789": "", "1234567a": "", "１２３４５６７８": "", "1234+5678": "", "-": "",
	} {
		c, ok := readCode(typed)
		if ok != (want != "") || ok && string(c[:]) != want {
			t.Errorf("%q is read as %q, %v; want %q", typed, c[:], ok, want)
		}
	}
	for range 1000 {
		c := newCode()
		if back, ok := readCode(c.String()); !ok || back != c {
			t.Fatalf("%q is read as %q, %v", c, back, ok)
		}
	}
}

func FuzzReadCode(f *testing.F) {
	for _, s := range []string{"12345678", "1234 5678", "1234-56", "\xff1", "９9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		c, ok := readCode(typed)
		if !ok {
			return
		}
		for _, b := range c {
			if b < '0' || b > '9' {
				t.Fatalf("%q is read as %q", typed, c[:])
			}
		}
		if digits := strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, typed); digits != string(c[:]) {
			t.Fatalf("%q is read as %q", typed, c[:])
		}
		if again, ok := readCode(c.String()); !ok || again != c {
			t.Fatalf("%q is read as %q", c, again)
		}
	})
}

func TestCodeCountsOnceAndNotForLong(t *testing.T) {
	clock := newHand()
	p := newPairing(clock.now)
	try := func(c code) bool {
		t.Helper()
		right, wait := p.try(c, phone)
		if wait > 0 {
			t.Fatalf("made to wait %v", wait)
		}
		return right
	}
	if try(code{}) || try(code{'0', '0', '0', '0', '0', '0', '0', '0'}) {
		t.Error("let in before any code was shown")
	}
	p = newPairing(clock.now)
	c, _ := p.show()
	clock.on(codeLife - time.Second)
	if !try(c) {
		t.Error("the code was refused in its last second")
	}
	if try(c) {
		t.Error("the code counted twice")
	}
	if _, _, shown := p.shown(); shown {
		t.Error("a code that was used is still shown")
	}
	c, _ = p.show()
	clock.on(codeLife)
	if try(c) {
		t.Error("the code counted after its time")
	}
	p = newPairing(clock.now)
	old, _ := p.show()
	c, _ = p.show()
	if old != c && try(old) {
		t.Error("a code counted after a newer one was shown")
	}
	p.hide()
	if try(c) {
		t.Error("the code counted after it was put away")
	}
}

// The wait of one address doubles with every wrong code, and a right one
// meanwhile is not even looked at.
func TestWaitsGrow(t *testing.T) {
	clock := newHand()
	p := newPairing(clock.now)
	c, _ := p.show()
	var waits []time.Duration
	for range 8 {
		p.mu.Lock()
		p.tries = 0 // the same code all the time
		p.until = clock.now().Add(codeLife)
		p.mu.Unlock()
		if right, wait := p.try(other(c), phone); right || wait > 0 {
			t.Fatalf("right %v, wait %v", right, wait)
		}
		right, wait := p.try(c, phone)
		if wait == 0 {
			if !right {
				t.Fatal("the right code was refused without a wait")
			}
			c, _ = p.show()
			p.from[netip.PrefixFrom(phone, 32)].wrong = len(waits) + 1 // as if the right one had not come
		}
		waits = append(waits, wait)
		clock.on(wait)
	}
	want := "[0s 0s 15s 30s 1m0s 2m0s 4m0s 8m0s]"
	if fmt.Sprint(waits) != want {
		t.Errorf("waits %v, want %v", waits, want)
	}
	clock.on(-8 * time.Minute)
	if right, wait := p.try(c, tablet); wait > 0 || !right {
		t.Errorf("another address waits %v too", wait)
	}
	clock.on(2 * time.Hour)
	if _, wait := p.try(other(c), phone); wait > 0 {
		t.Errorf("after two quiet hours it still waits %v", wait)
	}
	if _, wait := p.try(other(c), phone); wait > 0 {
		t.Errorf("after two quiet hours the second one waits %v", wait)
	}
}

// Guessing from many addresses voids the code and then stops for all.
func TestManyAddresses(t *testing.T) {
	clock := newHand()
	p := newPairing(clock.now)
	c, _ := p.show()
	for i := range codeTries {
		if right, wait := p.try(other(c), netip.AddrFrom4([4]byte{10, 0, 0, byte(i)})); right || wait > 0 {
			t.Fatalf("guess %d: right %v, wait %v", i, right, wait)
		}
	}
	if _, _, shown := p.shown(); shown {
		t.Error("the code is still shown")
	}
	if _, wait := p.try(c, tablet); wait != time.Minute {
		t.Errorf("all wait %v, want a minute", wait)
	}
	clock.on(time.Minute)
	if right, _ := p.try(c, tablet); right {
		t.Error("the void code let a device in")
	}
	if _, wait := p.try(c, tablet); wait != 2*time.Minute {
		t.Errorf("then all wait %v, want two minutes", wait)
	}
	clock.on(2 * time.Minute)
	c, _ = p.show()
	if right, wait := p.try(c, phone); !right || wait > 0 {
		t.Errorf("a new code after the wait: %v, %v", right, wait)
	}
}

// A device has 2^64 addresses of its own in the next protocol.
func TestOneNetworkOfTheNextProtocol(t *testing.T) {
	p := newPairing(newHand().now)
	c, _ := p.show()
	for i := range 3 {
		p.try(other(c), netip.MustParseAddr(fmt.Sprintf("fd00:1:2:3::%d", i+1)))
	}
	if _, wait := p.try(c, netip.MustParseAddr("fd00:1:2:3:ffff::9")); wait == 0 {
		t.Error("the next address of the same device does not wait")
	}
	if right, _ := p.try(c, netip.MustParseAddr("fd00:1:2:4::1")); !right {
		t.Error("another network waits too")
	}
}

func TestAddressesAreForgotten(t *testing.T) {
	clock := newHand()
	p := newPairing(clock.now)
	for i := range 3 * mostFrom {
		p.try(code{}, netip.AddrFrom4([4]byte{10, byte(i >> 16), byte(i >> 8), byte(i)}))
		clock.on(2 * time.Hour / mostFrom)
	}
	if n := len(p.from); n > mostFrom {
		t.Errorf("%d addresses are remembered", n)
	}
	p.try(code{}, netip.Addr{}) // none at all counts with all
}

// However many try the right code at a time, one is let in.
func TestRaceForTheCode(t *testing.T) {
	p := newPairing(newHand().now)
	c, _ := p.show()
	var in atomic.Int32
	var wg sync.WaitGroup
	for i := range 50 {
		wg.Go(func() {
			if right, _ := p.try(c, netip.AddrFrom4([4]byte{10, 1, 0, byte(i)})); right {
				in.Add(1)
			}
		})
	}
	wg.Wait()
	if in.Load() != 1 {
		t.Errorf("%d were let in by one code", in.Load())
	}
}
