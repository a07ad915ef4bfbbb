package app

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func TestTurnsAreBoundedAndAllCome(t *testing.T) {
	ts := turns{free: 2}
	var now, most, had atomic.Int32
	var wg sync.WaitGroup
	for range 40 {
		wg.Go(func() {
			for range 20 {
				if ts.take(context.Background()) != nil {
					t.Error("a turn was refused")
				}
				n := now.Add(1)
				for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
				}
				had.Add(1)
				now.Add(-1)
				ts.give()
			}
		})
	}
	wg.Wait()
	if most.Load() > 2 || had.Load() != 800 || ts.free != 2 {
		t.Errorf("%d at one time, %d turns, %d free at the end", most.Load(), had.Load(), ts.free)
	}
}

// Those who give up leave no gap and take no turn with them.
func TestTurnsGivenUp(t *testing.T) {
	ts := turns{free: 1}
	if err := ts.take(context.Background()); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			if ts.take(ctx) == nil {
				ts.give()
			}
		})
	}
	wg.Go(cancel)
	wg.Go(ts.give)
	wg.Wait()
	if ts.free != 1 || len(ts.waiting) != 0 {
		t.Errorf("%d free, %d waiting", ts.free, len(ts.waiting))
	}
}

func TestIdleWaitsForAll(t *testing.T) {
	ts := turns{free: 1}
	if err := ts.idle(context.Background()); err != nil {
		t.Fatal(err)
	}
	_ = ts.take(context.Background())
	short, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	if ts.idle(short) == nil {
		t.Error("it is idle while one works")
	}
	done := make(chan error)
	go func() { done <- ts.idle(context.Background()) }()
	ts.give()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
