package app

import (
	"container/list"
	"context"
	"runtime"
	"runtime/debug"
	"sync"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/plan"
)

// kept is how many plans stay in memory: a plan of a cabinet takes a few
// hundred kilobytes. It is enough for the pages of fifty to find the plan
// they were just told of.
const kept = 96

// plans keeps the plans made last and makes each only once, however many
// pages ask for it at a time. One full search runs behind the pages; a newer
// text of the same piece puts an end to it. No more are made at one time than
// there are cores, and the search behind begins when no page waits.
type plans struct {
	work   func(context.Context, inputs, cutting.Budget) (plan.Plan, error) // nil: inputs.make
	fault  func(what any, stack []byte)                                     // told of a panic in it
	turns  turns
	cores  *cutting.Cores // shared by all plans, beside the one each runs on
	mu     sync.Mutex
	known  map[planKey]*list.Element // of *made
	order  list.List                 // last used first
	wanted map[string]search         // by piece: the full search to do next
	wake   chan struct{}
	ctx    context.Context
	stop   context.CancelFunc
	now    struct {
		piece  string
		key    Key
		cancel context.CancelFunc // nil: no search runs, or it was told to end
	}
}

type planKey struct {
	Key
	full bool
}

// made is one plan, or the making of it: done is closed when it is there.
type made struct {
	key  planKey
	done chan struct{}
	plan plan.Plan
	err  error
}

func (m *made) finished() bool {
	select {
	case <-m.done:
		return true
	default:
		return false
	}
}

type search struct {
	key  Key
	in   inputs
	tell func()
}

func (ps *plans) start() {
	if ps.work == nil {
		ps.work = func(ctx context.Context, in inputs, b cutting.Budget) (plan.Plan, error) { return in.make(ctx, b) }
	}
	ps.known = map[planKey]*list.Element{}
	ps.wanted = map[string]search{}
	ps.turns.free = runtime.GOMAXPROCS(0)
	ps.cores = cutting.NewCores(ps.turns.free - 1)
	ps.wake = make(chan struct{}, 1)
	ps.ctx, ps.stop = context.WithCancel(context.Background())
	go ps.behind()
}

// get gives a full plan if there is one; else makes a quick one, or a full
// one when asked.
func (ps *plans) get(ctx context.Context, key Key, in inputs, full bool) (plan.Plan, bool, error) {
	ps.mu.Lock()
	if el, ok := ps.known[planKey{key, true}]; ok && !full {
		m := el.Value.(*made)
		full = m.finished() && m.err == nil // else the quick one will do
	}
	m, mine := ps.entry(planKey{key, full})
	ps.mu.Unlock()
	if mine {
		ps.fill(ctx, m, in)
	}
	select {
	case <-m.done:
	case <-ctx.Done():
		return plan.Plan{}, false, ctx.Err()
	}
	if m.err == context.Canceled && ctx.Err() == nil { // another's, who went away
		return ps.get(ctx, key, in, full)
	}
	return m.plan, full, m.err
}

// has says that a plan of these texts was made.
func (ps *plans) has(key Key) bool {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	for _, full := range []bool{false, true} {
		if el, ok := ps.known[planKey{key, full}]; ok {
			if m := el.Value.(*made); m.finished() {
				return m.err == nil
			}
		}
	}
	return false
}

// entry is the plan of a key, or a place for it that the caller has to fill.
func (ps *plans) entry(k planKey) (m *made, mine bool) {
	if el, ok := ps.known[k]; ok {
		ps.order.MoveToFront(el)
		return el.Value.(*made), false
	}
	m = &made{key: k, done: make(chan struct{})}
	ps.known[k] = ps.order.PushFront(m)
	for ps.order.Len() > kept {
		ps.drop(ps.order.Back())
	}
	return m, true
}

func (ps *plans) drop(el *list.Element) {
	ps.order.Remove(el)
	delete(ps.known, el.Value.(*made).key)
}

// fill makes a plan. Whatever becomes of it, the turn is given back and those
// who wait are told.
func (ps *plans) fill(ctx context.Context, m *made, in inputs) {
	defer ps.filled(ctx, m)
	budget := quick
	if m.key.full {
		budget = cutting.Budget{}
	}
	budget.Cores = ps.cores
	if ps.turns.take(ctx) == nil {
		defer ps.turns.give()
		m.plan, m.err = ps.guarded(ctx, in, budget)
	}
}

// filled says that a plan is made. One that was cancelled is not kept, since
// its layouts are those that the search had come to by then.
func (ps *plans) filled(ctx context.Context, m *made) {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	if ctx.Err() != nil {
		m.err = context.Canceled
		if el, ok := ps.known[m.key]; ok && el.Value.(*made) == m {
			ps.drop(el)
		}
	} else if el, ok := ps.known[planKey{m.key.Key, false}]; ok && m.key.full && m.err == nil && el.Value.(*made).finished() {
		ps.drop(el) // the full plan stands in its place from now on
	}
	close(m.done)
}

// guarded works a plan out. A fault of the program in it is a problem of this
// piece: it must not end the work on all others, and the last plan that could
// be made stays in view.
func (ps *plans) guarded(ctx context.Context, in inputs, budget cutting.Budget) (p plan.Plan, err error) {
	defer func() {
		if v := recover(); v != nil {
			if ps.fault != nil {
				ps.fault(v, debug.Stack())
			}
			p, err = plan.Plan{}, document.Problems{{Says: "this piece cannot be worked out; that is a fault of the program, not yours. Take back what was changed last, and keep the text to report it."}}
		}
	}()
	return ps.work(ctx, in, budget)
}

// settle has the full plan made behind the pages; tell is called when it is
// there. Only the latest text of a piece is worked on.
func (ps *plans) settle(piece string, key Key, in inputs, tell func()) {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	if ps.now.piece == piece && ps.now.cancel != nil {
		if ps.now.key == key {
			delete(ps.wanted, piece)
			return
		}
		ps.end() // and this text, wanted again, is a search to begin anew
	}
	ps.wanted[piece] = search{key, in, tell}
	select {
	case ps.wake <- struct{}{}:
	default:
	}
}

func (ps *plans) behind() {
	for {
		select {
		case <-ps.ctx.Done():
			return
		case <-ps.wake:
		}
		for {
			if ps.turns.idle(ps.ctx) != nil {
				return
			}
			ctx, s, ok := ps.next()
			if !ok {
				break
			}
			_, _, err := ps.get(ctx, s.key, s.in, true)
			ps.mu.Lock()
			ps.end()
			ps.mu.Unlock()
			if err == nil {
				s.tell()
			}
		}
	}
}

// next takes a search that is wanted; from the same moment on it is the one
// that runs.
func (ps *plans) next() (context.Context, search, bool) {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	for piece, s := range ps.wanted { // any order: each piece has its turn
		delete(ps.wanted, piece)
		ctx, cancel := context.WithCancel(ps.ctx)
		ps.now.piece, ps.now.key, ps.now.cancel = piece, s.key, cancel
		return ctx, s, true
	}
	return nil, search{}, false
}

// end puts an end to the search that runs, if one does.
func (ps *plans) end() {
	if ps.now.cancel != nil {
		ps.now.cancel()
		ps.now.cancel = nil
	}
}
