package server

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"casewright/internal/store"
)

// cookieName is of the kind that browsers take over https only, for this
// host alone.
const cookieName = "__Host-casewright"

// seenEvery is how often it is written down that a device is there.
const seenEvery = time.Minute

// standing is how a device stands with the workbench.
type standing int

const (
	unknown standing = iota
	in
	revoked
)

// devices are those that were let in, by the hash of what they hold.
type devices struct {
	store store.Store
	now   func() time.Time
	log   *slog.Logger

	mu   sync.Mutex
	read bool // from the store
	all  map[string]*device
}

// device is one with what it has under way.
type device struct {
	store.Device
	here    int // requests and streams under way
	written time.Time
	ctx     context.Context // ends when it is shut out
	cut     context.CancelFunc
}

// load reads the devices once. It is called with mu held.
func (ds *devices) load(ctx context.Context) error {
	if ds.read {
		return nil
	}
	known, err := ds.store.Devices(ctx)
	if err != nil {
		return err
	}
	ds.all = map[string]*device{}
	for _, d := range known {
		ds.add(d)
	}
	ds.read = true
	return nil
}

func (ds *devices) add(d store.Device) {
	one := &device{Device: d, written: d.Seen}
	one.ctx, one.cut = context.WithCancel(context.Background())
	if d.Revoked {
		one.cut()
	}
	ds.all[d.ID] = one
}

// who says which device a request comes from, by the secret in its cookie.
func (ds *devices) who(ctx context.Context, r *http.Request) (store.Device, standing) {
	c, err := r.Cookie(cookieName)
	if err != nil {
		return store.Device{}, unknown
	}
	secret, err := base64.RawURLEncoding.DecodeString(c.Value)
	if err != nil || len(secret) != secretSize {
		return store.Device{}, unknown
	}
	hash := sha256.Sum256(secret)
	ds.mu.Lock()
	defer ds.mu.Unlock()
	if err := ds.load(ctx); err != nil {
		ds.log.Error("the devices cannot be read", "error", err)
		return store.Device{}, unknown
	}
	// How long this takes tells of the hash at most, which is of no use to
	// anyone who does not hold the secret.
	for _, d := range ds.all {
		if string(d.Token) != string(hash[:]) {
			continue
		}
		if d.Revoked {
			return d.Device, revoked
		}
		return d.Device, in
	}
	return store.Device{}, unknown
}

// enter notes that a device has a request under way, whose context ends when
// the device is shut out.
func (ds *devices) enter(ctx context.Context, id string) (_ context.Context, leave func()) {
	ds.mu.Lock()
	d, at := ds.all[id], ds.now()
	d.here++
	d.Seen = at
	write := at.Sub(d.written) >= seenEvery
	if write {
		d.written = at
	}
	ds.mu.Unlock()
	if write {
		if err := ds.store.Seen(ctx, id, at); err != nil {
			ds.log.Error("it could not be noted that a device was there", "error", err)
		}
	}
	ctx, cancel := context.WithCancel(ctx)
	stop := context.AfterFunc(d.ctx, cancel)
	return ctx, func() {
		stop()
		cancel()
		ds.mu.Lock()
		defer ds.mu.Unlock()
		d.here--
		d.Seen = ds.now()
	}
}

// secretSize is 256 bits.
const secretSize = 32

// admit lets a device in and gives the secret it is to hold.
func (ds *devices) admit(ctx context.Context, name string) (store.Device, string, error) {
	secret := make([]byte, secretSize)
	_, _ = rand.Read(secret) // never fails since Go 1.24
	hash := sha256.Sum256(secret)
	now := ds.now()
	d := store.Device{ID: strings.ToLower(rand.Text()[:10]), Name: name, Token: hash[:], Paired: now, Seen: now}
	ds.mu.Lock()
	defer ds.mu.Unlock()
	if err := ds.load(ctx); err != nil {
		return d, "", err
	}
	if err := ds.store.Admit(ctx, d); err != nil {
		return d, "", err
	}
	ds.add(d)
	return d, base64.RawURLEncoding.EncodeToString(secret), nil
}

// revoke shuts a device out at once: what it has under way is cut.
func (ds *devices) revoke(ctx context.Context, id string) error {
	ds.mu.Lock()
	defer ds.mu.Unlock()
	if err := ds.load(ctx); err != nil {
		return err
	}
	d := ds.all[id]
	if d == nil {
		return store.ErrMissing
	}
	if err := ds.store.Revoke(ctx, id); err != nil {
		return err
	}
	d.Revoked = true
	d.cut()
	return nil
}

// list gives all, first paired first, and which have something under way.
func (ds *devices) list(ctx context.Context) ([]store.Device, map[string]bool, error) {
	ds.mu.Lock()
	defer ds.mu.Unlock()
	if err := ds.load(ctx); err != nil {
		return nil, nil, err
	}
	known, err := ds.store.Devices(ctx) // in order
	here := map[string]bool{}
	for i, d := range known {
		if one := ds.all[d.ID]; one != nil {
			known[i].Seen, here[d.ID] = one.Seen, one.here > 0 && !one.Revoked
		}
	}
	return known, here, err
}
