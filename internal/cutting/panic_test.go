package cutting

import (
	"context"
	"fmt"
	"strings"
	"testing"
)

// A panic on another core ends in whoever waits, not the program.
func TestPanicIsTheCallers(t *testing.T) {
	caught := func(do func()) (says string) {
		defer func() {
			if v := recover(); v != nil {
				says, _, _ = strings.Cut(fmt.Sprint(v), ",")
			}
		}()
		do()
		return ""
	}
	for range 50 {
		c := NewCores(3)
		if v := caught(func() {
			c.Each(40, func(i int) {
				if i%7 == 3 {
					panic("boom")
				}
			})
		}); v != "boom" {
			t.Fatalf("Each: %v", v)
		}
		e := begin(context.Background(), c, func(context.Context) int { panic("bang") })
		if v := caught(func() { e.want() }); v != "bang" {
			t.Fatalf("want: %v", v)
		}
		d := begin(context.Background(), c, func(context.Context) int { panic("bang") })
		if v := caught(d.drop); v != "" {
			t.Fatalf("drop: %v", v)
		}
		n := 0 // the cores are free again
		for c.take() {
			n++
		}
		if n != 3 {
			t.Fatalf("%d cores are free", n)
		}
	}
}
