package document

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"casewright/internal/unit"
)

// maxText is the longest text a field holds, in characters.
const maxText = 4000

// setText reads text into the single value v. The error is a clause or a
// sentence without its point.
func setText(v reflect.Value, text string, bare unit.System) error {
	switch v.Type() {
	case lengthType:
		l, err := unit.ParseLength(text, bare)
		v.SetInt(int64(l))
		return err
	case angleType:
		a, err := unit.ParseAngle(text)
		v.SetFloat(float64(a))
		return err
	case moneyType:
		m, err := unit.ParseMoney(text)
		v.SetInt(int64(m))
		return err
	case systemType:
		var s unit.System
		err := s.UnmarshalText([]byte(text))
		v.SetInt(int64(s))
		return err
	}
	switch v.Kind() {
	case reflect.String:
		if utf8.RuneCountInString(text) > maxText {
			return fmt.Errorf("the text is longer than %d characters; shorten it", maxText)
		}
		v.SetString(text)
	case reflect.Bool:
		b, err := parseBool(text)
		if err != nil {
			return err
		}
		v.SetBool(b)
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err != nil {
			return fmt.Errorf("cannot read “%s” as a whole number; write it like 4", shorten(text))
		}
		v.SetInt(int64(n))
	case reflect.Float64:
		n, err := parseNumber(text)
		if err != nil {
			return err
		}
		v.SetFloat(n)
	default:
		return errors.New("values of this kind are not read")
	}
	return nil
}

func parseBool(text string) (bool, error) {
	switch strings.ToLower(text) {
	case "true", "yes", "on":
		return true, nil
	case "false", "no", "off":
		return false, nil
	}
	return false, fmt.Errorf("cannot read “%s” as yes or no; write yes or no", shorten(text))
}

// parseNumber reads a plain decimal; words that a float may be spelled with
// (inf, nan, 0x1p4) are refused.
func parseNumber(text string) (float64, error) {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) || strings.Trim(text, "0123456789+-.eE") != "" {
		return 0, fmt.Errorf("cannot read “%s” as a number; write it like 12.5", shorten(text))
	}
	return n, nil
}

// badKey says why a key of the maker's own choosing will not do, "" if it will.
func badKey(key string) string {
	switch {
	case strings.TrimSpace(key) != key || key == "":
		return "a key needs at least one letter or digit and no space at its ends"
	case utf8.RuneCountInString(key) > 60:
		return "a key has at most 60 characters"
	case strings.ContainsFunc(key, func(r rune) bool { return !unicode.IsPrint(r) }):
		return "a key has only signs that print"
	}
	return ""
}

// limits is what is wrong with the single value v of field f at path, "" if
// nothing is: below its least or above its most, or not one of its words.
// shown is the value as the maker would write it.
func limits(v reflect.Value, f field, path, shown string, sys unit.System) string {
	if v.Kind() == reflect.String {
		return wrongWord(v.String(), f.one, path)
	}
	if v.Type() == systemType || v.Kind() == reflect.Bool {
		return ""
	}
	atLeast, atMost := f.min, f.max
	if v.Type() == angleType {
		atLeast, atMost = orElse(atLeast, "-360 deg"), orElse(atMost, "360 deg")
	}
	if v.Type() == lengthType {
		atMost = orElse(atMost, "20 m")
	}
	atLeast = orElse(atLeast, "0")
	kind := remedy(v.Type())
	if compare(v, atLeast) < 0 {
		if strings.Trim(strings.TrimSuffix(atLeast, " mm"), "0") == "" {
			return fmt.Sprintf("%s is %s; it must not be negative. Write %s of 0 or more.", path, shown, kind.noun)
		}
		return fmt.Sprintf("%s is %s; it must be at least %s. Write a %s %s.", path, shown, limitText(v, atLeast, sys), kind.more, kind.name(f, path))
	}
	if atMost != "" && compare(v, atMost) > 0 {
		return fmt.Sprintf("%s is %s; it must be at most %s. Write a %s %s.", path, shown, limitText(v, atMost, sys), kind.less, kind.name(f, path))
	}
	return ""
}

// nothing says that a value of 0 will not do, and what leaving it out means.
func nothing(v reflect.Value, f field, path, shown string) string {
	says := fmt.Sprintf("%s is %s; it must be more than 0. Write %s", path, shown, remedy(v.Type()).noun)
	if f.need {
		return says + "."
	}
	says += ", or leave it out"
	if _, otherwise, ok := strings.Cut(f.doc, "left out: "); ok && f.preset == "" {
		f.preset = otherwise
	}
	if f.preset != "" {
		says += " (left out: " + f.preset + ")"
	}
	return says + "."
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// kindWords are the words for more and less of a kind of value.
type kindWords struct{ noun, more, less string }

func remedy(t reflect.Type) kindWords {
	switch t {
	case lengthType:
		return kindWords{"a size", "larger", "smaller"}
	case angleType:
		return kindWords{"an angle", "larger", "smaller"}
	case moneyType:
		return kindWords{"an amount", "larger", "smaller"}
	}
	return kindWords{"a number", "larger", "smaller"}
}

// name is what the maker calls the value: the field's own name where it is a
// size of its own, else what kind of thing it is.
func (k kindWords) name(f field, path string) string {
	_, noun, _ := strings.Cut(k.noun, " ")
	own := path == f.name || strings.HasSuffix(path, "."+f.name)
	if own && (f.typ == lengthType || f.typ == angleType) {
		return f.name
	}
	return noun
}

// compare is the sign of v less a limit of the tags.
func compare(v reflect.Value, limit string) int {
	l := reflect.New(v.Type()).Elem()
	if err := setText(l, limit, unit.Metric); err != nil {
		panic("limit " + limit + ": " + err.Error())
	}
	if v.Kind() == reflect.Float64 {
		switch d := v.Float() - l.Float(); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		case d == 0:
			return 0
		}
		return 1 // not a number
	}
	return sign(v.Int() - l.Int())
}

func sign(n int64) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// limitText shows a limit of the tags; sizes in an inch document also in inches.
func limitText(v reflect.Value, limit string, sys unit.System) string {
	if v.Type() != lengthType || sys != unit.Imperial {
		return limit
	}
	l, err := unit.ParseLength(limit, unit.Metric)
	if err != nil {
		return limit
	}
	if strings.HasSuffix(limit, "in") {
		return limit
	}
	return fmt.Sprintf("%s (%s in)", limit, strconv.FormatFloat(l.In(), 'f', 2, 64))
}

// wrongWord says that word is not one of the words allowed.
func wrongWord(word string, one []string, path string) string {
	if len(one) == 0 || slices.Contains(one, word) {
		return ""
	}
	if near, ok := Nearest(word, one); ok {
		return fmt.Sprintf("%s is “%s”, which is not a word for it; did you mean %s? It can be %s.", path, shorten(word), near, Either(one))
	}
	return fmt.Sprintf("%s is “%s”, which is not a word for it. Write %s.", path, shorten(word), Either(one))
}

// Either lists words: a, b or c.
func Either(ws []string) string {
	if len(ws) < 2 {
		return strings.Join(ws, "")
	}
	return strings.Join(ws[:len(ws)-1], ", ") + " or " + ws[len(ws)-1]
}
