// How things are drawn: wood with its grain, cut faces with hatching, and
// lines of a width on the screen. Colours come from the page's tokens.
import {
  BufferGeometry, Color, DoubleSide, Float32BufferAttribute, FrontSide, InstancedBufferAttribute, InstancedBufferGeometry, ShaderMaterial,
  Vector2, Vector3, Vector4, type IUniform,
} from 'three'
import { perEdge } from './surface'

/** What all materials share: one object, so that a change is made once. */
export interface Shared {
  [name: string]: IUniform
  size: IUniform<Vector2> // of the view, pixels
  scale: IUniform<number> // pixels for a millimetre
  toward: IUniform<Vector3> // to the viewer
  clip: IUniform<Vector4> // what lies beyond this plane is cut away
  ink: IUniform<Color>
  paper: IUniform<Color>
  hatch: IUniform<Color>
  accent: IUniform<Color>
}

export function shared(): Shared {
  return {
    size: { value: new Vector2(1, 1) }, scale: { value: 1 }, toward: { value: new Vector3(0, -1, 0) }, clip: { value: new Vector4(0, 0, 0, 1) },
    ink: { value: new Color() }, paper: { value: new Color() }, hatch: { value: new Color() }, accent: { value: new Color() },
  }
}

const common = /* glsl */ `
  uniform vec4 clip;
  varying vec3 world;
  bool away() { return dot(clip.xyz, world) > clip.w; }
`

/** Fine lines along a coordinate, so far apart that they can be told apart at any size. */
const lines = /* glsl */ `
  float hash(float n) { return fract(sin(n * 91.345) * 47453.5453); }
  float noise(float x) { float i = floor(x), f = fract(x); f = f * f * (3. - 2. * f); return mix(hash(i), hash(i + 1.), f); }
  float stroke(float c, float gap, float along, float seed, float wide) {
    float k = c / gap, per = max(fwidth(k), 1e-5);
    float row = floor(k), r = hash(row + seed);
    float d = abs(fract(k) - .3 - .4 * r) / per;
    // Strokes begin and end, as drawn by hand.
    float run = smoothstep(.18, .3, noise(along / (90. + 160. * r) + 17. * r + seed));
    return (1. - smoothstep(wide - .4, wide + .6, d)) * run * mix(.45, 1., hash(row * 1.7 + seed)) * (1. - smoothstep(.3, .6, per));
  }
`

export interface Wood extends ShaderMaterial { uniforms: Shared & { tint: IUniform<Color>; line: IUniform<Color>; shown: IUniform<number>; picked: IUniform<number>; seed: IUniform<number>; drawn: IUniform<number> } }

/** The material of a body: a quiet tint by the way a face looks, and the lines of its grain. */
export function wood(s: Shared, seed: number): Wood {
  return new ShaderMaterial({
    uniforms: { ...s, tint: { value: new Color() }, line: { value: new Color() }, shown: { value: 1 }, picked: { value: 0 }, seed: { value: seed }, drawn: { value: 1 } },
    side: FrontSide, polygonOffset: true, polygonOffsetFactor: 1.2, polygonOffsetUnits: 2,
    vertexShader: /* glsl */ `
      attribute vec3 grain;
      varying vec3 world, lay, out_;
      void main() {
        vec4 w = modelMatrix * vec4(position, 1.);
        world = w.xyz; lay = grain; out_ = mat3(modelMatrix) * normal;
        gl_Position = projectionMatrix * viewMatrix * w;
      }`,
    fragmentShader: /* glsl */ `
      uniform vec3 tint, line, accent;
      uniform float shown, picked, seed, scale, drawn;
      varying vec3 lay, out_;
      ${common} ${lines}
      void main() {
        if (away()) discard;
        vec3 n = normalize(out_);
        float light = dot(n, normalize(vec3(.36, -.5, .79)));
        vec3 c = tint * (.83 + .17 * light);
        float fine_ = log2(5.5 * max(fwidth(lay.y), 1e-3)), gap = exp2(ceil(fine_)), more = fract(fine_), g = 0.;
        float kind = floor(lay.z + .5);
        if (kind < .5) {
          // Grain sways a little as it runs.
          float y = lay.y + 9. * (noise(lay.x / 420. + seed) - .5) + 3. * (noise(lay.x / 110. + lay.y / 60. + seed * 3.) - .5);
          g = max(stroke(y, gap, lay.x, seed, .55), stroke(y, gap * .5, lay.x, seed + 7., .5) * (1. - more));
        } else if (kind < 1.5) {
          float k = lay.y / 1.5, per = fwidth(k);
          g = smoothstep(.5 - per, .5 + per, abs(fract(k) - .5) * 2.) * .55 * (1. - smoothstep(.35, .8, per));
        } else if (kind < 2.5) {
          float r = length(vec2(lay.x * .6 - 30. * hash(seed), lay.y + 60.));
          g = stroke(r, max(gap * .5, 2.), lay.x * 3., seed, .5) * .8;
        }
        c = mix(c, line * (.9 + .1 * light), g * .75 * drawn);
        c = mix(c, accent, picked * .16);
        gl_FragColor = vec4(c, shown);
      }`,
  }) as Wood
}

/** Cut faces: hatched, as on a drawing. Position carries a place in the plane as uv. */
export function hatching(s: Shared, turn: number, tint: Color): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { ...s, tint: { value: tint }, turn: { value: turn }, picked: { value: 0 } },
    side: DoubleSide, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -4,
    vertexShader: /* glsl */ `
      varying vec2 at;
      void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.); }`,
    fragmentShader: /* glsl */ `
      uniform vec3 tint, hatch, paper, accent; uniform float turn, scale, picked;
      varying vec2 at;
      void main() {
        float k = dot(at, vec2(cos(turn), sin(turn))) * scale / 7.;
        float d = abs(fract(k) - .5) / max(fwidth(k), 1e-5);
        float h = (1. - smoothstep(.25, 1.05, d)) * .8;
        gl_FragColor = vec4(mix(mix(mix(tint, paper, .45), accent, picked * .2), hatch, h), 1.);
      }`,
  })
}

export interface Pen extends ShaderMaterial { uniforms: Shared & { colour: IUniform<Color>; wide: IUniform<number>; shown: IUniform<number>; near: IUniform<number> } }

/** Lines so many pixels wide. An edge with normals is drawn only where it is the contour. */
export function pen(s: Shared, wide: number): Pen {
  return new ShaderMaterial({
    uniforms: { ...s, colour: { value: new Color() }, wide: { value: wide }, shown: { value: 1 }, near: { value: 0.0002 } },
    side: DoubleSide, transparent: true,
    vertexShader: /* glsl */ `
      attribute vec3 a, b, n1, n2;
      attribute float weight;
      uniform vec2 size; uniform vec3 toward; uniform float wide, near, scale;
      varying vec3 world; varying float faint;
      void main() {
        if (dot(n1, n1) > .1) {
          mat3 m = mat3(modelMatrix);
          if (dot(m * n1, toward) * dot(m * n2, toward) > 0.) { gl_Position = vec4(2., 2., 2., 1.); world = vec3(0.); faint = 0.; return; }
        }
        vec4 wa = modelMatrix * vec4(a, 1.), wb = modelMatrix * vec4(b, 1.);
        world = position.x < .5 ? wa.xyz : wb.xyz;
        vec4 pa = projectionMatrix * viewMatrix * wa, pb = projectionMatrix * viewMatrix * wb;
        vec2 d = (pb.xy - pa.xy) * size;
        // Seen end on, a line is no line.
        if (dot(d, d) < .5) { gl_Position = vec4(2., 2., 2., 1.); faint = 0.; return; }
        d = normalize(d);
        // Slots are fainter where they lie close on the screen.
        float half_ = wide * weight * clamp(size.x / 640., .66, 1.);
        faint = 1.;
        if (weight < .6) { faint = min(1., .1 + scale * .5); half_ = max(half_ * faint, .7); }
        vec4 p = position.x < .5 ? pa : pb;
        p.xy += (vec2(-d.y, d.x) * position.y + d * (position.x * 2. - 1.) * .8) * half_ / size;
        p.z -= near;
        gl_Position = p;
      }`,
    fragmentShader: /* glsl */ `
      uniform vec3 colour; uniform float shown; varying float faint;
      ${common}
      void main() { if (away()) discard; gl_FragColor = vec4(colour, shown * faint); }`,
  }) as Pen
}

/** The geometry of edges: a quad for each. */
export function edgeGeometry(edges: Float32Array): InstancedBufferGeometry {
  const g = new InstancedBufferGeometry()
  g.setAttribute('position', new Float32BufferAttribute([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0], 3))
  g.setIndex([0, 1, 2, 0, 2, 3])
  fillEdges(g, edges)
  return g
}

/** Puts edges in the place of those that were. */
export function fillEdges(g: InstancedBufferGeometry, edges: Float32Array) {
  const n = edges.length / perEdge
  const put = (name: string, at: number, size: number) => {
    const was = g.getAttribute(name) as InstancedBufferAttribute | undefined
    const to = was?.count === n ? was : new InstancedBufferAttribute(new Float32Array(n * size), size)
    for (let i = 0; i < n; i++) for (let k = 0; k < size; k++) to.array[i * size + k] = edges[i * perEdge + at + k]!
    to.needsUpdate = true
    if (to !== was) g.setAttribute(name, to)
  }
  put('a', 0, 3)
  put('b', 3, 3)
  put('n1', 6, 3)
  put('n2', 9, 3)
  put('weight', 12, 1)
  g.instanceCount = n
}

export function fill(g: BufferGeometry, points: Float32Array, normals: Float32Array, grain: Float32Array, triangles: Uint32Array) {
  const put = (name: string, from: Float32Array) => {
    const was = g.getAttribute(name)
    if (was && was.array.length === from.length) {
      was.array.set(from)
      was.needsUpdate = true
    } else g.setAttribute(name, new Float32BufferAttribute(from, 3))
  }
  put('position', points)
  put('normal', normals)
  put('grain', grain)
  if (g.index?.count !== triangles.length) g.setIndex(Array.from(triangles))
  g.computeBoundingBox()
  g.computeBoundingSphere()
}

/** A colour token of the page, as it stands there. */
export function token(of: Element, name: string): Color {
  const text = getComputedStyle(of).getPropertyValue(name).trim()
  // As written, not converted to light: the shaders mix colours as the page does.
  return new Color().setStyle(text || '#888').convertLinearToSRGB()
}
