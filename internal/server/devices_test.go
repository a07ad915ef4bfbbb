package server

import (
	"bufio"
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"
)

// joinAs has a device type a code; it gives the reply's status and cookie.
func (b *bench) joinAs(from, digits, name string) (int, string) {
	body, _ := json.Marshal(map[string]string{"code": digits, "name": name})
	w := b.do(ask{method: "POST", path: "/api/join", from: from, body: string(body)})
	cookie, _, _ := strings.Cut(w.Header().Get("Set-Cookie"), ";")
	return w.Code, cookie
}

func view[T any](t *testing.T, b *bench, a ask) T {
	t.Helper()
	var v T
	w := b.do(a)
	if w.Code != http.StatusOK {
		t.Fatalf("%s answered %d: %s", a.path, w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func (b *bench) showACode(t *testing.T) ShownCode {
	t.Helper()
	return view[ShownCode](t, b, ask{method: "POST", path: "/api/devices/code"})
}

func TestDeviceIsLetInAndShutOut(t *testing.T) {
	b := newBench(t, true)
	shown := b.showACode(t)
	if len(shown.Digits) != 9 || shown.Left != 300 || len(shown.Doors) != 2 || shown.Doors[0].URL != "https://192.168.1.2:8455/join" {
		t.Fatalf("shown: %+v", shown)
	}
	if again := view[DevicesView](t, b, ask{path: "/api/devices"}); again.Code == nil || again.Code.Digits != shown.Digits {
		t.Error("after the page is read again the code is another")
	}
	c, _ := readCode(shown.Digits)
	if status, _ := b.joinAs(fromPhone, other(c).String(), "Phone"); status != 403 {
		t.Errorf("a wrong code: %d", status)
	}
	if status, _ := b.joinAs(fromPhone, "1234", "Phone"); status != 422 {
		t.Errorf("half a code: %d", status)
	}
	if status, _ := b.joinAs("127.0.0.1:5", shown.Digits, "Laptop"); status != 409 {
		t.Errorf("the machine itself: %d", status)
	}
	status, cookie := b.joinAs(fromPhone, shown.Digits, "  Phone\nat the saw ")
	if status != 200 || !strings.HasPrefix(cookie, cookieName+"=") || len(cookie) < 50 {
		t.Fatalf("the right code: %d, %q", status, cookie)
	}
	if status, _ := b.joinAs("192.168.1.21:4", shown.Digits, "Thief"); status != 403 {
		t.Errorf("the code a second time: %d", status)
	}
	with := map[string]string{"Cookie": cookie}
	if w := b.do(ask{path: "/api/pieces", from: fromPhone, header: with}); w.Code != 200 {
		t.Errorf("let in, yet answered %d", w.Code)
	}
	if w := b.do(ask{path: "/api/devices", from: fromPhone, header: with}); w.Code != 403 {
		t.Errorf("a device let in may see to the others: %d", w.Code)
	}
	if v := view[JoinView](t, b, ask{path: "/api/join", from: fromPhone, header: with}); v.Standing != "in" || v.Name != "Phone at the saw" {
		t.Errorf("it stands %+v", v)
	}
	list := view[DevicesView](t, b, ask{path: "/api/devices"})
	if len(list.Devices) != 1 || list.Devices[0].Revoked || list.Code != nil {
		t.Fatalf("list: %+v", list)
	}
	if w := b.do(ask{method: "DELETE", path: "/api/devices/" + list.Devices[0].ID}); w.Code != 204 {
		t.Fatalf("shutting out: %d %s", w.Code, w.Body)
	}
	w := b.do(ask{path: "/api/pieces", from: fromPhone, header: with})
	if w.Code != 401 || !strings.Contains(w.Body.String(), "shut out") {
		t.Errorf("shut out, yet answered %d: %s", w.Code, w.Body)
	}
	if v := view[JoinView](t, b, ask{path: "/api/join", from: fromPhone, header: with}); v.Standing != "revoked" {
		t.Errorf("it stands %+v", v)
	}
	// It can come back with a new code.
	if status, cookie = b.joinAs(fromPhone, b.showACode(t).Digits, ""); status != 200 {
		t.Fatalf("a new code: %d", status)
	}
	with["Cookie"] = cookie
	if w := b.do(ask{path: "/api/pieces", from: fromPhone, header: with}); w.Code != 200 {
		t.Errorf("let in again, yet answered %d", w.Code)
	}
	if w := b.do(ask{method: "DELETE", path: "/api/devices/nobody"}); w.Code != 404 {
		t.Errorf("shutting nobody out: %d", w.Code)
	}
}

// The secret itself is nowhere but in the device, and its cookie is shut off
// from scripts, other sites and connections in the clear.
func TestCookie(t *testing.T) {
	b := newBench(t, true)
	body, _ := json.Marshal(map[string]string{"code": b.showACode(t).Digits, "name": "Phone"})
	head := b.do(ask{method: "POST", path: "/api/join", from: fromPhone, body: string(body)}).Header().Get("Set-Cookie")
	for _, part := range []string{"Path=/", "HttpOnly", "Secure", "SameSite=Strict", "Max-Age="} {
		if !strings.Contains(head, part) {
			t.Errorf("no %s in %q", part, head)
		}
	}
	if strings.Contains(head, "Domain") {
		t.Errorf("other hosts get it: %q", head)
	}
	ds, err := b.bench.Store.Devices(context.Background())
	if err != nil || len(ds) != 1 || len(ds[0].Token) != 32 {
		t.Fatalf("kept: %v, %v", ds, err)
	}
	if secret := head[len(cookieName)+1:]; strings.Contains(secret, string(ds[0].Token)) {
		t.Error("the secret is kept")
	}
}

func TestTooManyWrongCodes(t *testing.T) {
	b := newBench(t, true)
	shown := b.showACode(t)
	c, _ := readCode(shown.Digits)
	for range 3 {
		if status, _ := b.joinAs(fromPhone, other(c).String(), ""); status != 403 {
			t.Fatalf("a wrong code: %d", status)
		}
	}
	body, _ := json.Marshal(map[string]string{"code": shown.Digits, "name": ""})
	w := b.do(ask{method: "POST", path: "/api/join", from: fromPhone, body: string(body)})
	if w.Code != 429 || w.Header().Get("Retry-After") != "15" || !strings.Contains(w.Body.String(), "Wait 15 seconds") {
		t.Errorf("after three wrong ones: %d, %q, %s", w.Code, w.Header().Get("Retry-After"), w.Body)
	}
	b.clock.on(15 * time.Second)
	if status, _ := b.joinAs(fromPhone, shown.Digits, ""); status != 200 {
		t.Errorf("after the wait: %d", status)
	}
}

// Devices outlive a restart, those shut out too.
func TestDevicesAfterRestart(t *testing.T) {
	b := newBench(t, true)
	_, one := b.joinAs(fromPhone, b.showACode(t).Digits, "one")
	_, two := b.joinAs(fromPhone, b.showACode(t).Digits, "two")
	list := view[DevicesView](t, b, ask{path: "/api/devices"})
	b.do(ask{method: "DELETE", path: "/api/devices/" + list.Devices[0].ID})
	s := New(b.Server.bench, b.opt)
	again := &bench{s, b.clock, s.Handler()}
	codes := [2]int{}
	for i, cookie := range []string{one, two} {
		codes[i] = again.do(ask{path: "/api/pieces", from: fromPhone, header: map[string]string{"Cookie": cookie}}).Code
	}
	if codes != [2]int{401, 200} && codes != [2]int{200, 401} {
		t.Errorf("after a restart: %v", codes)
	}
}

// A stream that is open when a device is shut out ends at once.
func TestStreamIsCut(t *testing.T) {
	b := newBench(t, true)
	_, cookie := b.joinAs(fromPhone, b.showACode(t).Digits, "Phone")
	id := view[DevicesView](t, b, ask{path: "/api/devices"}).Devices[0].ID

	w := newStream()
	r, _ := http.NewRequest("GET", "http://x/api/events", nil)
	r.Host, r.RemoteAddr = "192.168.1.2:8455", fromPhone
	r.TLS = secure
	r.Header.Set("Cookie", cookie)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		b.ServeHTTP(w, r)
	}()
	if line, err := bufio.NewReader(w.out).ReadString('\n'); err != nil || !strings.Contains(line, "listening") {
		t.Fatalf("the stream begins with %q, %v", line, err)
	}
	if !view[DevicesView](t, b, ask{path: "/api/devices"}).Devices[0].Here {
		t.Error("a device with an open stream is not shown as here")
	}
	b.do(ask{method: "DELETE", path: "/api/devices/" + id})
	select {
	case <-ended:
	case <-time.After(10 * time.Second):
		t.Fatal("the stream goes on")
	}
	if view[DevicesView](t, b, ask{path: "/api/devices"}).Devices[0].Here {
		t.Error("a device shut out is shown as here")
	}
}

func TestQRPath(t *testing.T) {
	d := newBench(t, true).showACode(t).Doors[0]
	if d.Size < 21 || !strings.HasPrefix(d.Path, "M0 0h7v1h-7z") { // the finder in the corner: 7 modules (ISO/IEC 18004)
		t.Errorf("size %d, path %.40s", d.Size, d.Path)
	}
}
