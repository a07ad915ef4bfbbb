package main

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"casewright/internal/store"
	"casewright/internal/store/sqlite"
)

// asProgram has this test binary be the program, so that a test can start it
// and put an end to it.
const asProgram = "CASEWRIGHT_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// crashes is how often the program is killed.
const crashes = 100

// Every edit and tick that was acknowledged outlives the kill of the program
// at any moment, and the database stays whole.
func TestKillDuringEdits(t *testing.T) {
	if testing.Short() {
		t.Skip("a hundred starts of the program")
	}
	dir := t.TempDir()
	draw := rand.New(rand.NewPCG(2026, 11))
	writers := make([]*writer, 3)
	for i := range writers {
		writers[i] = &writer{name: fmt.Sprint("w", i)}
	}
	acknowledged := 0
	for round := range crashes {
		at, kill := begin(t, dir)
		var wg sync.WaitGroup
		for _, w := range writers {
			if round == 0 {
				w.begin(t, at)
			}
			wg.Go(func() { w.write(at) })
		}
		moment := draw.IntN(250)
		if acknowledged < round { // a crowded machine: wait longer for something to lose
			moment += 500
		}
		time.Sleep(time.Duration(moment) * time.Millisecond)
		kill()
		wg.Wait()
		for _, w := range writers {
			if w.wrong != "" {
				t.Fatalf("round %d, %s: %s", round, w.name, w.wrong)
			}
		}
		acknowledged += examine(t, dir, round, writers)
	}
	t.Logf("%d edits and ticks were acknowledged", acknowledged)
	if acknowledged < crashes {
		t.Error("too few edits for a test of anything")
	}
}

// begin starts the program on a folder and gives its address and how to kill
// it: nothing in it has a chance to tidy up.
func begin(t *testing.T, dir string) (address string, kill func()) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "serve", "--data", dir, "--port", "0", "--no-demos")
	cmd.Env = append(os.Environ(), asProgram+"=1")
	var says bytes.Buffer
	cmd.Stderr = &says
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	i := strings.Index(line, "http://")
	if err != nil || i < 0 {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		t.Fatalf("the program does not start: %q, %v, %s", line, err, &says)
	}
	return strings.TrimSpace(line[i:]), func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}
}

// writer is one page that edits a piece without pause. It knows what was
// acknowledged to it.
type writer struct {
	name  string
	piece string
	text  string // of the piece when it was begun
	count int    // of edits and ticks sent, ever
	edits map[string]string
	ticks []string
	last  int64  // the latest version acknowledged
	now   docNow // what it works on
	wrong string
}

type docNow struct {
	ID      string `json:"id"`
	Version int64  `json:"version"`
	CanUndo bool   `json:"can_undo"`
}

// ask sends one request. A reply that breaks off is no acknowledgement.
func ask(method, url string, body any, into any) (int, error) {
	text, err := json.Marshal(body)
	if err != nil {
		return 0, err
	}
	r, err := http.NewRequest(method, url, bytes.NewReader(text))
	if err != nil {
		return 0, err
	}
	r.Header.Set("Content-Type", "application/json")
	reply, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, err
	}
	defer reply.Body.Close()
	text, err = io.ReadAll(reply.Body)
	if err != nil {
		return 0, err
	}
	if into != nil && reply.StatusCode < 300 {
		err = json.Unmarshal(text, into)
	}
	return reply.StatusCode, err
}

func (w *writer) begin(t *testing.T, at string) {
	t.Helper()
	if status, err := ask("POST", at+"/api/pieces", map[string]any{"shape": "blank", "name": w.name}, &w.now); err != nil || status != 200 {
		t.Fatalf("no piece: %d, %v", status, err)
	}
	w.piece, w.last, w.edits = w.now.ID, w.now.Version, map[string]string{}
	reply, err := http.Get(at + "/api/docs/" + w.piece + "/text")
	if err != nil {
		t.Fatal(err)
	}
	defer reply.Body.Close()
	text, err := io.ReadAll(reply.Body)
	if err != nil {
		t.Fatal(err)
	}
	w.text = string(text)
}

// write edits until the program is gone.
func (w *writer) write(at string) {
	docs := at + "/api/docs/" + w.piece
	if status, err := ask("GET", docs, nil, &w.now); err != nil {
		return
	} else if status != 200 || w.now.Version < w.last {
		w.wrong = fmt.Sprintf("answered %d; version %d, but %d was acknowledged", status, w.now.Version, w.last)
		return
	}
	for {
		w.count++
		id := fmt.Sprintf("%s-%08d", w.name, w.count)
		var status int
		var err error
		switch {
		case w.count%5 == 0:
			ticks := []map[string]any{{"id": id, "place": "saw/" + id, "done": true, "at": "2026-03-02T08:00:00Z"}}
			if status, err = ask("POST", at+"/api/pieces/"+w.piece+"/ticks", ticks, nil); err == nil && status < 300 {
				w.ticks = append(w.ticks, id)
			}
		case w.count%7 == 0 && w.now.CanUndo:
			if status, err = ask("POST", docs+"/undo", map[string]any{"base": w.now.Version}, &w.now); err == nil && status == 200 {
				w.last = w.now.Version
			}
		default:
			text := w.text + "# " + id + "\n"
			status, err = ask("PUT", docs+"/text", map[string]any{"base": w.now.Version, "edit": id, "text": text}, &w.now)
			if err == nil && status == 200 {
				w.edits[id], w.last = text, w.now.Version
			}
		}
		if err != nil {
			return
		}
		if status >= 300 {
			w.wrong = fmt.Sprintf("%s was answered by %d", id, status)
			return
		}
	}
}

// examine opens the database the killed program left and looks for all that
// was acknowledged. It gives how much that was since the last time.
func examine(t *testing.T, dir string, round int, writers []*writer) (n int) {
	t.Helper()
	ctx := context.Background()
	s, err := sqlite.Open(ctx, dir, time.Now)
	if err != nil {
		t.Fatalf("round %d: %v", round, err)
	}
	defer s.Close()
	for _, w := range writers {
		n += len(w.edits) + len(w.ticks)
		d, err := s.Doc(ctx, w.piece)
		if err != nil || d.Version < w.last {
			t.Fatalf("round %d: version %d, but %d was acknowledged; %v", round, d.Version, w.last, err)
		}
		if err := w.find(ctx, s); err != nil {
			t.Fatalf("round %d, %s: %v", round, w.name, err)
		}
		w.edits, w.ticks = map[string]string{}, nil
	}
	sound(t, dir)
	return n
}

// find looks for the acknowledged edits, latest first, and for the ticks.
func (w *writer) find(ctx context.Context, s store.Store) error {
	left := len(w.edits)
	for below := int64(0); left > 0; {
		rs, err := s.History(ctx, w.piece, below, 100)
		if err != nil {
			return err
		}
		if len(rs) == 0 {
			return fmt.Errorf("%d acknowledged edits are gone", left)
		}
		for _, r := range rs {
			below = r.Number
			want, ok := w.edits[r.Edit]
			if !ok {
				continue
			}
			left--
			if full, err := s.Revision(ctx, w.piece, r.Number); err != nil || string(full.Text) != want {
				return errors.Join(err, fmt.Errorf("edit %s has another text", r.Edit))
			}
		}
	}
	ticks, err := s.Ticks(ctx, w.piece)
	if err != nil {
		return err
	}
	kept := map[string]bool{}
	for _, k := range ticks {
		kept[k.ID] = true
	}
	for _, id := range w.ticks {
		if !kept[id] {
			return fmt.Errorf("the acknowledged tick %s is gone", id)
		}
	}
	return nil
}

// sound has SQLite look at every page, row and index.
func sound(t *testing.T, dir string) {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, sqlite.File))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var says string
	if err := db.QueryRow("PRAGMA integrity_check").Scan(&says); err != nil || says != "ok" {
		t.Fatalf("the database is not whole: %s, %v", says, err)
	}
}
