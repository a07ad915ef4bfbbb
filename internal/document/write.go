package document

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
)

// writer writes trees as text in the manner of the document they go into.
type writer struct {
	json   bool // keys and words in double quotes
	blocks bool // groups one field to a line, never in braces
}

// longest is how long a line may become with a group in braces.
const longest = 100

// inline writes a value in one line.
func (w writer) inline(n *Node) string {
	var b strings.Builder
	w.flow(&b, n)
	return b.String()
}

func (w writer) flow(b *strings.Builder, n *Node) {
	switch n.Kind {
	case Empty:
		b.WriteString("null")
	case Scalar:
		b.WriteString(w.scalar(n, true))
	case List:
		b.WriteByte('[')
		for i, it := range n.Items {
			if i > 0 {
				b.WriteString(", ")
			}
			w.flow(b, it)
		}
		b.WriteByte(']')
	case Table:
		b.WriteByte('{')
		for i, it := range n.Items {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(w.key(n.Keys[i].Name, true) + ": ")
			w.flow(b, it)
		}
		b.WriteByte('}')
	}
}

// beside says that a value goes in the line of its key or dash, which takes
// col characters without it.
func (w writer) beside(n *Node, col int) bool {
	if len(n.Items) == 0 {
		return true
	}
	for _, it := range n.Items {
		if it.Kind == Table || it.Kind == List && !w.beside(it, col) {
			return false
		}
	}
	if n.Kind == Table && w.blocks {
		return false
	}
	return col+len(w.inline(n)) <= longest
}

// after writes what follows a colon or dash in column col (from 0) of its
// line; used is the length of the line so far.
func (w writer) after(n *Node, col, used int) string {
	switch {
	case n.Kind == Empty:
		return ""
	case n.Kind == Scalar:
		return " " + w.scalar(n, false)
	case w.beside(n, used+1):
		return " " + w.inline(n)
	}
	return "\n" + w.block(n, col+2)
}

// block writes the fields or entries of a value, each on a line of its own,
// without the end of the last line.
func (w writer) block(n *Node, col int) string {
	var b strings.Builder
	pad := strings.Repeat(" ", col)
	for i, it := range n.Items {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(pad)
		if n.Kind == List {
			b.WriteString(w.item(it, col))
			continue
		}
		b.WriteString(w.field(n.Keys[i].Name, it, col))
	}
	return b.String()
}

// field is a key and its value in a block that begins in column col.
func (w writer) field(key string, n *Node, col int) string {
	k := w.key(key, false) + ":"
	return k + w.after(n, col, col+len(k))
}

// item is a dash and its value in a block that begins in column col.
func (w writer) item(n *Node, col int) string {
	if len(n.Items) > 0 && !w.beside(n, col+2) {
		return "- " + w.block(n, col+2)[col+2:]
	}
	return "-" + w.after(n, col, col+1)
}

func (w writer) key(s string, flow bool) string {
	if w.json {
		return double(s)
	}
	return w.word(s, flow, true)
}

// scalar is a single value, in quotes only where it needs them.
func (w writer) scalar(n *Node, flow bool) string {
	if w.json && !jsonPlain(n) {
		return double(n.Text)
	}
	if _, err := parseBool(n.Text); err == nil {
		if n.Quoted {
			return double(n.Text)
		}
		return n.Text
	}
	return w.word(n.Text, flow, false)
}

func jsonPlain(n *Node) bool {
	_, err := parseNumber(n.Text)
	return !n.Quoted && (err == nil || n.Text == "true" || n.Text == "false")
}

// word is text as a YAML scalar: bare where this reader takes it back as it
// is and others do not take it for something else, else in quotes.
func (w writer) word(s string, flow, key bool) string {
	if !notText(s) && bare(s, flow, key) {
		return s
	}
	if strings.Contains(s, `"`) && !strings.ContainsAny(s, "'\\\n\r\t") {
		return "'" + s + "'"
	}
	return double(s)
}

// odd says that a sign may mean something else in some place of YAML.
func odd(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !strings.ContainsRune(` .,;-+/'"%()_=°²³×″′…`, r)
}

// bare says that text stands for itself without quotes: it has only plain
// signs, and the library reads it as it is.
func bare(s string, flow, key bool) bool {
	if plainWord.MatchString(s) && !strings.Contains(s, ",") {
		return true
	}
	first, _ := utf8.DecodeRuneInString(s)
	if len(s) > maxText || strings.ContainsFunc(s, odd) || flow && strings.Contains(s, ",") ||
		!unicode.IsLetter(first) && !unicode.IsNumber(first) && (len(s) < 2 || s[1] == ' ' || !strings.ContainsRune("-+.", first)) {
		return false
	}
	text := "k: " + s + "\nz: 1\n"
	switch {
	case key && flow:
		text = "{" + s + ": 1, z: 1}\n"
	case key:
		text = s + ": 1\nz: 1\n"
	case flow:
		text = "{k: " + s + ", z: 1}\n"
	}
	body, _, probs := tree(text)
	if probs != nil {
		return false
	}
	if m, ok := body.(*ast.MappingNode); !ok || len(m.Values) != 2 {
		return false
	}
	n, probs := nodes(body)
	if probs != nil || len(n.Items) != 2 {
		return false
	}
	if key {
		return n.Keys[0].Name == s && n.Items[0].Text == "1"
	}
	v := n.Items[0]
	return n.Keys[0].Name == "k" && v.Kind == Scalar && v.Text == s && !v.Quoted
}
