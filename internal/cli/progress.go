package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"time"

	"casewright/internal/cutting"
)

// A watch shows how far long work is, on one line, when it is a person at a
// terminal who waits.
type watch struct {
	w     io.Writer
	last  time.Time
	shown bool
}

func watching(w io.Writer) *watch {
	f, ok := w.(*os.File)
	if !ok {
		return &watch{}
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &watch{}
	}
	return &watch{w: w, last: time.Now()}
}

// cutting is told of a search under way. Nothing is shown of work that takes
// less than a fifth of a second.
func (t *watch) cutting(p cutting.Progress) {
	if t.w == nil || time.Since(t.last) < 200*time.Millisecond {
		return
	}
	t.last, t.shown = time.Now(), true
	if p.Of > 0 && p.Of < 1<<40 {
		fmt.Fprintf(t.w, "\rlaying out: %d of %d steps, best %d, bound %d (Ctrl-C stops with the best so far) ", p.Iterations, p.Of, p.Value, p.Bound)
		return
	}
	fmt.Fprintf(t.w, "\rlaying out: %d steps, best %d, bound %d ", p.Iterations, p.Value, p.Bound)
}

func (t *watch) done() {
	if t.shown {
		fmt.Fprint(t.w, "\r\x1b[K")
	}
}

func jsonLines[T any](w io.Writer, all []T) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for _, v := range all {
		if err := enc.Encode(v); err != nil {
			return err
		}
	}
	return nil
}
