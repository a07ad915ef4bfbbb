package app

import "sync"

// Event tells the pages in view that a document, its ticks or its plan have
// moved on.
type Event struct {
	Doc     string `json:"doc"`
	Kind    string `json:"kind" enum:"document,ticks,plan" doc:"what has moved on"`
	Version int64  `json:"version"`
	Device  string `json:"device,omitempty" doc:"the device it came from; empty for this machine"`
}

// bell rings for everyone who listens. A listener too slow to keep up misses
// events and is told so by a closed channel; it then reads everything anew.
type bell struct {
	mu        sync.Mutex
	listeners map[chan Event]bool
}

func (b *bell) listen() (events <-chan Event, leave func()) {
	ch := make(chan Event, 64)
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.listeners == nil {
		b.listeners = map[chan Event]bool{}
	}
	b.listeners[ch] = true
	return ch, func() { b.drop(ch) }
}

func (b *bell) drop(ch chan Event) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.listeners[ch] {
		delete(b.listeners, ch)
		close(ch)
	}
}

func (b *bell) ring(e Event) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for ch := range b.listeners {
		select {
		case ch <- e:
		default:
			delete(b.listeners, ch)
			close(ch)
		}
	}
}
