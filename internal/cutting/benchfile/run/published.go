package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
)

// published holds sums over cells of instances as papers print them, and our
// own for the same cells. The nil published holds nothing.
type published struct {
	methods []string // columns from the lower bound on
	rows    []*cell
	at      map[[2]string]*cell
}

type cell struct {
	name, id     string
	instances    int
	sums         []int // of each method; -1: not told
	seen         int
	value, bound float64
	valid        bool
}

// The columns before those of the methods.
const cellHead = 4 // cell, case, instances, bound by area

// readPublished reads the table: cell, case, instances, bound by area, then a
// column for each method.
func readPublished(name string) (*published, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	list, err := csv.NewReader(f).ReadAll()
	if err != nil || len(list) < 2 || len(list[0]) <= cellHead {
		return nil, fmt.Errorf("%s is no table of published sums: %v", name, err)
	}
	p := &published{methods: list[0][cellHead:], at: map[[2]string]*cell{}}
	for _, row := range list[1:] {
		c := &cell{name: row[0], id: row[1], valid: true}
		if c.instances, err = strconv.Atoi(row[2]); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for _, text := range row[cellHead:] {
			v := -1
			if text != "" {
				if v, err = strconv.Atoi(text); err != nil {
					return nil, fmt.Errorf("%s: %w", name, err)
				}
			}
			c.sums = append(c.sums, v)
		}
		p.rows = append(p.rows, c)
		p.at[[2]string{c.name, c.id}] = c
	}
	return p, nil
}

// has reports whether sums are known for a cell.
func (p *published) has(name string) bool {
	return p != nil && name != "" && slices.ContainsFunc(p.rows, func(c *cell) bool { return c.name == name })
}

func (p *published) add(name, id string, a answer) {
	if p == nil || p.at[[2]string{name, id}] == nil {
		return
	}
	c := p.at[[2]string{name, id}]
	c.seen++
	c.value += a.Value
	c.bound += a.Bound
	c.valid = c.valid && a.Valid
}

// write prints the cells that were run whole, and their sums for each case; a
// method without a value in some cell has no sum.
func (p *published) write(w io.Writer) {
	if p == nil {
		return
	}
	var ids []string
	for _, c := range p.rows {
		if !slices.Contains(ids, c.id) {
			ids = append(ids, c.id)
		}
	}
	for _, id := range ids {
		all := &cell{name: "all", valid: true, sums: make([]int, len(p.methods))}
		n := 0
		for _, c := range p.rows {
			if c.id != id || c.seen != c.instances {
				continue
			}
			if n++; n == 1 {
				fmt.Fprintf(w, "\n%-14s %6s %6s", "cells, case "+id, "ours", "bound")
				for _, m := range p.methods {
					fmt.Fprintf(w, " %*s", width(m), m)
				}
				fmt.Fprintln(w)
			}
			p.row(w, c)
			all.value += c.value
			all.bound += c.bound
			all.valid = all.valid && c.valid
			for i, v := range c.sums {
				if v < 0 || all.sums[i] < 0 {
					all.sums[i] = -1
				} else {
					all.sums[i] += v
				}
			}
		}
		if n > 0 {
			p.row(w, all)
		}
	}
}

func (p *published) row(w io.Writer, c *cell) {
	fmt.Fprintf(w, "%-14s %6.0f %6.0f", c.name, c.value, c.bound)
	for i, m := range p.methods {
		text := "-"
		if c.sums[i] >= 0 {
			text = strconv.Itoa(c.sums[i])
		}
		fmt.Fprintf(w, " %*s", width(m), text)
	}
	if !c.valid {
		fmt.Fprint(w, "  not all laid out")
	}
	fmt.Fprintln(w)
}

func width(head string) int { return max(len(head), 6) }
