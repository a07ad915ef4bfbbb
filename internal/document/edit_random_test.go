package document_test

import (
	"bytes"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// TestEditIsTheChange: a change in the text decodes to what the same change
// makes of the decoded value, for documents in every style. The change of the
// value is made here by reflection, apart from the package.
func TestEditIsTheChange(t *testing.T) {
	t.Run("piece", func(t *testing.T) { editIsTheChange[piece.Piece](t, piece.Doc) })
	t.Run("shop", func(t *testing.T) { editIsTheChange[shop.Shop](t, shop.Doc) })
	t.Run("record", func(t *testing.T) { editIsTheChange[record.Record](t, record.Doc) })
}

func editIsTheChange[T any](t *testing.T, doc document.Type) {
	rapid.Check(t, func(t *rapid.T) {
		var x T
		v := reflect.ValueOf(&x).Elem()
		draw(t, v, document.Tags{}, 0)
		v.FieldByName("Format").SetInt(int64(doc.Format))
		sys := unit.System(v.FieldByName("Units").Int())
		text := document.Marshal(x, sys)
		if rapid.Bool().Draw(t, "dressed") {
			text = document.Dress(text, func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "style") })
		}
		checkEdit(t, text, &x, doc)
	})
}

// checkEdit draws a change of the document text, which decodes to x.
func checkEdit[T any](t *rapid.T, text []byte, x *T, doc document.Type) {
	v := reflect.ValueOf(x).Elem()
	sys := unit.System(v.FieldByName("Units").Int())
	var was T
	d := drawing{t, document.Decode("x.yaml", bytes.NewReader(text), doc, &was), sys}
	c, _ := d.change(v, document.Tags{}, "", 0)
	out, anew, err := document.EditCounting(doc, *x, text, []document.Change{c})
	if err != nil {
		t.Fatalf("%+v: %v\n%s", c, err, text)
	}
	var y T
	src := document.Decode("x.yaml", bytes.NewReader(out), doc, &y)
	if diff := cmp.Diff(*x, y); diff != "" {
		t.Fatalf("%+v: %s\nfrom:\n%s\nto:\n%s\n%v", c, diff, text, out, src.Err(nil))
	}
	if anew > 0 {
		t.Fatalf("%+v wrote a part anew:\n%s\nto:\n%s", c, text, out)
	}
}

// drawing draws changes of a document and makes them in its decoded value.
type drawing struct {
	*rapid.T
	src *document.Source
	sys unit.System
}

// change draws a change somewhere in v and makes it there; gone says that
// v holds nothing any more.
func (d drawing) change(v reflect.Value, f document.Tags, path string, depth int) (c document.Change, gone bool) {
	here := func(do string) document.Change { return document.Change{Path: path, Do: do} }
	set := func() (document.Change, bool) {
		c := here("set")
		f.Need = true // so that something is drawn
		to := document.Fresh(deref(v.Type()))
		draw(d.T, to, f, max(depth, 4))
		c.Value = document.Fragment(to, d.sys)
		if v.Kind() == reflect.Pointer {
			v.Set(reflect.New(to.Type()))
			v = v.Elem()
		}
		v.Set(to)
		return c, false
	}
	dice := func() int { return rapid.IntRange(0, 9).Draw(d.T, "dice") }
	switch v.Kind() {
	case reflect.Pointer:
		if v.Type().Elem().Kind() != reflect.Struct {
			break
		}
		switch n := dice(); {
		case n == 0 && !v.IsNil():
			v.SetZero()
			return here("remove"), true
		case n == 1:
			return set()
		}
		if v.IsNil() {
			// A field of a group that is not there yet.
			v.Set(reflect.New(v.Type().Elem()))
			v.Elem().Set(document.Fresh(v.Type().Elem()))
			return d.field(v.Elem(), path, depth, true)
		}
		if c, gone = d.field(v.Elem(), path, depth, false); gone {
			v.SetZero()
		}
		return c, gone
	case reflect.Struct:
		if depth > 0 && dice() == 0 {
			return set()
		}
		c, gone = d.field(v, path, depth, false)
		return c, gone
	case reflect.Slice:
		n := dice()
		if v.Len() > 0 && n < 5 {
			i := rapid.IntRange(0, v.Len()-1).Draw(d.T, "entry")
			at := fmt.Sprintf("%s[%d]", path, i)
			if n == 0 {
				v.Set(reflect.AppendSlice(v.Slice3(0, i, i), v.Slice(i+1, v.Len())))
				if v.Len() == 0 {
					v.SetZero()
				}
				return document.Change{Path: at, Do: "remove"}, v.Len() == 0
			}
			c, _ := d.change(v.Index(i), document.Tags{Name: f.Name, Min: f.Min, Max: f.Max, One: f.One, Keys: f.Keys}, at, depth+1)
			if c.Do == "remove" && c.Path == at { // an entry that is one value
				v.Set(reflect.AppendSlice(v.Slice3(0, i, i), v.Slice(i+1, v.Len())))
				if v.Len() == 0 {
					v.SetZero()
				}
				return c, v.Len() == 0
			}
			return c, false
		}
		if n == 9 {
			return set()
		}
		i := rapid.IntRange(0, v.Len()).Draw(d.T, "place")
		f.Need = true
		to := document.Fresh(v.Type().Elem())
		draw(d.T, to, f, max(depth, 4))
		v.Set(slicesInsert(v, i, to))
		return document.Change{Path: fmt.Sprintf("%s[%d]", path, i), Do: "insert", Value: document.Fragment(to, d.sys)}, false
	case reflect.Map:
		keys := f.Keys
		if keys == nil {
			keys = []string{"ply-18", "8/4", "a.b", "no", "Eiche", "# 5"}
		}
		n := dice()
		if v.Len() > 0 && n < 3 {
			k := rapid.SampledFrom(sortedKeys(v)).Draw(d.T, "key")
			v.SetMapIndex(reflect.ValueOf(k), reflect.Value{})
			if v.Len() == 0 {
				v.SetZero()
			}
			return document.Change{Path: path + "." + k, Do: "remove"}, v.Len() == 0
		}
		k := rapid.SampledFrom(keys).Draw(d.T, "key")
		e := document.Fresh(v.Type().Elem())
		if old := v.MapIndex(reflect.ValueOf(k)); old.IsValid() {
			e.Set(old)
			c, gone = d.change(e, document.Tags{Name: f.Name, Min: f.Min, Max: f.Max, One: f.One}, path+"."+k, depth+1)
		} else {
			f.Need = true
			draw(d.T, e, document.Tags{Name: f.Name, Min: f.Min, Max: f.Max, One: f.One, Need: true}, max(depth, 4))
			c = document.Change{Path: path + "." + k, Do: "set", Value: document.Fragment(e, d.sys)}
		}
		if v.IsNil() {
			v.Set(reflect.MakeMap(v.Type()))
		}
		if v.SetMapIndex(reflect.ValueOf(k), e); gone {
			v.SetMapIndex(reflect.ValueOf(k), reflect.Value{})
			if v.Len() == 0 {
				v.SetZero()
			}
		}
		return c, gone && v.Len() == 0
	case reflect.Array:
		return set()
	}
	if depth > 0 && dice() == 0 && d.src.Has(path) {
		v.SetZero()
		return here("remove"), true
	}
	return set()
}

// field draws a change in one field of a struct. fresh says that the
// struct is not in the document yet.
func (d drawing) field(v reflect.Value, path string, depth int, fresh bool) (document.Change, bool) {
	var fs []document.Tags
	for _, f := range document.FieldsOf(v.Type()) {
		if depth > 0 || (f.Name != "format" && f.Name != "units") {
			fs = append(fs, f)
		}
	}
	f := rapid.SampledFrom(fs).Draw(d.T, "field")
	at := f.Name
	if path != "" {
		at = path + "." + f.Name
	}
	fv := v.Field(f.Index)
	if fresh || !d.src.Has(at) {
		// Nothing is there to remove.
		to := document.Fresh(deref(f.Type))
		f.Need = true
		draw(d.T, to, f, max(depth+1, 4))
		if fv.Kind() == reflect.Pointer {
			fv.Set(reflect.New(to.Type()))
			fv = fv.Elem()
		}
		fv.Set(to)
		return document.Change{Path: at, Do: "set", Value: document.Fragment(to, d.sys)}, false
	}
	c, gone := d.change(fv, f, at, depth+1)
	if !gone {
		return c, false
	}
	// What was left out now is at its default, and a group with no field left
	// goes with it.
	fresher := document.Fresh(v.Type())
	fv.Set(fresher.Field(f.Index))
	for _, other := range document.FieldsOf(v.Type()) {
		if other.Name != f.Name && d.src.Has(strings.TrimPrefix(path+"."+other.Name, ".")) {
			return c, false
		}
	}
	v.Set(fresher)
	return c, true
}

func deref(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Pointer {
		return t.Elem()
	}
	return t
}

func sortedKeys(m reflect.Value) []string {
	var out []string
	for _, k := range m.MapKeys() {
		out = append(out, k.String())
	}
	slices.Sort(out)
	return out
}

func slicesInsert(s reflect.Value, i int, e reflect.Value) reflect.Value {
	out := reflect.MakeSlice(s.Type(), 0, s.Len()+1)
	out = reflect.AppendSlice(out, s.Slice(0, i))
	out = reflect.Append(out, e)
	return reflect.AppendSlice(out, s.Slice(i, s.Len()))
}

// TestEditDemos: the same on the demo documents, which are written by hand,
// with comments, braces, anchors and inches.
func TestEditDemos(t *testing.T) {
	t.Run("pieces", func(t *testing.T) {
		editDemo[piece.Piece](t, piece.Doc, "record-cabinet.yaml", "clinic-cabinet.yaml", "chest.yaml")
	})
	t.Run("shops", func(t *testing.T) {
		editDemo[shop.Shop](t, shop.Doc, "record-cabinet.shop.yaml", "clinic-cabinet.shop.yaml", "chest.shop.yaml")
	})
}

func editDemo[T any](t *testing.T, doc document.Type, files ...string) {
	texts := map[string][]byte{}
	for _, f := range files {
		text, err := os.ReadFile("../../demo/" + f)
		if err != nil {
			t.Fatal(err)
		}
		texts[f] = text
	}
	rapid.Check(t, func(t *rapid.T) {
		text := texts[rapid.SampledFrom(files).Draw(t, "file")]
		var x T
		if err := document.Decode("", bytes.NewReader(text), doc, &x).Err(nil); err != nil {
			t.Fatal(err)
		}
		checkEdit(t, text, &x, doc)
	})
}
