package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"casewright/internal/cutting/benchfile"
)

// A budget is what answers depend on: those of another program or budget are
// thrown away.
type budget struct {
	Program string  `json:"program"`
	Seconds float64 `json:"seconds"`
	Moves   int     `json:"moves"`
	Seed    uint64  `json:"seed"`
}

type caseKey struct {
	File     string `json:"file"`
	Instance string `json:"instance"`
	Case     string `json:"case"`
}

type answer struct {
	caseKey
	Valid   bool    `json:"valid"`
	Value   float64 `json:"value"`
	Bound   float64 `json:"bound"`
	Proven  bool    `json:"proven"`
	Seconds float64 `json:"seconds"`
}

func (a answer) plan() benchfile.Plan {
	return benchfile.Plan{Value: a.Value, Bound: a.Bound, Proven: a.Proven, Seconds: a.Seconds}
}

// kept is a file of answers: a line with the budget, then one for each case.
// The nil kept holds nothing.
type kept struct {
	f    *os.File
	done map[caseKey]answer
}

// openKept reads what is kept; a line broken off is cut away, and answers of
// another budget are.
func openKept(name string, b budget) (*kept, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	k := &kept{f: f, done: map[caseKey]answer{}}
	good, err := k.read(b)
	if err == nil && good == 0 {
		clear(k.done)
		if err = f.Truncate(0); err == nil {
			if _, err = f.Seek(0, io.SeekStart); err == nil {
				err = k.write(b)
			}
		}
	} else if err == nil {
		if err = f.Truncate(good); err == nil {
			_, err = f.Seek(good, io.SeekStart)
		}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return k, nil
}

// read reads whole lines and returns where they end, 0 when nothing is of use.
func (k *kept) read(b budget) (int64, error) {
	good := int64(0)
	for in := bufio.NewReader(k.f); ; {
		line, err := in.ReadBytes('\n')
		if errors.Is(err, io.EOF) {
			return good, nil
		}
		if err != nil {
			return 0, err
		}
		if good == 0 {
			var was budget
			if json.Unmarshal(line, &was) != nil || was != b {
				return 0, nil
			}
		} else {
			var a answer
			if json.Unmarshal(line, &a) != nil {
				return good, nil
			}
			k.done[a.caseKey] = a
		}
		good += int64(len(line))
	}
}

func (k *kept) find(key caseKey) (answer, bool) {
	if k == nil {
		return answer{}, false
	}
	a, ok := k.done[key]
	return a, ok
}

func (k *kept) add(a answer) error {
	if k == nil {
		return nil
	}
	k.done[a.caseKey] = a
	return k.write(a)
}

func (k *kept) write(v any) error {
	line, err := json.Marshal(v)
	if err != nil {
		return err
	}
	_, err = k.f.Write(append(line, '\n'))
	return err
}

// Close closes the file.
func (k *kept) Close() error { return k.f.Close() }

// program is a mark of this program, which changes with its code.
func program() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	b, err := os.ReadFile(name)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%x", sha256.Sum256(bytes.TrimSpace(b)))[:16]
}
