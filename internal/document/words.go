package document

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Count is a number with its noun: 1 size, 2 sizes; 1 entry, 2 entries.
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	if stem, y := strings.CutSuffix(noun, "y"); y && stem != "" && !strings.ContainsRune("aeiou", rune(stem[len(stem)-1])) {
		return strconv.Itoa(n) + " " + stem + "ies"
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// Capital is the text with a capital at its start. Names that people typed
// begin with any letter, so it goes by letters and not by bytes.
func Capital(text string) string { return begin(text, unicode.ToUpper) }

// Small is the text with a small letter at its start, for the midst of a line.
func Small(text string) string { return begin(text, unicode.ToLower) }

func begin(text string, as func(rune) rune) string {
	r, size := utf8.DecodeRuneInString(text)
	if r == utf8.RuneError { // empty, or not a letter that can be read
		return text
	}
	return string(as(r)) + text[size:]
}
