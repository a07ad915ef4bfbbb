// Surfaces of bodies with what is drawn on them: where the grain runs on each
// face, and the edges that a draughtsman would draw.
import { hang, put, skin } from './chain'
import type { Body, Fixture, Lay, Mesh, Pose, Strip, V3 } from './types'

/** What shows on a face. */
export const Kind = { grain: 0, plies: 1, end: 2, plain: 3 } as const

/** Numbers for each edge: two ends, the normals on both sides, a weight. */
export const perEdge = 13

export interface Surface {
  points: Float32Array
  normals: Float32Array
  /** For each corner how far it lies along and across the grain, and its Kind. */
  grain: Float32Array
  triangles: Uint32Array
  /** Sharp edges have normals of 0; where the surface only rounds, an edge is drawn when it is a contour. */
  edges: Float32Array
}

class Maker {
  points: number[] = []
  normals: number[] = []
  grain: number[] = []
  triangles: number[] = []
  edges: number[] = []

  corner(p: V3, n: V3, along: number, across: number, kind: number): number {
    this.points.push(...p)
    this.normals.push(...n)
    this.grain.push(along, across, kind)
    return this.points.length / 3 - 1
  }

  edge(a: V3, b: V3, weight: number, n1: V3 = [0, 0, 0], n2: V3 = [0, 0, 0]) {
    this.edges.push(...a, ...b, ...n1, ...n2, weight)
  }

  done(): Surface {
    return {
      points: new Float32Array(this.points), normals: new Float32Array(this.normals), grain: new Float32Array(this.grain),
      triangles: new Uint32Array(this.triangles), edges: new Float32Array(this.edges),
    }
  }
}

const sub = (a: V3, b: V3): V3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const dot = (a: V3, b: V3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const unit = (a: V3): V3 => {
  const l = Math.hypot(...a) || 1
  return [a[0] / l, a[1] / l, a[2] / l]
}

const sharp = Math.cos((20 * Math.PI) / 180)
const plane = Math.cos((0.5 * Math.PI) / 180)

/** The edges of a closed mesh, each once. */
export function edgesOf(points: ArrayLike<number>, triangles: ArrayLike<number>, found: (a: V3, b: V3, weight: number, n1?: V3, n2?: V3) => void) {
  const at = (i: number): V3 => [points[3 * i]!, points[3 * i + 1]!, points[3 * i + 2]!]
  const ids = new Map<string, number>()
  const id = (p: V3) => {
    const key = p.map((c) => Math.round(c * 50)).join()
    let n = ids.get(key)
    if (n === undefined) ids.set(key, (n = ids.size))
    return n
  }
  const sides = new Map<string, { a: V3; b: V3; n: V3[] }>()
  for (let i = 0; i < triangles.length; i += 3) {
    const p = [at(triangles[i]!), at(triangles[i + 1]!), at(triangles[i + 2]!)] as [V3, V3, V3]
    const n = unit(cross(sub(p[1], p[0]), sub(p[2], p[0])))
    if (!n.some((c) => c !== 0)) continue
    for (let k = 0; k < 3; k++) {
      const a = p[k]!, b = p[(k + 1) % 3]!
      const i1 = id(a), i2 = id(b)
      if (i1 === i2) continue
      const key = i1 < i2 ? `${i1} ${i2}` : `${i2} ${i1}`
      const s = sides.get(key)
      if (s) s.n.push(n)
      else sides.set(key, { a, b, n: [n] })
    }
  }
  for (const { a, b, n } of sides.values()) {
    const [n1, n2] = n
    if (!n1 || !n2) found(a, b, 1)
    else {
      const c = dot(n1, n2)
      if (c < sharp) found(a, b, 1)
      else if (c < plane) found(a, b, 1, n1, n2)
    }
  }
}

/** Of a part that is not bent: its mesh lies in its own axes, thickness along z. */
export function ofMesh(b: Body, m: Mesh): Surface {
  const out = new Maker()
  const g = b.grain
  for (let i = 0; i < m.points_mm.length; i += 3) {
    const p: V3 = [m.points_mm[i]!, m.points_mm[i + 1]!, m.points_mm[i + 2]!]
    const n: V3 = [m.normals[i]!, m.normals[i + 1]!, m.normals[i + 2]!]
    let [along, across] = [p[0], p[1]]
    if (g) [along, across] = [p[0] * g[0]! + p[1] * g[1]!, p[1] * g[0]! - p[0] * g[1]!]
    let kind: number = g ? Kind.grain : Kind.plain
    if (Math.abs(n[2]) < 0.7) {
      if (!b.solid) { kind = Kind.plies; across = p[2]; along = 0 }
      else if (g && Math.abs(n[0] * g[0]! + n[1] * g[1]!) > 0.7) { kind = Kind.end; along = across; across = p[2] }
      else { across = p[2] }
    }
    out.corner(p, n, along, across, kind)
  }
  out.triangles = m.triangles
  edgesOf(m.points_mm, m.triangles, (a, c, w, n1, n2) => out.edge(a, c, w, n1, n2))
  return out.done()
}

/** A point of a strip's edge as seen along its width, with its normals to either side. */
interface Node { p: [number, number]; x: number; y: number; out: [number, number]; into: [number, number]; kind: number; mark: number }

/** How an outline of a strip runs along one of its faces, from its near end to its far one. */
function run(s: Strip, at: Pose[], share: number, y: number): Node[] {
  const nodes: Node[] = []
  const T = s.thickness_mm, sign = y === 0 ? -1 : 1
  const normal = (p: Pose): [number, number] => [-Math.sin(p.rad) * sign, Math.cos(p.rad) * sign]
  const wall = (p: Pose, way: number): [number, number] => [Math.cos(p.rad) * way, Math.sin(p.rad) * way]
  const add = (p: Pose, x: number, yy: number, into: [number, number], out: [number, number], kind: number, mark: number, dev = x) =>
    nodes.push({ p: put(p, x, yy), x: dev, y: yy, into, out, kind, mark })
  let i = 0
  const first = at[0]!
  add(first, 0, y, wall(first, -1), normal(first), Kind.grain, 1)
  for (const b of s.bends) {
    const cutHere = b.show_face === (y === 0)
    const theta = share * b.each_rad
    const bottom = b.show_face ? b.depth_mm : T - b.depth_mm
    for (const c of b.kerfs_mm) {
      const before = at[i]!, after = at[i + 1]!
      const x0 = c - b.width_mm / 2, x1 = c + b.width_mm / 2
      const steps = Math.max(2, Math.ceil(Math.abs(theta) / 0.07))
      if (cutHere) {
        add(before, x0, y, normal(before), wall(before, 1), Kind.plies, 0.55)
        add(before, x0, bottom, wall(before, 1), normal(before), Kind.plain, 0)
      } else {
        add(before, x0, y, normal(before), normal(before), Kind.grain, -1)
      }
      for (let k = 1; k < steps; k++) {
        const p = skin(b, before, c, theta, k / steps)
        const n = normal(p)
        add(p, 0, (cutHere ? bottom : y) - b.neutral_mm, n, n, cutHere ? Kind.plain : Kind.grain, cutHere ? 0 : -1, x0 + (b.width_mm * k) / steps)
      }
      if (cutHere) {
        add(after, x1, bottom, normal(after), wall(after, -1), Kind.plies, 0)
        add(after, x1, y, wall(after, -1), normal(after), Kind.grain, 0.55)
      } else {
        add(after, x1, y, normal(after), normal(after), Kind.grain, -1)
      }
      i++
    }
  }
  const last = at[i]!
  add(last, s.length_mm, y, normal(last), wall(last, 1), Kind.plies, 1)
  return nodes
}

/** Of a strip bent by a share: in the axes of its place, width along z. */
export function ofStrip(b: Body, s: Strip, lay: Lay | undefined, up: [number, number], share: number): Surface {
  const out = new Maker()
  const at = hang(s, lay, up, share)
  const low = run(s, at, share, 0), high = run(s, at, share, s.thickness_mm)
  const W = s.width_mm
  const long = !b.grain || b.grain[0] === 1
  const space = (p: [number, number], z: number): V3 => [p[0], p[1], z]

  const side = (a: Node, c: Node, n1: [number, number], n2: [number, number], kind: number, flip: boolean) => {
    const k = [a, c].flatMap((q, i) => [0, W].map((z) => {
      const n = i ? n2 : n1
      let along = q.x, across = z
      if (kind === Kind.plies) { along = z; across = q.y }
      else if (!long) [along, across] = [across, along]
      return out.corner(space(q.p, z), [n[0], n[1], 0], along, across, b.grain || kind !== Kind.grain ? kind : Kind.plain)
    }))
    const [a0, a1, c0, c1] = k as [number, number, number, number]
    if (flip) out.triangles.push(a0, a1, c1, a0, c1, c0)
    else out.triangles.push(a0, c1, a1, a0, c0, c1)
  }
  for (const [nodes, flip] of [[low, false], [high, true]] as const) {
    for (let i = 0; i + 1 < nodes.length; i++) side(nodes[i]!, nodes[i + 1]!, nodes[i]!.out, nodes[i + 1]!.into, nodes[i]!.kind, flip)
  }
  const n0 = low[0]!.into, n1 = low[low.length - 1]!.out
  side(low[0]!, high[0]!, n0, n0, Kind.plies, true)
  side(low[low.length - 1]!, high[high.length - 1]!, n1, n1, Kind.plies, false)

  // The two edges of the panel, a quad for each land and each bit of skin.
  for (const [z, nz] of [[0, -1], [W, 1]] as const) {
    const quad = (a: Node, c: Node, d: Node, e: Node) => {
      const k = [a, c, d, e].map((q) => out.corner(space(q.p, z), [0, 0, nz], q.x, q.y, b.solid ? Kind.end : Kind.plies)) as [number, number, number, number]
      if (nz > 0) out.triangles.push(k[0], k[1], k[2], k[0], k[2], k[3])
      else out.triangles.push(k[0], k[2], k[1], k[0], k[3], k[2])
    }
    walk(low, high, quad)
  }

  // Edges: round both ends of the width, along it at corners, and contours of
  // the uncut face.
  for (const nodes of [low, high]) {
    nodes.forEach((q, i) => {
      const next = nodes[i + 1]
      if (next) {
        const fine = q.mark === 0 || next.mark === 0 ? 0.55 : 1
        for (const z of [0, W]) out.edge(space(q.p, z), space(next.p, z), fine)
      }
      if (q.mark > 0) out.edge(space(q.p, 0), space(q.p, W), q.mark)
      else if (q.mark < 0) {
        const before = nodes[i - 1], tilt = (m: Node, n: Node): V3 => {
          const d: V3 = [n.p[0] - m.p[0], n.p[1] - m.p[1], 0]
          return unit(nodes === low ? [d[1], -d[0], 0] : [-d[1], d[0], 0])
        }
        if (before && next) out.edge(space(q.p, 0), space(q.p, W), 1, tilt(before, q), tilt(q, next))
      }
    })
  }
  for (const z of [0, W]) {
    out.edge(space(low[0]!.p, z), space(high[0]!.p, z), 1)
    out.edge(space(low[low.length - 1]!.p, z), space(high[high.length - 1]!.p, z), 1)
  }
  return out.done()
}

/** Walks both faces together and gives the quads between them. */
function walk(low: Node[], high: Node[], quad: (a: Node, b: Node, c: Node, d: Node) => void) {
  // The walls of slots stand upright: their quads have no width and are left out.
  const flat = (nodes: Node[]) => {
    const out: [Node, Node][] = []
    for (let i = 0; i + 1 < nodes.length; i++) if (nodes[i + 1]!.x > nodes[i]!.x + 1e-9) out.push([nodes[i]!, nodes[i + 1]!])
    return out
  }
  const a = flat(low), c = flat(high)
  for (let i = 0; i < Math.min(a.length, c.length); i++) quad(a[i]![0], a[i]![1], c[i]![1], c[i]![0])
}

/** Of hardware, in the piece's axes. */
export function ofFixture(f: Fixture): Surface {
  const points: number[] = [], normals: number[] = [], triangles: number[] = []
  const face = (loop: V3[], n: V3 | V3[]) => {
    const first = points.length / 3
    loop.forEach((p, i) => { points.push(...p); normals.push(...(Array.isArray(n[0]) ? (n as V3[])[i]! : (n as V3))) })
    for (let i = 1; i + 1 < loop.length; i++) triangles.push(first, first + i, first + i + 1)
  }
  for (const { low_mm: l, high_mm: h } of f.boxes ?? []) {
    const p = (x: number, y: number, z: number): V3 => [x ? h[0] : l[0], y ? h[1] : l[1], z ? h[2] : l[2]]
    face([p(0, 0, 0), p(0, 1, 0), p(1, 1, 0), p(1, 0, 0)], [0, 0, -1])
    face([p(0, 0, 1), p(1, 0, 1), p(1, 1, 1), p(0, 1, 1)], [0, 0, 1])
    face([p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)], [0, -1, 0])
    face([p(0, 1, 0), p(0, 1, 1), p(1, 1, 1), p(1, 1, 0)], [0, 1, 0])
    face([p(0, 0, 0), p(0, 0, 1), p(0, 1, 1), p(0, 1, 0)], [-1, 0, 0])
    face([p(1, 0, 0), p(1, 1, 0), p(1, 1, 1), p(1, 0, 1)], [1, 0, 0])
  }
  for (const { from_mm: a, to_mm: z, diameter_mm } of f.rods ?? []) {
    const w = unit(sub(z, a)), u = unit(cross(w, Math.abs(w[2]) > 0.7 ? [1, 0, 0] : [0, 0, 1])), v = cross(w, u)
    const n = 24, r = diameter_mm / 2
    const way = (i: number): V3 => {
      const c = Math.cos((2 * Math.PI * i) / n), s = Math.sin((2 * Math.PI * i) / n)
      return [u[0] * c + v[0] * s, u[1] * c + v[1] * s, u[2] * c + v[2] * s]
    }
    const at = (o: V3, d: V3): V3 => [o[0] + r * d[0], o[1] + r * d[1], o[2] + r * d[2]]
    const ring = Array.from({ length: n }, (_, i) => way(i))
    for (let i = 0; i < n; i++) {
      const d = ring[i]!, e = ring[(i + 1) % n]!
      face([at(a, d), at(a, e), at(z, e), at(z, d)], [d, e, e, d])
    }
    face(ring.map((d) => at(z, d)), w)
    face([...ring].reverse().map((d) => at(a, d)), [-w[0], -w[1], -w[2]])
  }
  const out = new Maker()
  for (let i = 0; i < points.length; i += 3) {
    out.corner([points[i]!, points[i + 1]!, points[i + 2]!], [normals[i]!, normals[i + 1]!, normals[i + 2]!], 0, 0, Kind.plain)
  }
  out.triangles = triangles
  edgesOf(points, triangles, (p, q, w, m, k) => out.edge(p, q, w * 0.7, m, k))
  return out.done()
}
