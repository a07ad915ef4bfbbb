package plan

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/geom"
	"casewright/internal/price"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// isSingle says that a value of t is printed in one go.
func isSingle(t reflect.Type) bool {
	switch t {
	case reflect.TypeFor[geom.Vec](), reflect.TypeFor[geom.Dir](), reflect.TypeFor[geom.Point](), reflect.TypeFor[geom.Vertex]():
		return true
	}
	switch t.Kind() {
	case reflect.Struct, reflect.Slice, reflect.Pointer, reflect.Array:
		return false
	}
	return true
}

// text prints a value in the piece's units, and lengths in the other.
func (d *differ) text(side int, f form, v reflect.Value) (own, other string) {
	switch x := v.Interface().(type) {
	case unit.Length:
		return d.show(side, x, f.exact)
	case geom.Vec:
		return d.list3(side, f, x.X, x.Y, x.Z)
	case geom.Point:
		return d.list3(side, f, x.X, x.Y)
	case unit.Money:
		return strings.TrimSpace(d.plan[side].Shop.Currency + " " + x.Format()), ""
	case unit.Angle:
		return number(x.Deg(), f.exact) + "°", ""
	case unit.Area:
		return number(float64(x), f.exact) + " m²", ""
	case unit.Volume:
		return number(float64(x)*1000, f.exact) + " l", ""
	case unit.Mass:
		return number(float64(x), f.exact) + " kg", number(float64(x/unit.Pound), f.exact) + " lb"
	case unit.Force:
		return number(float64(x), f.exact) + " N", number(float64(x/unit.PoundForce), f.exact) + " lbf"
	case unit.Stress:
		return number(float64(x), f.exact) + " MPa", ""
	case route.Moment:
		return d.plan[side].Route.Calendar.On(x) + " " + x.Clock(), ""
	case cutting.NodeKind:
		return x.String(), ""
	case encoding.TextMarshaler:
		if b, err := x.MarshalText(); err == nil {
			return string(b), ""
		}
	}
	switch v.Kind() {
	case reflect.Slice, reflect.Array:
		var a, b []string
		for i := range v.Len() {
			x, y := d.text(side, f, v.Index(i))
			if i < len(f.names) && v.Kind() == reflect.Array {
				x, y = f.names[i]+" "+x, f.names[i]+" "+y
			}
			a, b = append(a, x), append(b, y)
		}
		if len(b) > 0 && strings.TrimSpace(strings.Join(b, "")) == "" {
			b = nil
		}
		return strings.Join(a, ", "), strings.Join(b, ", ")
	case reflect.Bool:
		if v.Bool() {
			return "yes", ""
		}
		return "no", ""
	case reflect.Int, reflect.Int64:
		return with(strconv.FormatInt(v.Int(), 10), f.unit), ""
	case reflect.Float64:
		if f.mm {
			return d.show(side, unit.MM(v.Float()), f.exact)
		}
		return with(number(v.Float(), f.exact), f.unit), ""
	case reflect.String:
		return v.String(), ""
	}
	return fmt.Sprint(v.Interface()), ""
}

func with(text, unit string) string {
	switch unit {
	case "":
		return text
	case "°":
		return text + unit
	}
	return text + " " + unit
}

// number prints four figures, or all there are.
func number(v float64, exact bool) string {
	if exact {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	if math.Abs(v) >= 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	s := strconv.FormatFloat(v, 'g', 4, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil {
		s = strconv.FormatFloat(f, 'f', -1, 64)
	}
	return s
}

// list3 prints the sizes of a place, or of a whole.
func (d *differ) list3(side int, f form, ls ...unit.Length) (own, other string) {
	names := f.names
	if names == nil {
		names = []string{"right", "back", "up"}
	}
	var a, b []string
	for i, l := range ls {
		x, y := d.show(side, l, f.exact)
		a, b = append(a, x+" "+names[i]), append(b, y+" "+names[i])
	}
	return strings.Join(a, ", "), strings.Join(b, ", ")
}

// sizes is a × b × c, each with its unit.
func (d *differ) sizes(side int, ls ...unit.Length) string {
	var out []string
	for _, l := range ls {
		out = append(out, d.plan[side].Show(l))
	}
	return strings.Join(out, " × ")
}

// vertices prints the corners of an outline, each by its way from the near
// end and the lower edge; a rectangle by its sides.
func (d *differ) vertices(side int, vs []geom.Vertex) string {
	if len(vs) == 4 && slices.Equal(vs, geom.Rect(vs[2].X, vs[2].Y)) {
		x, _ := d.show(side, vs[2].X, true)
		y, _ := d.show(side, vs[2].Y, true)
		return x + " × " + y
	}
	var out []string
	for _, v := range vs {
		x, _ := d.show(side, v.X, true)
		y, _ := d.show(side, v.Y, true)
		c := x + " / " + y
		if v.Bulge != 0 {
			c += " curving " + number(math.Atan(v.Bulge)*4*180/math.Pi, true) + "°"
		}
		out = append(out, c)
	}
	return strings.Join(out, ", ")
}

func (d *differ) frame(side int, f geom.Frame) string {
	at, _ := d.list3(side, form{exact: true}, f.Origin.X, f.Origin.Y, f.Origin.Z)
	out := fmt.Sprintf("%s; length %s, width %s", at, direction(f.U), direction(f.V))
	if f.Mirror {
		out += ", mirrored"
	}
	return out
}

// direction names one of the axes, and gives others by their share of each.
func direction(v geom.Dir) string {
	switch v {
	case geom.Right:
		return "to the right"
	case geom.Left:
		return "to the left"
	case geom.Back:
		return "to the back"
	case geom.Front:
		return "to the front"
	case geom.Up:
		return "up"
	case geom.Down:
		return "down"
	}
	return fmt.Sprintf("%s right %s back %s up", number(v.X, true), number(v.Y, true), number(v.Z, true))
}

// designs names other ways to make a bend, with what tells them apart.
func (d *differ) designs(side int, all []bend.Design) string {
	var out []string
	for _, x := range all {
		r := x.Result
		pitch, _ := d.show(side, r.Pitch, true)
		skin, _ := d.show(side, r.Spec.Skin, true)
		out = append(out, fmt.Sprintf("%s: %d kerfs at %s, skin %s, closing at %s°, strain %s %%",
			x.Name, r.Count, pitch, skin, number(r.ClosesAt.Deg(), true), number(100*r.Strain, true)))
	}
	return strings.Join(out, "; ")
}

func (d *differ) change(side int, c cutting.Change) string {
	letter := ""
	return strings.TrimSpace(fmt.Sprintf("%s %s to %s, %s less", letter, c.Axis, d.sizes(side, c.To), d.sizes(side, c.By)))
}

// label names one of several things, for reading.
func (d *differ) label(side int, v reflect.Value) string {
	named := func(letter string) string {
		if id, ok := d.parts[side][letter]; ok {
			return id.named
		}
		return letter
	}
	switch x := v.Interface().(type) {
	case build.Part:
		return "part " + named(x.Letter)
	case build.Bend:
		return "bend " + x.Name
	case build.Joint:
		return fmt.Sprintf("%s of %s and %s", x.Kind, named(x.A), named(x.B))
	case build.Fitting:
		return comma(x.Name, "for "+x.For)
	case build.ScrewUse:
		return "screws, " + x.Where
	case build.Opening:
		return "opening " + x.Name
	case build.Feature:
		return strings.TrimSuffix(fmt.Sprintf("%s for %s", x.Kind, x.For), " for ")
	case build.KerfGroup:
		return "kerfs of the bend " + d.plan[side].Model.Bends[x.Bend].Name
	case build.Place:
		return x.Name
	case yard.Line:
		return "buying " + x.What
	case yard.Panel:
		return "panels of " + x.Name
	case yard.Wood:
		return "boards of " + x.Called()
	case saw.Sequence:
		return "settings, " + x.Title
	case saw.Setup:
		return fmt.Sprintf("%s %s from the %s", x.Way, d.sizes(side, x.Setting), x.Reference)
	case saw.Cut:
		return strings.TrimSuffix(fmt.Sprintf("cut of %s giving %s", x.Of, strings.TrimSpace(x.Kerf+" "+x.Gives)), " giving ")
	case saw.Row:
		return x.Of
	case route.Step:
		return "step " + x.Title
	case route.GlueUp:
		return "glue-up of the " + x.Name
	case route.Schedule:
		return "finish, " + x.Name
	case route.Stick:
		return "stick for " + named(x.Letter)
	case route.Hours:
		return "hours, " + x.Name
	case price.Line:
		return x.What
	case price.Payment:
		return "payment " + x.When
	case price.Change:
		return "change agreed, " + x.What
	}
	if k := d.key(side, v.Interface(), 0); k != nameless {
		return k
	}
	return ""
}

// describe prints a whole thing that has come or gone.
func (d *differ) describe(side int, v reflect.Value) string {
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	switch x := v.Interface().(type) {
	case build.Part:
		return fmt.Sprintf("%d × %s of %s", x.Count, d.sizes(side, x.Length.Size, x.Width.Size, x.Thickness.Size), d.plan[side].Shop.StockCalled(x.Material))
	case build.Opening:
		return fmt.Sprintf("%s, %s", d.sizes(side, x.Width.Size, x.Height.Size), x.Fill)
	case build.ScrewUse:
		return fmt.Sprintf("%d of %s", x.Count, d.sizes(side, x.Diameter, x.Length))
	case build.Fitting:
		return strconv.Itoa(x.Count)
	case build.Bend:
		return fmt.Sprintf("%d kerfs at %s", x.Design.Result.Count, d.sizes(side, x.Design.Result.Pitch))
	case build.Place:
		return d.frame(side, x.Frame)
	case build.Rough:
		return d.sizes(side, x.Length, x.Width, x.Thickness)
	case yard.Line:
		own, _ := d.text(side, form{}, reflect.ValueOf(x.Price))
		return with(number(x.Count, false), x.Unit) + ", " + own
	case price.Line:
		own, _ := d.text(side, form{}, reflect.ValueOf(x.Amount))
		return own
	case price.Payment:
		own, _ := d.text(side, form{}, reflect.ValueOf(x.Amount))
		return own
	case saw.Sequence:
		return fmt.Sprintf("%d settings on the saw %s", len(x.Setups), x.Saw)
	case saw.Setup:
		n := 0
		for _, c := range x.Cuts {
			n += c.Times
		}
		return fmt.Sprintf("%s, %d cuts", d.sizes(side, x.Setting), n)
	case route.Step:
		return fmt.Sprintf("%d min, %s", x.Minutes(), d.times(side, x))
	case route.Hours:
		return fmt.Sprintf("%d min", x.Estimated)
	case cutting.Change:
		return d.change(side, x)
	}
	var out []string
	d.gather(side, v, &out)
	return strings.Join(out, ", ")
}

// gather prints what a thing holds, field by field, leaving out what is
// nothing.
func (d *differ) gather(side int, v reflect.Value, out *[]string) {
	switch {
	case v.Kind() == reflect.Struct && !isSingle(v.Type()):
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || v.Field(i).IsZero() {
				continue
			}
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if isSingle(f.Type) {
				own, _ := d.text(side, formOf(f.Type, name), v.Field(i))
				*out = append(*out, own)
			} else {
				d.gather(side, v.Field(i), out)
			}
		}
	case v.Kind() == reflect.Pointer && !v.IsNil():
		d.gather(side, v.Elem(), out)
	}
}
