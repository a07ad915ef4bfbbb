//go:build !unix

package main

import "time"

var began = time.Now()

// used is the time since the start, where the processor's is not told.
func used() time.Duration { return time.Since(began) }
