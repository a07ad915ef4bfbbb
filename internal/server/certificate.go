package server

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// Certificate is what other devices know this machine by. An authority is
// made once; it may speak for this machine and private networks only, so that
// a device that trusts it trusts it for nothing else. It signs the
// certificate of the server, which is renewed as addresses change.
type Certificate struct {
	dir string
	now func() time.Time

	mu        sync.Mutex
	authority *tls.Certificate
	server    *tls.Certificate
}

// How long the two are good for. Some devices refuse servers' certificates of
// more than about a year.
const (
	authorityLife = 10 * 365 * 24 * time.Hour
	serverLife    = 365 * 24 * time.Hour
	renewBefore   = 30 * 24 * time.Hour
)

// OpenCertificate reads the certificates in a folder, or makes them for a
// machine with these names and networks.
func OpenCertificate(dir string, now func() time.Time, l *LAN) (*Certificate, error) {
	c := &Certificate{dir: dir, now: now}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("the folder %s for certificates cannot be made: %w", dir, err)
	}
	var err error
	if c.authority, err = readPair(c.file("authority")); errors.Is(err, fs.ErrNotExist) {
		c.authority, err = c.makeAuthority(l)
	}
	if err != nil {
		return nil, err
	}
	if c.server, err = readPair(c.file("server")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	return c, c.cover(l)
}

func (c *Certificate) file(what string) string { return filepath.Join(c.dir, what+".pem") }

// cover renews the server's certificate if it does not hold for an address or
// a name of now, or not for long. Earlier addresses stay in it: a machine
// comes back to them.
func (c *Certificate) cover(l *LAN) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	names, addrs := l.names(), c.permitted(l.addresses())
	now := c.now()
	if c.server != nil {
		leaf := c.server.Leaf
		lasts := now.After(leaf.NotBefore) && now.Before(leaf.NotAfter.Add(-renewBefore)) &&
			leaf.CheckSignatureFrom(c.authority.Leaf) == nil
		had := addrsOf(leaf)
		missing := slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(leaf.DNSNames, n) }) ||
			slices.ContainsFunc(addrs, func(a netip.Addr) bool { return !slices.Contains(had, a) })
		if lasts && !missing {
			return nil
		}
		for _, a := range had {
			if len(addrs) < mostAddrs && !slices.Contains(addrs, a) {
				addrs = append(addrs, a)
			}
		}
	}
	made, err := c.makeServer(names, c.permitted(addrs))
	if err == nil {
		c.server = made
	}
	return err
}

// mostAddrs bounds how many addresses a certificate holds for.
const mostAddrs = 32

// permitted are the addresses the authority may speak for, and loopback's
// never.
func (c *Certificate) permitted(as []netip.Addr) []netip.Addr {
	var out []netip.Addr
	for _, a := range as {
		if slices.ContainsFunc(c.authority.Leaf.PermittedIPRanges, func(n *net.IPNet) bool { return n.Contains(a.AsSlice()) }) {
			out = append(out, a)
		}
	}
	return out
}

func addrsOf(leaf *x509.Certificate) []netip.Addr {
	var out []netip.Addr
	for _, ip := range leaf.IPAddresses {
		if a, ok := netip.AddrFromSlice(ip); ok {
			out = append(out, a.Unmap())
		}
	}
	return out
}

// private are the networks that are nobody's in particular (RFC 1918, RFC
// 3927, RFC 4193, RFC 4291).
var private = []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "fc00::/7", "fe80::/10"}

func (c *Certificate) makeAuthority(l *LAN) (*tls.Certificate, error) {
	names := l.names()
	if len(names) == 0 {
		names = []string{"casewright.local"}
	}
	t := template(c.now(), authorityLife, "Casewright on "+names[0])
	t.IsCA, t.BasicConstraintsValid = true, true
	t.MaxPathLenZero = true
	t.KeyUsage = x509.KeyUsageCertSign
	t.PermittedDNSDomainsCritical = true
	t.PermittedDNSDomains = names
	ranges := private
	for _, p := range l.networks() {
		ranges = append(ranges[:len(ranges):len(ranges)], p.Masked().String())
	}
	for _, r := range ranges {
		if _, n, err := net.ParseCIDR(r); err == nil {
			t.PermittedIPRanges = append(t.PermittedIPRanges, n)
		}
	}
	return sign(c.file("authority"), t, nil)
}

func (c *Certificate) makeServer(names []string, addrs []netip.Addr) (*tls.Certificate, error) {
	t := template(c.now(), serverLife, "Casewright")
	t.KeyUsage = x509.KeyUsageDigitalSignature
	t.ExtKeyUsage = []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}
	// A name the authority was not made for would make all of it void.
	for _, n := range names {
		if slices.ContainsFunc(c.authority.Leaf.PermittedDNSDomains, func(d string) bool { return n == d || strings.HasSuffix(n, "."+d) }) {
			t.DNSNames = append(t.DNSNames, n)
		}
	}
	for _, a := range addrs {
		t.IPAddresses = append(t.IPAddresses, a.AsSlice())
	}
	return sign(c.file("server"), t, c.authority)
}

func template(now time.Time, life time.Duration, name string) *x509.Certificate {
	serial, _ := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120)) // never fails since Go 1.24
	return &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: name},
		NotBefore: now.Add(-24 * time.Hour), // the clocks of devices differ
		NotAfter:  now.Add(life),
	}
}

// sign makes a key, has the certificate signed by a parent or by itself, and
// keeps both in one file that only its owner can read.
func sign(file string, t *x509.Certificate, parent *tls.Certificate) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	by, with := t, any(key)
	if parent != nil {
		by, with = parent.Leaf, parent.PrivateKey
	}
	der, err := x509.CreateCertificate(rand.Reader, t, by, &key.PublicKey, with)
	if err != nil {
		return nil, err
	}
	keyDER, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	_ = pem.Encode(&text, &pem.Block{Type: "CERTIFICATE", Bytes: der}) // a buffer takes everything
	_ = pem.Encode(&text, &pem.Block{Type: "PRIVATE KEY", Bytes: keyDER})
	if err := os.WriteFile(file+".part", text.Bytes(), 0o600); err != nil {
		return nil, err
	}
	if err := os.Rename(file+".part", file); err != nil {
		return nil, err
	}
	return readPair(file)
}

func readPair(file string) (*tls.Certificate, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	c, err := tls.X509KeyPair(text, text)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be used (%w); delete it to have a new one made, which the devices then have to accept again", file, err)
	}
	return &c, nil
}

// config is how the server speaks with other devices.
func (c *Certificate) config(l *LAN) *tls.Config {
	return &tls.Config{
		MinVersion: tls.VersionTLS12,
		NextProtos: []string{"h2", "http/1.1"},
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
			err := c.cover(l)
			c.mu.Lock()
			defer c.mu.Unlock()
			return c.server, err
		},
	}
}

// fingerprint is the SHA-256 of the server's certificate, as browsers show it.
func (c *Certificate) fingerprint() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return fingerprint(c.server.Leaf.Raw)
}

func fingerprint(der []byte) string {
	var groups []string
	for _, b := range sha256.Sum256(der) {
		groups = append(groups, fmt.Sprintf("%02X", b))
	}
	return strings.Join(groups, " ")
}
