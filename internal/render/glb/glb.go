// Package glb writes a model as a scene in glTF 2.0, binary (ISO/IEC 12113):
// each part a node named by its letter and name, bought hardware that stands
// outside the case by its name, in metres, y up.
package glb

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
)

type asset struct {
	Version   string `json:"version"`
	Generator string `json:"generator"`
}

type scene struct {
	Name  string `json:"name,omitempty"`
	Nodes []int  `json:"nodes,omitempty"`
}

type node struct {
	Name     string  `json:"name"`
	Mesh     *int    `json:"mesh,omitempty"`
	Children []int   `json:"children,omitempty"`
	Extras   *extras `json:"extras,omitempty"`
}

// extras is what a viewer may want to know of a part. Grain is a direction in
// the scene's axes.
type extras struct {
	Letter string     `json:"letter"`
	Name   string     `json:"name"`
	Role   string     `json:"role"`
	Place  string     `json:"place,omitempty"`
	Grain  [3]float64 `json:"grain"`
}

type primitive struct {
	Attributes attributes `json:"attributes"`
	Indices    int        `json:"indices"`
	Material   int        `json:"material"`
	Mode       int        `json:"mode"`
}

type attributes struct {
	Normal   int `json:"NORMAL"`
	Position int `json:"POSITION"`
}

type mesh struct {
	Name       string      `json:"name"`
	Primitives []primitive `json:"primitives"`
}

type accessor struct {
	BufferView    int       `json:"bufferView"`
	ComponentType int       `json:"componentType"`
	Count         int       `json:"count"`
	Type          string    `json:"type"`
	Min           []float32 `json:"min,omitempty"`
	Max           []float32 `json:"max,omitempty"`
}

type bufferView struct {
	Buffer     int `json:"buffer"`
	ByteOffset int `json:"byteOffset"`
	ByteLength int `json:"byteLength"`
	Target     int `json:"target"`
}

type buffer struct {
	ByteLength int `json:"byteLength"`
}

type pbr struct {
	BaseColor [4]float64 `json:"baseColorFactor"`
	Metallic  float64    `json:"metallicFactor"`
	Roughness float64    `json:"roughnessFactor"`
}

type material struct {
	Name string `json:"name"`
	PBR  pbr    `json:"pbrMetallicRoughness"`
}

type document struct {
	Asset       asset        `json:"asset"`
	Scene       int          `json:"scene"`
	Scenes      []scene      `json:"scenes"`
	Nodes       []node       `json:"nodes,omitempty"`
	Meshes      []mesh       `json:"meshes,omitempty"`
	Materials   []material   `json:"materials,omitempty"`
	Accessors   []accessor   `json:"accessors,omitempty"`
	BufferViews []bufferView `json:"bufferViews,omitempty"`
	Buffers     []buffer     `json:"buffers,omitempty"`
}

// Numbers of the glTF 2.0 specification.
const (
	typeFloat      = 5126
	typeUint32     = 5125
	targetVertices = 34962
	targetIndices  = 34963
	modeTriangles  = 4
	magic          = 0x46546C67 // "glTF"
	chunkJSON      = 0x4E4F534A
	chunkBinary    = 0x004E4942
)

// Quiet tints; a viewer lays its own wood over them.
var materials = []material{
	{"panel", pbr{[4]float64{0.80, 0.73, 0.62, 1}, 0, 0.85}},
	{"solid wood", pbr{[4]float64{0.66, 0.54, 0.40, 1}, 0, 0.8}},
	{"hardware", pbr{[4]float64{0.45, 0.46, 0.48, 1}, 0.6, 0.5}},
}

// Write writes all parts of the model.
func Write(w io.Writer, m build.Model, name string) error {
	d := document{
		Asset:  asset{"2.0", "casewright"},
		Scenes: []scene{{Name: drawing.Clean(name)}},
	}
	var bin bytes.Buffer
	for _, b := range append(drawing.Bodies(m), drawing.FixtureBodies(m)...) {
		if len(b.Triangles) == 0 {
			continue
		}
		d.add(b, &bin)
	}
	if len(d.Meshes) > 0 {
		d.Materials = materials
		d.Buffers = []buffer{{bin.Len()}}
		for i := range d.Nodes {
			d.Scenes[0].Nodes = append(d.Scenes[0].Nodes, i)
		}
	}
	text, err := json.Marshal(d)
	if err != nil {
		return fmt.Errorf("glb: %w", err)
	}
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	for bin.Len()%4 != 0 {
		bin.WriteByte(0)
	}
	total := 12 + 8 + len(text)
	if bin.Len() > 0 {
		total += 8 + bin.Len()
	}
	var out bytes.Buffer
	words(&out, magic, 2, total, len(text), chunkJSON)
	out.Write(text)
	if bin.Len() > 0 {
		words(&out, bin.Len(), chunkBinary)
		out.Write(bin.Bytes())
	}
	_, err = w.Write(out.Bytes())
	return err
}

func words(b *bytes.Buffer, vs ...int) {
	for _, v := range vs {
		_ = binary.Write(b, binary.LittleEndian, uint32(v)) // a bytes.Buffer takes all
	}
}

// add puts a body into the scene: positions, normals, indices, each in a view
// of its own, all a multiple of four bytes long.
func (d *document) add(b drawing.Body, bin *bytes.Buffer) {
	view := func(target int, write func()) int {
		start := bin.Len()
		write()
		d.BufferViews = append(d.BufferViews, bufferView{0, start, bin.Len() - start, target})
		return len(d.BufferViews) - 1
	}
	access := func(a accessor) int {
		d.Accessors = append(d.Accessors, a)
		return len(d.Accessors) - 1
	}
	lo := []float32{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}
	hi := []float32{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
	v := view(targetVertices, func() {
		for _, p := range b.Points {
			for i, c := range upright(p) {
				f := float32(c / 1000)
				lo[i], hi[i] = min(lo[i], f), max(hi[i], f)
				float(bin, f)
			}
		}
	})
	position := access(accessor{v, typeFloat, len(b.Points), "VEC3", lo, hi})
	v = view(targetVertices, func() {
		for _, n := range b.Normals {
			for _, c := range upright(n) {
				float(bin, float32(c))
			}
		}
	})
	normal := access(accessor{v, typeFloat, len(b.Normals), "VEC3", nil, nil})
	v = view(targetIndices, func() {
		for _, t := range b.Triangles {
			words(bin, t[0], t[1], t[2])
		}
	})
	indices := access(accessor{v, typeUint32, 3 * len(b.Triangles), "SCALAR", nil, nil})

	name := strings.TrimSpace(b.Letter + " " + b.Name)
	if b.Place != "" {
		name += ", " + b.Place
	}
	made := 0
	switch {
	case b.Letter == "":
		made = 2
	case b.Solid:
		made = 1
	}
	index := len(d.Meshes)
	d.Meshes = append(d.Meshes, mesh{name, []primitive{{attributes{normal, position}, indices, made, modeTriangles}}})
	d.Nodes = append(d.Nodes, node{Name: name, Mesh: &index, Extras: &extras{b.Letter, b.Name, string(b.Role), b.Place, upright(b.Grain)}})
}

func float(b *bytes.Buffer, f float32) { words(b, int(math.Float32bits(f))) }

// upright turns the piece's axes (z up, y to the back) into those of glTF
// (y up, z to the front): a rotation, so nothing is mirrored.
func upright(p [3]float64) [3]float64 { return [3]float64{p[0], p[2], -p[1]} }
