package server

import (
	"container/list"
	"sync"
)

// recent keeps what was asked for last, each by its key.
type recent[K comparable, V any] struct {
	mu    sync.Mutex
	known map[K]*list.Element
	order list.List // of keyed, last used first
}

type keyed[K comparable, V any] struct {
	key   K
	value V
}

// get gives what is kept under a key, or begins it; no more than most stay.
func (c *recent[K, V]) get(key K, most int, begin func() V) V {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.known == nil {
		c.known = map[K]*list.Element{}
	}
	if e, ok := c.known[key]; ok {
		c.order.MoveToFront(e)
		return e.Value.(keyed[K, V]).value
	}
	k := keyed[K, V]{key, begin()}
	c.known[key] = c.order.PushFront(k)
	if c.order.Len() > most {
		last := c.order.Back()
		delete(c.known, last.Value.(keyed[K, V]).key)
		c.order.Remove(last)
	}
	return k.value
}
