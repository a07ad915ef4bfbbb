package build

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// spoil sets one field somewhere in v to something no maker means.
func spoil(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		spoil(t, v.Elem())
	case reflect.Struct:
		spoil(t, v.Field(rapid.IntRange(0, v.NumField()-1).Draw(t, "field")))
	case reflect.Slice:
		if v.Len() == 0 || rapid.IntRange(0, 3).Draw(t, "grow") == 0 {
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		}
		spoil(t, v.Index(rapid.IntRange(0, v.Len()-1).Draw(t, "entry")))
	case reflect.Map:
		m := reflect.MakeMap(v.Type())
		for _, k := range v.MapKeys() {
			m.SetMapIndex(k, v.MapIndex(k))
		}
		key := reflect.ValueOf(rapid.SampledFrom([]string{"case", "frame", "back", "base", "fronts", "top", "bottom", "top-left", "strip", "nothing"}).Draw(t, "key"))
		e := reflect.New(v.Type().Elem()).Elem()
		spoil(t, e)
		m.SetMapIndex(key, e)
		v.Set(m)
	case reflect.Int64, reflect.Int:
		v.SetInt(rapid.SampledFrom([]int64{0, 1, -1, 7, int64(unit.Millimetre), -int64(unit.Millimetre), int64(19 * unit.Millimetre), int64(2 * unit.Metre), int64(unit.MaxLength), math.MaxInt32}).Draw(t, "number"))
		if v.Type() == reflect.TypeFor[unit.System]() {
			v.SetInt(v.Int() & 1)
		}
		if v.Kind() == reflect.Int && v.Type() != reflect.TypeFor[unit.System]() {
			v.SetInt(v.Int() % 2000) // counts; documents hold them to a thousand
		}
	case reflect.Float64:
		v.SetFloat(rapid.SampledFrom([]float64{0, -1, 1e-9, 0.1, 1.6, 90, 1e9, math.Inf(1), math.NaN()}).Draw(t, "figure"))
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.String:
		v.SetString(rapid.SampledFrom([]string{"", "nonsense", "oak", "ply-18", "ply-6", "free", "closed", "u", "l", "shell", "carcass", "follow", "strip", "scarf", "dovetail", "side", "under", "left", "pair", "overlaid", "grooved", "within", "on-top"}).Draw(t, "word"))
	}
}

// TestNoPanic: whatever a piece holds, Make answers with a model or with
// problems that say where and what.
func TestNoPanic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sensible(t)
		p.Case.Profile = []piece.Leg{{Flat: 300 * unit.Millimetre}, {Bend: unit.Deg(90), Radius: 80 * unit.Millimetre}, {Flat: 200 * unit.Millimetre}, {Bend: unit.Deg(-60), Radius: 90 * unit.Millimetre}, {Flat: 200 * unit.Millimetre}}
		for range rapid.IntRange(1, 6).Draw(t, "spoilt") {
			spoil(t, reflect.ValueOf(&p).Elem())
		}
		m, err := quick(p)
		if err != nil {
			mustTell(t, err)
			return
		}
		for _, part := range m.Parts {
			for _, d := range []Dim{part.Length, part.Width, part.Thickness} {
				if adds(d) != d.Size {
					t.Errorf("%s %s: sum of %s comes to %s", part.Letter, part.Name, d.Size, adds(d))
				}
			}
		}
	})
}

func FuzzMake(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "demo", "*.yaml"))
	for _, name := range files {
		if b, err := os.ReadFile(name); err == nil && !bytes.Contains(b, []byte("saws:")) {
			f.Add(b)
		}
	}
	_, s := demo(f, "record-cabinet")
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := piece.Decode("piece.yaml", bytes.NewReader(b))
		if err != nil {
			return
		}
		if m, err := (&builder{piece: p, shop: s, draws: 20}).make(); err != nil {
			mustTell(t, err)
		} else {
			encode(t, m)
		}
	})
}
