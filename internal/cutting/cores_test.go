package cutting

import (
	"context"
	"reflect"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"casewright/internal/unit"
)

// What a job comes to does not depend on how many cores there are: jobs of
// every kind that have work for two come out alike on one, two and four.
func TestCoresDoNotChangeLayouts(t *testing.T) {
	r := newRNG(23)
	for k := range 10 {
		job := furniture(&r, 20+r.below(30))
		job.Seed = uint64(k)
		switch k % 5 {
		case 0: // sheets filled in turn, in vain and not
			if k > 0 {
				job = crowd(&r, 98)
			}
		case 1, 2, 3: // several sizes, of which one is an offcut
			job = priced(job)
			job.Stages = []int{0, 0, 2, 3}[k%5]
		case 4: // a strip
			job.Sheets[0].H, job.Sheets[0].Stock, job.Objective = 20*unit.Metre, 1, LeastHeight
		}
		var first Result
		for _, cores := range []int{0, 1, 3} {
			got, err := Solve(context.Background(), job, Budget{Iterations: 60_000, Cores: NewCores(cores)})
			if err != nil {
				t.Fatal(err)
			}
			if got.Proven {
				got.Iterations = 0 // work that was under way when it was proven is not counted alike
			}
			if cores == 0 {
				first = got
			} else if !reflect.DeepEqual(got, first) {
				t.Errorf("job %d with %d further cores: value %d, bound %d, %d moves; on one core %d, %d, %d; or other layouts", k, cores, got.Value, got.Bound, got.Iterations, first.Value, first.Bound, first.Iterations)
			}
		}
	}
}

// A table filled on two cores is that of one.
func TestColumnsOnTwoCores(t *testing.T) {
	r := newRNG(3)
	for range 20 {
		job := furniture(&r, 26+r.below(10))
		p, _ := newProblem(job)
		g := p.grid(0, 60_000_000)
		if g == nil || g.cost() < sharedCost {
			continue
		}
		worth, most := make([]int64, len(p.types)), make([]int, len(p.types))
		for i, ty := range p.types {
			worth[i], most[i] = int64(ty.area)+int64(r.below(1000)), ty.qty
		}
		if r.below(2) == 0 {
			g.limit = most
		}
		p.cores = NewCores(1)
		g.fill(&g.sheets[0], make([]int64, len(worth)), most) // nothing is worth anything
		p.cores, g.steps = nil, 0
		g.fill(&g.sheets[0], worth, most)
		steps := g.steps
		was := append([]int64(nil), g.sheets[0].val...)
		clear(g.sheets[0].val)
		p.cores = NewCores(1)
		for range 3 { // the share moves
			g.fill(&g.sheets[0], worth, most)
			if !reflect.DeepEqual(was, g.sheets[0].val) {
				t.Fatal("another table on two cores")
			}
		}
		if share := g.sheets[0].share; !(share > 0 && share < 1) {
			t.Errorf("the share is %g", share)
		}
		if g.steps != 4*steps {
			t.Errorf("%d steps, %d on one core", g.steps-steps, 3*steps)
		}
	}
}

func TestEachDoesAllOnce(t *testing.T) {
	for _, c := range []*Cores{nil, NewCores(0), NewCores(3)} {
		var sum [50]atomic.Int32
		c.Each(len(sum), func(i int) { sum[i].Add(1) })
		for i := range sum {
			if n := sum[i].Load(); n != 1 {
				t.Errorf("%d was done %d times", i, n)
			}
		}
	}
}

func TestFirst(t *testing.T) {
	for _, c := range []*Cores{nil, NewCores(3)} {
		for want := range 12 { // 10 and more: none
			var ran [10]atomic.Int32
			got := c.First(10, func(i int, past func() bool) bool {
				ran[i].Add(1)
				if i > want {
					for !past() { // only where another core is at the one wanted
						time.Sleep(time.Microsecond)
					}
				}
				return i >= want
			})
			if got != min(want, 10) {
				t.Errorf("the first of 10 from %d on is %d", want, got)
			}
			for i := range min(want+1, 10) {
				if ran[i].Load() != 1 {
					t.Errorf("%d was done %d times, the first wanted is %d", i, ran[i].Load(), want)
				}
			}
		}
	}
}

// At no time do more errands run than there are cores, though who waits lends
// its own.
func TestNoMoreErrandsThanCores(t *testing.T) {
	c := NewCores(1)
	var now, most atomic.Int32
	var all []*errand[int]
	for range 30 {
		all = append(all, begin(context.Background(), c, func(context.Context) int {
			n := now.Add(1)
			for m := most.Load(); n > m && !most.CompareAndSwap(m, n); {
				m = most.Load()
			}
			time.Sleep(2 * time.Millisecond)
			now.Add(-1)
			return 0
		}))
	}
	for _, e := range all {
		e.want()
	}
	if n := most.Load(); n > 2 {
		t.Errorf("%d errands at one time with one further core", n)
	}
}

// What an errand worked on is given up when it is over.
func TestErrandsAreForgotten(t *testing.T) {
	c := NewCores(1)
	var freed atomic.Bool
	func() {
		big := make([]byte, 1<<20)
		runtime.AddCleanup(&big[0], func(int) { freed.Store(true) }, 0)
		begin(context.Background(), c, func(context.Context) int { return int(big[7]) }).want()
	}()
	for end := time.Now().Add(5 * time.Second); !freed.Load() && time.Now().Before(end); time.Sleep(time.Millisecond) {
		runtime.GC()
	}
	if !freed.Load() {
		t.Error("still held after the errand is over")
	}
	runtime.KeepAlive(c)
}

func TestErrands(t *testing.T) {
	ctx := context.Background()
	c := NewCores(1)
	var ran atomic.Int32
	work := func(context.Context) int { return int(ran.Add(1)) }

	// One core free, one busy: the second errand waits, and is done by whoever
	// wants it, or when the first is done.
	hold := make(chan struct{})
	first := begin(ctx, c, func(context.Context) int { <-hold; return 7 })
	second := begin(ctx, c, work)
	if got := second.want(); got != 1 {
		t.Errorf("the second comes to %d", got)
	}
	third := begin(ctx, c, work)
	close(hold)
	if got := first.want(); got != 7 {
		t.Errorf("the first comes to %d", got)
	}
	if got := third.want(); got != 2 {
		t.Errorf("the third comes to %d", got)
	}

	// One that is dropped is told so, and has ended when drop returns.
	var ended atomic.Bool
	began := make(chan struct{})
	long := begin(ctx, c, func(ctx context.Context) int {
		close(began)
		<-ctx.Done()
		time.Sleep(time.Millisecond)
		ended.Store(true)
		return 0
	})
	<-began
	long.drop()
	if !ended.Load() {
		t.Error("dropped, and still under way")
	}
	long.drop()
	never := begin(ctx, nil, work)
	never.drop()
	never.drop()
	var none *errand[int]
	none.drop()
	done := begin(ctx, nil, work)
	done.want()
	done.drop()

	// Who waits lends the core to what the errand asks for, and all come back.
	deep := begin(ctx, c, func(ctx context.Context) int {
		var two sync.WaitGroup
		n := 0
		two.Go(func() { n = begin(ctx, c, func(context.Context) int { return 5 }).want() })
		two.Wait()
		return n
	})
	if got := deep.want(); got != 5 {
		t.Errorf("an errand within an errand comes to %d", got)
	}
	for end := time.Now().Add(5 * time.Second); ; time.Sleep(time.Millisecond) {
		c.one.Lock()
		free := c.free
		c.one.Unlock()
		if free == 1 {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("%d cores are free in the end, of 1", free)
		}
	}
}
