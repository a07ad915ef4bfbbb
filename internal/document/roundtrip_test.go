package document_test

import (
	"bytes"
	"math"
	"reflect"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// TestMarshalDecode: decode(marshal(x)) is x, for any x within its tags.
func TestMarshalDecode(t *testing.T) {
	t.Run("piece", func(t *testing.T) { roundTrip[piece.Piece](t, piece.Doc) })
	t.Run("shop", func(t *testing.T) { roundTrip[shop.Shop](t, shop.Doc) })
	t.Run("record", func(t *testing.T) { roundTrip[record.Record](t, record.Doc) })
}

func roundTrip[T any](t *testing.T, doc document.Type) {
	rapid.Check(t, func(t *rapid.T) {
		var x T
		draw(t, reflect.ValueOf(&x).Elem(), document.Tags{}, 0)
		reflect.ValueOf(&x).Elem().FieldByName("Format").SetInt(int64(doc.Format))
		sys := unit.System(reflect.ValueOf(x).FieldByName("Units").Int())
		text := document.Marshal(x, sys)
		var y T
		src := document.Decode("x.yaml", bytes.NewReader(text), doc, &y)
		if err := src.Err(nil); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if diff := cmp.Diff(x, y); diff != "" {
			t.Fatalf("%s\n%s", diff, text)
		}
		if again := document.Marshal(y, sys); !bytes.Equal(text, again) {
			t.Fatalf("written twice it differs:\n%s\n%s", text, again)
		}
		if ps := document.Check(x, sys); len(ps) > 0 {
			t.Fatalf("Check finds what Decode does not: %v", ps)
		}
	})
}

const wordSigns = `abcXYZ019 .,:;#-_/()[]{}"'\|>&*!%@?äß½″…` + "`~=+$^"

// draw fills v with something that its tags allow.
func draw(t *rapid.T, v reflect.Value, f document.Tags, depth int) {
	switch v.Type() {
	case reflect.TypeFor[unit.Length]():
		v.SetInt(int64(drawLength(t, f)))
		return
	case reflect.TypeFor[unit.Angle]():
		low, high := -360.0, 360.0
		if f.Min != "" {
			low = deg(f.Min)
		}
		if f.Max != "" {
			high = deg(f.Max)
		}
		tenths := rapid.IntRange(int(math.Ceil(low*10)), int(math.Floor(high*10))).Draw(t, f.Name)
		v.SetFloat(float64(unit.Deg(float64(tenths) / 10)))
		return
	case reflect.TypeFor[unit.Money]():
		v.SetInt(rapid.Int64Range(max(0, least(f)), 1_000_000).Draw(t, f.Name))
		return
	case reflect.TypeFor[unit.System]():
		v.SetInt(rapid.Int64Range(0, 1).Draw(t, f.Name))
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for _, f := range document.FieldsOf(v.Type()) {
			draw(t, v.Field(f.Index), f, depth+1)
		}
	case reflect.Pointer:
		if depth < 8 && rapid.Bool().Draw(t, f.Name+" given") {
			v.Set(reflect.New(v.Type().Elem()))
			draw(t, v.Elem(), f, depth)
		}
	case reflect.Slice:
		most := 2
		if depth > 4 {
			most = 0
		}
		if n := rapid.IntRange(0, most).Draw(t, f.Name+" entries"); n > 0 || f.Need {
			n = max(n, 1)
			v.Set(reflect.MakeSlice(v.Type(), n, n))
			f.Need = true // an entry is there, so it is not left out
			for i := range n {
				draw(t, v.Index(i), f, depth+1)
			}
		}
	case reflect.Array:
		f.Need = true
		for i := range v.Len() {
			draw(t, v.Index(i), f, depth+1)
		}
	case reflect.Map:
		keys := f.Keys
		if keys == nil {
			keys = []string{"ply-18", "birch-1/4", "a.b", "yes", "17", "Eiche, weiß", `it's "one"`, "# 5"}
		}
		n := rapid.IntRange(0, 3).Draw(t, f.Name+" entries")
		if f.Need {
			n = max(n, 1)
		}
		for range n {
			if v.IsNil() {
				v.Set(reflect.MakeMap(v.Type()))
			}
			e := reflect.New(v.Type().Elem()).Elem()
			f.Need = true
			draw(t, e, f, depth+1)
			v.SetMapIndex(reflect.ValueOf(rapid.SampledFrom(keys).Draw(t, "key")), e)
		}
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, f.Name))
	case reflect.Int:
		low, high := 0, 100_000
		if f.Min != "" {
			low = number(f.Min)
		}
		if f.Max != "" {
			high = number(f.Max)
		}
		if f.Default == "" && !f.Need && rapid.Bool().Draw(t, f.Name+" left out") {
			return
		}
		v.SetInt(int64(rapid.IntRange(max(low, int(least(f))), high).Draw(t, f.Name)))
	case reflect.Float64:
		low, high := 0, 20_000
		if f.Min != "" {
			low = tenths(f.Min)
		}
		if f.Max != "" {
			high = tenths(f.Max)
		}
		if f.Default == "" && !f.Need && rapid.Bool().Draw(t, f.Name+" left out") {
			return
		}
		if f.Some {
			low = max(low, 1)
		}
		v.SetFloat(float64(rapid.IntRange(low, high).Draw(t, f.Name)) / 10)
	case reflect.String:
		if len(f.One) > 0 {
			if f.Default == "" && !f.Need && rapid.Bool().Draw(t, f.Name+" left out") {
				return
			}
			v.SetString(rapid.SampledFrom(f.One).Draw(t, f.Name))
			return
		}
		s := rapid.StringOfN(rapid.SampledFrom([]rune(wordSigns)), 0, 12, -1).Draw(t, f.Name)
		if f.Need {
			s = "n" + s
		}
		v.SetString(s)
	default:
		t.Fatalf("a field of kind %v cannot be drawn", v.Kind())
	}
}

func drawLength(t *rapid.T, f document.Tags) unit.Length {
	low, high := unit.Length(0), 20*unit.Metre
	if f.Min != "" {
		low = size(f.Min)
	}
	if f.Max != "" {
		high = size(f.Max)
	}
	if f.Some {
		low = max(low, unit.Nanometre)
	}
	if f.Default == "" && !f.Need && rapid.Bool().Draw(t, f.Name+" left out") {
		return 0
	}
	step := rapid.SampledFrom([]unit.Length{unit.Nanometre, 100 * unit.Micrometre, unit.Inch64, unit.Inch}).Draw(t, "step")
	l := unit.Length(rapid.Int64Range(int64(low), int64(high)).Draw(t, f.Name)).Round(step)
	return min(max(l, low), high)
}

// least is 1 for a field that 0 is refused for, in its own smallest step.
func least(f document.Tags) int64 {
	if f.Some {
		return 1
	}
	return math.MinInt64
}

func size(s string) unit.Length {
	l, err := unit.ParseLength(s, unit.Metric)
	if err != nil {
		panic(err)
	}
	return l
}

func deg(s string) float64 {
	a, err := unit.ParseAngle(s)
	if err != nil {
		panic(err)
	}
	return a.Deg()
}

// tenths is a limit of the tags in whole tenths.
func tenths(s string) int {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err)
	}
	return int(math.Round(v * 10))
}

func number(s string) int {
	n := 0
	for _, r := range s {
		n = n*10 + int(r-'0')
	}
	return n
}
