// Command load has many pages edit at one time, each a piece of its own, and
// prints how long an edit with its new plan takes and what the program uses.
//
//	load [-program bin/casewright] [-clients 50] [-think 3s] [-for 60s] [-procs 2]
//
// An edit is the change of one size followed by the reading of the desk and
// of the line of stations, as the page does it. Each page listens to events
// too. Think is the mean pause of a person between two edits.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

func main() {
	program := flag.String("program", "bin/casewright", "the program to try")
	clients := flag.Int("clients", 50, "pages at one time")
	think := flag.Duration("think", 3*time.Second, "mean pause between the edits of a page")
	length := flag.Duration("for", time.Minute, "how long")
	procs := flag.Int("procs", 2, "cores for the program")
	flag.Parse()
	if err := run(*program, *clients, *think, *length, *procs); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

func run(program string, clients int, think, length time.Duration, procs int) error {
	dir, err := os.MkdirTemp("", "casewright-load-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p, err := start(program, dir, procs)
	if err != nil {
		return err
	}
	defer p.stop()
	pages, err := p.open(clients)
	if err != nil {
		return err
	}
	at := p.usage()
	began := time.Now()
	var wg sync.WaitGroup
	for _, one := range pages {
		wg.Go(func() { one.work(began.Add(length), think) })
	}
	wg.Wait()
	took := time.Since(began)
	end := p.usage()
	var edits, plans []time.Duration
	for _, one := range pages {
		if one.err != nil {
			err = errors.Join(err, one.err)
		}
		edits, plans = append(edits, one.edits...), append(plans, one.plans...)
	}
	if len(edits) == 0 {
		return errors.Join(err, errors.New("no edit was answered in time; take longer with -for"))
	}
	fmt.Printf("%d pages, a mean pause of %v, %d cores: %d edits in %v, %.1f a second\n",
		clients, think, procs, len(edits), took.Round(time.Second), float64(len(edits))/took.Seconds())
	fmt.Printf("kept             p50 %6v  p95 %6v  most %6v\n", share(edits, 50), share(edits, 95), share(edits, 100))
	fmt.Printf("with its plan    p50 %6v  p95 %6v  most %6v\n", share(plans, 50), share(plans, 95), share(plans, 100))
	fmt.Printf("the program used %.1f cores, %.0f ms for each edit with all that followed, and %d MB of memory at most\n",
		(end.cpu-at.cpu).Seconds()/took.Seconds(), (end.cpu-at.cpu).Seconds()*1000/float64(len(edits)), end.most>>10)
	return err
}

// share is the time that a share of all, in percent, did not exceed.
func share(ds []time.Duration, percent int) time.Duration {
	slices.Sort(ds)
	i := min(len(ds)*percent/100, len(ds)-1)
	return ds[i].Round(time.Millisecond)
}

// running is the program under load.
type running struct {
	cmd     *exec.Cmd
	address string
}

func start(program, dir string, procs int) (*running, error) {
	cmd := exec.Command(program, "serve", "--data", dir, "--port", "0")
	cmd.Env = append(os.Environ(), "GOMAXPROCS="+strconv.Itoa(procs))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	p := &running{cmd: cmd}
	line, err := bufio.NewReader(out).ReadString('\n')
	i := strings.Index(line, "http://")
	if err != nil || i < 0 {
		p.stop()
		return nil, fmt.Errorf("the program did not say where it is: %q, %w", line, err)
	}
	p.address = strings.TrimSpace(line[i:])
	return p, nil
}

func (p *running) stop() {
	_ = p.cmd.Process.Signal(os.Interrupt)
	_ = p.cmd.Wait()
}

// use is what the program used until now.
type use struct {
	cpu  time.Duration
	most int // kB of memory held at one time
}

// usage reads it from the files of the system (proc(5)); 0 where there are
// none.
func (p *running) usage() use {
	var u use
	stat, _ := os.ReadFile(fmt.Sprintf("/proc/%d/stat", p.cmd.Process.Pid))
	if _, rest, ok := strings.Cut(string(stat), ") "); ok {
		if f := strings.Fields(rest); len(f) > 12 {
			user, _ := strconv.Atoi(f[11])
			system, _ := strconv.Atoi(f[12])
			u.cpu = time.Duration(user+system) * 10 * time.Millisecond // in hundredths of a second
		}
	}
	status, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if _, rest, ok := strings.Cut(string(status), "VmHWM:"); ok {
		if f := strings.Fields(rest); len(f) > 0 {
			u.most, _ = strconv.Atoi(f[0])
		}
	}
	return u
}

// page is one browser with a piece of its own.
type page struct {
	at           string
	id           string
	version      int64
	number       int
	edits, plans []time.Duration
	err          error
}

// open gives every page a copy of a demo piece.
func (p *running) open(n int) ([]*page, error) {
	var all struct{ Pieces []struct{ ID, Name string } }
	if err := call("GET", p.address+"/api/pieces", nil, &all); err != nil {
		return nil, err
	}
	from := ""
	for _, d := range all.Pieces {
		if strings.Contains(d.Name, "record cabinet") {
			from = d.ID
		}
	}
	var out []*page
	for i := range n {
		var d struct {
			ID      string
			Version int64
		}
		body := map[string]any{"copy_of": from, "name": fmt.Sprint("Cabinet ", i)}
		if err := call("POST", p.address+"/api/pieces", body, &d); err != nil {
			return nil, err
		}
		out = append(out, &page{at: p.address, id: d.ID, version: d.Version, number: i})
		go p.listen()
	}
	return out, nil
}

// listen reads events until the program ends.
func (p *running) listen() {
	if reply, err := http.Get(p.address + "/api/events"); err == nil {
		_, _ = io.Copy(io.Discard, reply.Body)
		reply.Body.Close()
	}
}

func (p *page) work(until time.Time, think time.Duration) {
	draw := rand.New(rand.NewPCG(7, uint64(p.number)))
	for n := 0; ; n++ {
		time.Sleep(time.Duration(draw.ExpFloat64() * float64(think)))
		if time.Now().After(until) {
			return
		}
		width := 1400 + float64(draw.IntN(2000))/10
		began := time.Now()
		var d struct{ Version int64 }
		p.err = call("PATCH", p.at+"/api/docs/"+p.id, map[string]any{
			"base": p.version, "edit": fmt.Sprintf("load-%d-%06d", p.number, n),
			"changes": []map[string]any{{"path": "case.width", "do": "set", "value": strconv.FormatFloat(width, 'f', 1, 64)}},
		}, &d)
		if p.err != nil {
			return
		}
		p.version = d.Version
		kept := time.Since(began)
		var seen struct{ Version int64 }
		for _, part := range []string{"desk", "line"} {
			if p.err = call("GET", p.at+"/api/pieces/"+p.id+"/"+part, nil, &seen); p.err != nil {
				return
			}
			if seen.Version != d.Version {
				p.err = fmt.Errorf("the %s is of version %d, but %d stands", part, seen.Version, d.Version)
				return
			}
		}
		p.edits, p.plans = append(p.edits, kept), append(p.plans, time.Since(began))
	}
}

func call(method, url string, body, into any) error {
	text, err := json.Marshal(body)
	if err != nil {
		return err
	}
	r, err := http.NewRequest(method, url, bytes.NewReader(text))
	if err != nil {
		return err
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	reply, err := client.Do(r)
	if err != nil {
		return err
	}
	defer reply.Body.Close()
	text, err = io.ReadAll(reply.Body)
	if err != nil {
		return err
	}
	if reply.StatusCode >= 300 {
		return fmt.Errorf("%s %s was answered by %s: %.200s", method, url, reply.Status, text)
	}
	return json.Unmarshal(text, into)
}

// client keeps a connection for every page, as browsers do.
var client = &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200}}
