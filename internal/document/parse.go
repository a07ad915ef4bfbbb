package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// The limits of a document. They are far above what a hand writes and keep
// the work on a hostile file small.
const (
	MaxBytes  = 1 << 20
	maxTokens = 40_000
	maxDepth  = 24 // tables and lists inside one another
	maxMarks  = 200
)

var tooLarge = Problem{Says: "The document is larger than 1 MB. Documents of this kind are a few pages of text; check that it is the right file."}

// parse reads at most MaxBytes of r and turns them into nodes.
func parse(r io.Reader) (*Node, Problems) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, Problems{{Says: fmt.Sprintf("The document cannot be read: %v.", err)}}
	}
	if len(data) > MaxBytes {
		return nil, Problems{tooLarge}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if p, bad := badText(data); bad {
		return nil, Problems{p}
	}
	return parseText(string(data))
}

// badText finds the first byte that has no place in a text.
func badText(data []byte) (Problem, bool) {
	line, col := 1, 1
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			return Problem{Line: line, Col: col, Says: "This is not UTF-8 text. Save the document as plain text in UTF-8."}, true
		}
		if (r < ' ' && r != '\t' && r != '\n' && r != '\r') || r == 0x7f || (0x80 <= r && r < 0xa0) || r == 0xfeff {
			return Problem{Line: line, Col: col, Says: fmt.Sprintf("An invisible control character (U+%04X) stands here. Delete it.", r)}, true
		}
		if col++; r == '\n' {
			line, col = line+1, 1
		}
		i += n
	}
	return Problem{}, false
}

// parseText is parse on a text that has been looked at for bad signs.
func parseText(text string) (*Node, Problems) {
	body, _, probs := tree(text)
	if probs != nil {
		return nil, probs
	}
	return nodes(body)
}

// tree is the syntax of a text; a panic of the library becomes a problem.
func tree(text string) (body ast.Node, tokens token.Tokens, probs Problems) {
	defer func() {
		if recover() != nil {
			body, tokens, probs = nil, nil, Problems{{Says: "The document is not YAML that can be read. Check indentation, quotes and colons."}}
		}
	}()
	// Cutting a megabyte of commas into tokens takes a second; counting them
	// takes none.
	if n := strings.Count(text, ",") + strings.Count(text, "\n") + strings.Count(text, "["); n > maxTokens {
		return nil, nil, Problems{tooMany(1, 1)}
	}
	tokens = lexer.Tokenize(text)
	if probs := guard(tokens); probs != nil {
		return nil, nil, probs
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, nil, Problems{syntax(err)}
	}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			line, col := place(doc.Start)
			return nil, nil, Problems{{Line: line, Col: col, Says: "A second document begins here. Keep one document in one file."}}
		}
		body = doc.Body
	}
	if body == nil {
		return nil, nil, Problems{{Line: 1, Col: 1, Says: "The document is empty. Start from one that casewright new writes."}}
	}
	return body, tokens, nil
}

// nodes gives the syntax of a document its fields and entries.
func nodes(body ast.Node) (root *Node, probs Problems) {
	defer func() {
		if recover() != nil {
			root, probs = nil, Problems{{Says: "The document is not YAML that can be read. Check indentation, quotes and colons."}}
		}
	}()
	rd := &reader{anchors: map[string]*Node{}}
	root = rd.node(body, "")
	if rd.full {
		return nil, rd.probs
	}
	if root.Kind != Table {
		return nil, Problems{{Line: root.Line, Col: root.Col, Says: "The document must be fields with values, such as “format: 1”, one to a line."}}
	}
	return root, rd.probs
}

// fragment gives the syntax of a part of a document its fields and entries,
// with all problems.
func fragment(body ast.Node) (n *Node, probs Problems) {
	defer func() {
		if recover() != nil {
			n, probs = nil, Problems{{Says: "It is not YAML that can be read."}}
		}
	}()
	rd := &reader{anchors: map[string]*Node{}}
	n = rd.node(body, "")
	return n, rd.probs
}

// syntax is what the library says about text that is not YAML.
func syntax(err error) Problem {
	var at interface {
		GetToken() *token.Token
		GetMessage() string
	}
	if !errors.As(err, &at) {
		return Problem{Says: "The document is not YAML that can be read. Check indentation, quotes and colons."}
	}
	line, col := place(at.GetToken())
	if strings.ContainsRune(at.GetMessage(), '\t') {
		return Problem{Line: line, Col: col, Says: "A tab stands here; YAML is indented with spaces only. Put spaces in its place."}
	}
	return Problem{
		Line: line, Col: col,
		Says: fmt.Sprintf("The document cannot be read from here on: %s. Check indentation, quotes and colons in this line and the one above.",
			strings.TrimRight(at.GetMessage(), ". \n")),
	}
}

func tooMany(line, col int) Problem {
	return Problem{Line: line, Col: col, Says: fmt.Sprintf("The document has more than %d words and signs. Split it, or check that it is the right file.", maxTokens)}
}

// guard refuses what would make the parser work without end: too many tokens,
// and nesting without end, which it follows by recursion.
func guard(tokens token.Tokens) Problems {
	say := func(t *token.Token, format string, a ...any) Problems {
		line, col := place(t)
		return Problems{{Line: line, Col: col, Says: fmt.Sprintf(format, a...)}}
	}
	if len(tokens) > maxTokens {
		return Problems{tooMany(place(tokens[maxTokens]))}
	}
	var columns []int // of the block entries that are open
	flow, marks := 0, 0
	for i, t := range tokens {
		if t.Position == nil {
			continue
		}
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			flow++
		case token.SequenceEndType, token.MappingEndType:
			flow--
		case token.TagType:
			return say(t, "Tags (%s) are not read. Write the value without one.", shorten(t.Value))
		case token.MappingKeyType:
			return say(t, "Keys marked with ? are not read. Write the field as “name: value”.")
		case token.DirectiveType:
			return say(t, "Directives (%%) are not read. Leave the line out.")
		case token.AnchorType, token.AliasType:
			if marks++; marks > maxMarks {
				return say(t, "The document has more than %d anchors and aliases. Write the values out.", maxMarks)
			}
		}
		isKey := i+1 < len(tokens) && tokens[i+1].Type == token.MappingValueType
		if flow <= 0 && (t.Type == token.SequenceEntryType || isKey) {
			for len(columns) > 0 && columns[len(columns)-1] >= t.Position.Column {
				columns = columns[:len(columns)-1]
			}
			columns = append(columns, t.Position.Column)
		}
		if flow+len(columns) > maxDepth {
			return say(t, "Here more than %d tables and lists lie inside one another. A piece is never that deep; check the indentation.", maxDepth)
		}
	}
	return nil
}

// shorten cuts what a stranger typed to a length that can be shown in a line.
func shorten(s string) string {
	const longest = 40
	rs := []rune(strings.Join(strings.Fields(s), " "))
	if len(rs) > longest {
		return string(rs[:longest]) + "…"
	}
	return string(rs)
}
