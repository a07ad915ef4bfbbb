package glb_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"testing"

	"casewright/internal/build"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/geom"
	"casewright/internal/render/glb"
	"casewright/internal/unit"
)

// gltf is a reader of its own, written after the glTF 2.0 specification and
// sharing nothing with the writer.
type gltf struct {
	Asset  struct{ Version string }
	Scene  int
	Scenes []struct{ Nodes []int }
	Nodes  []struct {
		Name   string
		Mesh   *int
		Extras map[string]any
	}
	Meshes []struct {
		Primitives []struct {
			Attributes map[string]int
			Indices    int
			Material   int
			Mode       int
		}
	}
	Materials []struct{ Name string }
	Accessors []struct {
		BufferView, ByteOffset, ComponentType, Count int
		Type                                         string
		Min, Max                                     []float64
	}
	BufferViews []struct{ Buffer, ByteOffset, ByteLength, Target int }
	Buffers     []struct{ ByteLength int }
}

type body struct {
	name      string
	points    [][3]float64
	normals   [][3]float64
	triangles [][3]int
}

func parse(t *testing.T, data []byte) (gltf, []body) {
	t.Helper()
	u := func(at int) int { return int(binary.LittleEndian.Uint32(data[at:])) }
	if string(data[:4]) != "glTF" || u(4) != 2 || u(8) != len(data) || len(data)%4 != 0 {
		t.Fatalf("header % x for %d bytes", data[:12], len(data))
	}
	n := u(12)
	if string(data[16:20]) != "JSON" || n%4 != 0 {
		t.Fatalf("first chunk %q of %d bytes", data[16:20], n)
	}
	var g gltf
	if err := json.Unmarshal(data[20:20+n], &g); err != nil {
		t.Fatal(err)
	}
	if len(data) == 20+n {
		return g, nil
	}
	m := u(20 + n)
	if string(data[24+n:28+n]) != "BIN\x00" || m%4 != 0 || 28+n+m != len(data) {
		t.Fatalf("second chunk %q of %d bytes", data[24+n:28+n], m)
	}
	bin := data[28+n:]
	if l := g.Buffers[0].ByteLength; l > m || m-l > 3 {
		t.Fatalf("buffer %d in a chunk of %d", l, m)
	}
	floats := func(a int) [][3]float64 {
		acc := g.Accessors[a]
		v := g.BufferViews[acc.BufferView]
		if acc.ComponentType != 5126 || acc.Type != "VEC3" || (v.ByteOffset+acc.ByteOffset)%4 != 0 || acc.Count*12 > v.ByteLength || v.ByteOffset+v.ByteLength > len(bin) {
			t.Fatalf("accessor %+v in view %+v", acc, v)
		}
		out := make([][3]float64, acc.Count)
		for i := range out {
			for j := range 3 {
				out[i][j] = float64(math.Float32frombits(binary.LittleEndian.Uint32(bin[v.ByteOffset+12*i+4*j:])))
			}
		}
		return out
	}
	var bodies []body
	for _, i := range g.Scenes[g.Scene].Nodes {
		nd := g.Nodes[i]
		p := g.Meshes[*nd.Mesh].Primitives[0]
		b := body{name: nd.Name, points: floats(p.Attributes["POSITION"]), normals: floats(p.Attributes["NORMAL"])}
		acc := g.Accessors[p.Attributes["POSITION"]]
		for j := range 3 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, q := range b.points {
				lo, hi = min(lo, q[j]), max(hi, q[j])
			}
			if float32(acc.Min[j]) != float32(lo) || float32(acc.Max[j]) != float32(hi) {
				t.Errorf("%s: bounds %v %v, want %v %v", nd.Name, acc.Min, acc.Max, lo, hi)
			}
		}
		ia := g.Accessors[p.Indices]
		v := g.BufferViews[ia.BufferView]
		if ia.ComponentType != 5125 || ia.Type != "SCALAR" || ia.Count%3 != 0 || p.Mode != 4 || v.Target != 34963 {
			t.Fatalf("indices %+v", ia)
		}
		for k := 0; k < ia.Count; k += 3 {
			var tr [3]int
			for j := range 3 {
				tr[j] = int(binary.LittleEndian.Uint32(bin[v.ByteOffset+4*(k+j):]))
				if tr[j] >= len(b.points) {
					t.Fatalf("%s: index %d of %d", nd.Name, tr[j], len(b.points))
				}
			}
			b.triangles = append(b.triangles, tr)
		}
		bodies = append(bodies, b)
	}
	return g, bodies
}

// volume is that within the triangles (divergence theorem), in litres;
// positive when all of them face outward.
func (b body) volume() float64 {
	v := 0.0
	for _, t := range b.triangles {
		p, q, r := b.points[t[0]], b.points[t[1]], b.points[t[2]]
		v += p[0]*(q[1]*r[2]-q[2]*r[1]) + p[1]*(q[2]*r[0]-q[0]*r[2]) + p[2]*(q[0]*r[1]-q[1]*r[0])
	}
	return v / 6 * 1000
}

func write(t *testing.T, m build.Model) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := glb.Write(&b, m, "Test"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSceneReadsBack(t *testing.T) {
	m := drawtest.SmallCabinet()
	_, bodies := parse(t, write(t, m))
	places := 0
	for _, p := range m.Parts {
		places += len(p.Places)
	}
	if len(bodies) != places {
		t.Fatalf("%d bodies, want %d", len(bodies), places)
	}
	if bodies[0].name != "A Side, left" || bodies[1].name != "A Side, right" {
		t.Errorf("names %q, %q", bodies[0].name, bodies[1].name)
	}
	// A side is 500 × 300 × 18.
	for _, b := range bodies[:2] {
		if v := b.volume(); math.Abs(v-2.7) > 1e-4 {
			t.Errorf("%s: %v litres, want 2.7", b.name, v)
		}
	}
	// The piece stands with y up, its front toward +z: from the floor at 0 the
	// top is at 0.6 m, and nothing but the fronts' side is at z > 0.
	for _, p := range bodies[2].points {
		if p[1] > 0.6+1e-6 || p[1] < 0.582-1e-6 || p[2] > 1e-6 || p[2] < -0.3-1e-6 {
			t.Errorf("top has a corner at %v", p)
		}
	}
	for _, b := range bodies {
		for _, n := range b.normals {
			if l := math.Hypot(n[0], math.Hypot(n[1], n[2])); math.Abs(l-1) > 1e-5 {
				t.Fatalf("%s: normal %v", b.name, n)
			}
		}
	}
}

// A bent shell has the volume of its neutral run: flats and quarter rings.
func TestBentShellIsASolid(t *testing.T) {
	_, bodies := parse(t, write(t, drawtest.BentShell()))
	ring := math.Pi / 4 * (40*40 - 25*25) // one quarter, mm²
	want := ((260*2+320)*15 + 2*ring) * 250 / 1e6
	// Chords of 7.5° lie within the arc by up to 0.3 per cent of the ring.
	if v := bodies[0].volume(); math.Abs(v-want) > 0.003*want {
		t.Errorf("shell %v litres, want %v", v, want)
	}
	// Closed: every edge is run once each way.
	for _, b := range bodies {
		edges := map[[6]float64]int{}
		for _, tr := range b.triangles {
			for i := range 3 {
				p, q := b.points[tr[i]], b.points[tr[(i+1)%3]]
				edges[[6]float64{p[0], p[1], p[2], q[0], q[1], q[2]}]++
				edges[[6]float64{q[0], q[1], q[2], p[0], p[1], p[2]}]--
			}
		}
		for e, n := range edges {
			if n != 0 {
				t.Fatalf("%s: edge %v is open", b.name, e)
			}
		}
	}
}

// A leg tapers alike on all sides: a frustum of h/3 (a² + ab + b²).
func TestTaperedLegIsAFrustum(t *testing.T) {
	m := drawtest.SmallCabinet()
	leg := m.Parts[6]
	p := func(x, y float64) geom.Vertex { return geom.Vertex{Point: geom.P(unit.MM(x), unit.MM(y))} }
	leg.Outline = geom.Outline{p(0, 5), p(103, 0), p(103, 30), p(0, 25)}
	m.Parts = []build.Part{leg}
	_, bodies := parse(t, write(t, m))
	want := 103.0 / 3 * (20*20 + 20*30 + 30*30) / 1e6
	for _, b := range bodies {
		if v := b.volume(); math.Abs(v-want) > 1e-6 {
			t.Errorf("%v litres, want %v", v, want)
		}
	}
}

func TestEmptyModelIsValid(t *testing.T) {
	g, bodies := parse(t, write(t, build.Model{}))
	if len(bodies) != 0 || g.Asset.Version != "2.0" {
		t.Errorf("%+v", g)
	}
}

func TestSameBytesTwice(t *testing.T) {
	if !bytes.Equal(write(t, drawtest.SmallCabinet()), write(t, drawtest.SmallCabinet())) {
		t.Error("the same model gave two files")
	}
}
