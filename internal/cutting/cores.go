package cutting

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Cores are the processor cores that jobs may use beside those they run on.
// Jobs that run side by side share them. How many there are, and which are free
// at the moment, changes how long a job takes and not what it comes to: what is
// given to another core works on what nothing else changes meanwhile, and is
// taken up in the order in which one core would have done it. The nil Cores has
// none.
type Cores struct {
	one  sync.Mutex
	free int // below 0 for a moment, where one was lent and is used again
	wait []func() (run func())
	all  int
}

// NewCores has so many further cores.
func NewCores(further int) *Cores { return &Cores{free: further, all: further} }

// take takes a core if one is free.
func (c *Cores) take() bool {
	if c == nil || c.all <= 0 {
		return false
	}
	c.one.Lock()
	defer c.one.Unlock()
	if c.free <= 0 {
		return false
	}
	c.free--
	return true
}

// give gives a core back.
func (c *Cores) give() {
	c.one.Lock()
	defer c.one.Unlock()
	c.free++
	c.serve()
}

// queue has an errand wait for a core.
func (c *Cores) queue(claim func() (run func())) {
	c.one.Lock()
	defer c.one.Unlock()
	c.wait = append(c.wait, claim)
	c.serve()
}

// serve gives the cores that are free to the errands that wait, the first
// before the others.
func (c *Cores) serve() {
	for c.free > 0 && len(c.wait) > 0 {
		claim := c.wait[0]
		c.wait[0] = nil // an errand holds all it works on
		c.wait = c.wait[1:]
		if run := claim(); run != nil {
			c.free--
			go run()
		}
	}
}

// lend frees the core of who waits, until the function returned is called.
func (c *Cores) lend() (back func()) {
	c.give()
	return func() {
		c.one.Lock()
		c.free--
		c.one.Unlock()
	}
}

// Each does 0 to n-1, in order on one core, and on further ones as they are
// free. A panic on another core is the caller's: only that can say whose work it
// was.
func (c *Cores) Each(n int, do func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	var fault atomic.Pointer[fault]
	var work, mine func()
	work = func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			if i < n-1 && c.take() {
				all.Go(func() {
					defer c.give()
					mine()
				})
			}
			do(i)
		}
	}
	mine = func() {
		defer func() {
			if v := recover(); v != nil {
				next.Store(int64(n)) // nothing more is begun
				fault.CompareAndSwap(nil, faultOf(v))
			}
		}()
		work()
	}
	mine()
	all.Wait()
	if f := fault.Load(); f != nil {
		panic(f)
	}
}

// A fault is a panic on one core that is raised again on another, with where it
// was.
type fault struct {
	v     any
	stack []byte
}

func faultOf(v any) *fault {
	if f, ok := v.(*fault); ok {
		return f
	}
	return &fault{v, debug.Stack()}
}

func (f *fault) Error() string { return fmt.Sprintf("%v, at\n%s", f.v, f.stack) }

// First does 0 to n-1 as Each does, up to the first for which it is true, and
// returns that, or n. Later ones may have begun by then: past tells them that
// they are not wanted any more.
func (c *Cores) First(n int, do func(i int, past func() bool) bool) int {
	var first atomic.Int64
	first.Store(int64(n))
	c.Each(n, func(i int) {
		past := func() bool { return first.Load() < int64(i) }
		if past() || !do(i, past) {
			return
		}
		for was := first.Load(); int64(i) < was && !first.CompareAndSwap(was, int64(i)); {
			was = first.Load()
		}
	})
	return int(first.Load())
}

// An errand is work that will be wanted later. It is done on another core if
// one is free before then, else where it is wanted.
type errand[T any] struct {
	cores *Cores
	do    func() T
	taken atomic.Bool
	done  chan struct{}
	out   T
	fault *fault // what ended it
	stop  context.CancelFunc
}

// begin sets out on an errand. Nothing it works on may change before it is
// wanted or dropped.
func begin[T any](ctx context.Context, c *Cores, do func(ctx context.Context) T) *errand[T] {
	ctx, stop := context.WithCancel(ctx)
	e := &errand[T]{cores: c, done: make(chan struct{}), stop: stop, do: func() T { return do(ctx) }}
	if c != nil && c.all > 0 {
		c.queue(func() func() {
			if !e.claim() {
				return nil
			}
			return func() {
				e.run()
				c.give()
			}
		})
	}
	return e
}

// claim reports whether the errand is the caller's to do.
func (e *errand[T]) claim() bool { return e.taken.CompareAndSwap(false, true) }

func (e *errand[T]) run() {
	defer close(e.done)
	defer func() {
		if v := recover(); v != nil {
			e.fault = faultOf(v)
		}
	}()
	e.out = e.do()
}

// over reports whether it is done.
func (e *errand[T]) over() bool {
	select {
	case <-e.done:
		return true
	default:
		return false
	}
}

// want is what the errand comes to. While it is waited for, the core of who
// waits is free for others.
func (e *errand[T]) want() T {
	defer e.stop()
	if e.claim() {
		e.run()
	}
	if !e.over() {
		back := e.cores.lend()
		<-e.done
		back()
	}
	if e.fault != nil {
		panic(e.fault)
	}
	return e.out
}

// drop ends an errand whose outcome is not wanted any more.
func (e *errand[T]) drop() {
	if e == nil {
		return
	}
	if e.stop(); e.claim() {
		close(e.done)
	}
	<-e.done
}
