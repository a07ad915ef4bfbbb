package server

import (
	"cmp"
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// LAN says that other devices of the network may be let in.
type LAN struct {
	Cert *Certificate
	Port int

	// Networks are those this machine is in, each with its own address in
	// it; nil asks the system.
	Networks func() []netip.Prefix
	// Name is what the machine is called; empty asks the system.
	Name string

	mu   sync.Mutex
	nets []netip.Prefix
	at   time.Time
}

// networksFor is how long the answer of the system is taken as true: a
// machine changes its network now and then, requests come all the time.
const networksFor = 3 * time.Second

func (l *LAN) networks() []netip.Prefix {
	if l.Networks != nil {
		return l.Networks()
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if now := time.Now(); now.Sub(l.at) > networksFor {
		l.nets, l.at = systemNetworks(), now
	}
	return l.nets
}

// systemNetworks asks the system, the likeliest to be of use first: those of
// cables and radio before those of virtual machines, the shorter addresses
// before the longer.
func systemNetworks() []netip.Prefix {
	cards, err := net.Interfaces()
	if err != nil {
		return nil
	}
	type found struct {
		netip.Prefix
		rank int
	}
	var all []found
	for _, card := range cards {
		if card.Flags&net.FlagUp == 0 || card.Flags&net.FlagLoopback != 0 {
			continue
		}
		addrs, _ := card.Addrs()
		for _, a := range addrs {
			p, err := netip.ParsePrefix(a.String())
			if err != nil || p.Addr().IsLinkLocalUnicast() { // these need the name of the card behind them
				continue
			}
			rank := 0
			if virtual(card.Name) {
				rank = 4
			}
			if p.Addr().Is6() {
				rank += 2
			}
			if !p.Addr().IsPrivate() {
				rank++
			}
			all = append(all, found{p, rank})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.rank, b.rank) })
	var out []netip.Prefix
	for _, f := range all {
		out = append(out, f.Prefix)
	}
	return out
}

func virtual(card string) bool {
	for _, start := range []string{"docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "tun", "tap", "utun"} {
		if strings.HasPrefix(card, start) {
			return true
		}
	}
	return false
}

// near says whether an address is one of a private network, or in a network
// this machine is in. What comes from anywhere else is not answered.
func (l *LAN) near(a netip.Addr) bool {
	if !a.IsValid() {
		return false
	}
	if a.IsLoopback() || a.IsPrivate() || a.IsLinkLocalUnicast() {
		return true
	}
	return slices.ContainsFunc(l.networks(), func(p netip.Prefix) bool { return p.Contains(a) })
}

func (l *LAN) isOwn(a netip.Addr) bool {
	return slices.ContainsFunc(l.networks(), func(p netip.Prefix) bool { return p.Addr() == a })
}

// addresses are those of this machine.
func (l *LAN) addresses() []netip.Addr {
	var out []netip.Addr
	for _, p := range l.networks() {
		out = append(out, p.Addr())
	}
	return out
}

// names are what the machine is called in its network.
func (l *LAN) names() []string {
	name := l.Name
	if name == "" {
		name, _ = os.Hostname()
	}
	name, _, _ = strings.Cut(strings.ToLower(name), ".")
	if name == "" || name == "localhost" {
		return nil
	}
	return []string{name, name + ".local"}
}

func (l *LAN) isName(name string) bool { return slices.Contains(l.names(), name) }
