package document

import (
	"bytes"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"casewright/internal/unit"
)

// Marshal writes the struct v as a document: fields in the order of the type,
// sizes exact and in the document's own units, nothing that is left at its
// default. Decode gives v back.
func Marshal(v any, sys unit.System) []byte {
	e := encoder{sys: sys}
	e.table(reflect.ValueOf(v), "")
	return e.out.Bytes()
}

type encoder struct {
	out bytes.Buffer
	sys unit.System
}

func (e *encoder) table(v reflect.Value, indent string) {
	preset := reflect.New(v.Type()).Elem()
	presets(preset)
	for _, f := range fields(v.Type()) {
		fv := v.Field(f.index)
		if f.omit && (same(fv, preset.Field(f.index)) || f.some && fv.IsZero()) {
			continue
		}
		e.field(f.name, fv, indent)
	}
}

// same says that a value is what leaving it out would give.
func same(v, preset reflect.Value) bool {
	switch v.Kind() {
	case reflect.Pointer:
		return v.IsNil()
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return reflect.DeepEqual(v.Interface(), preset.Interface())
}

// field writes name and value; lists and tables follow in further lines.
func (e *encoder) field(name string, v reflect.Value, indent string) {
	e.out.WriteString(indent + quoteWord(name) + ":")
	e.value(v, indent+"  ")
}

func (e *encoder) value(v reflect.Value, indent string) {
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if single(v.Type()) {
		e.out.WriteString(" " + e.scalar(v) + "\n")
		return
	}
	if (v.Kind() == reflect.Slice || v.Kind() == reflect.Array) && single(v.Type().Elem()) {
		e.line(v)
		return
	}
	start := e.out.Len()
	e.out.WriteByte('\n')
	switch v.Kind() {
	case reflect.Struct:
		e.table(v, indent)
	case reflect.Map:
		for _, k := range sortedKeys(v) {
			e.field(k, v.MapIndex(reflect.ValueOf(k)), indent)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			e.item(v.Index(i), indent)
		}
	}
	if e.out.Len() == start+1 { // nothing in it
		e.out.Truncate(start)
		e.out.WriteString(" {}\n")
	}
}

// item writes one table of a list, its first field beside the dash.
func (e *encoder) item(v reflect.Value, indent string) {
	inner := encoder{sys: e.sys}
	inner.table(v, indent+"  ")
	if inner.out.Len() == 0 {
		e.out.WriteString(indent + "- {}\n")
		return
	}
	e.out.WriteString(indent + "- ")
	e.out.Write(inner.out.Bytes()[len(indent)+2:])
}

// line writes a list of single values in one line.
func (e *encoder) line(v reflect.Value) {
	var items []string
	for i := range v.Len() {
		items = append(items, e.scalar(v.Index(i)))
	}
	e.out.WriteString(" [" + strings.Join(items, ", ") + "]\n")
}

func (e *encoder) scalar(v reflect.Value) string {
	s := text(v, e.sys, false)
	if v.Kind() == reflect.String {
		return quoteWord(s)
	}
	return s
}

// plainWord are the strings that YAML reads as themselves without quotes,
// among others that it would too; the rest are quoted.
var plainWord = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9/()+-]*([ .,]+[A-Za-z0-9/()+-]+)*\.?$`)

func quoteWord(s string) string {
	if plainWord.MatchString(s) && !strings.Contains(s, ",") && !notText(s) {
		return s
	}
	return double(s)
}

// double is text in double quotes.
func double(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch r {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case '\n':
			b.WriteString(`\n`)
		case '\r':
			b.WriteString(`\r`)
		case '\t':
			b.WriteString(`\t`)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// notText says that YAML readers may take the word for something else.
func notText(s string) bool {
	switch strings.ToLower(s) {
	case "true", "false", "yes", "no", "on", "off", "null", "y", "n", "nan", "inf":
		return true
	}
	return false
}

// lengthText writes a length exactly: in the document's units where they give
// it exactly, else in millimetres.
func lengthText(l unit.Length, sys unit.System, withUnit bool) string {
	if sys == unit.Imperial && l%unit.Inch64 != 0 && l%unit.Micrometre == 0 {
		return l.Exact(unit.Metric)
	}
	s := l.Exact(sys)
	if withUnit {
		return s
	}
	return strings.TrimSuffix(s, " "+sys.String())
}

// angleText writes an angle in degrees, short where that gives the same angle
// back; an angle that no number of degrees gives is written in radians.
func angleText(a unit.Angle, withUnit bool) string {
	suffix := ""
	if withUnit {
		suffix = " deg"
	}
	deg := a.Deg()
	for _, digits := range []int{15, 16, 17} {
		s := strconv.FormatFloat(deg, 'g', digits, 64)
		short, err := strconv.ParseFloat(s, 64)
		if err != nil {
			break
		}
		s = strconv.FormatFloat(short, 'f', -1, 64)
		if got, err := unit.ParseAngle(s); err == nil && got == a {
			return s + suffix
		}
	}
	return strconv.FormatFloat(float64(a), 'f', -1, 64) + " rad"
}
