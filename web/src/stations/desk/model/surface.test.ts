import { expect, test } from 'vitest'
import { area, slice } from './slice'
import examples from './strips.json'
import { ofFixture, ofMesh, ofStrip, perEdge, type Surface } from './surface'
import type { Body, Spot, Strip } from './types'

const box = ofFixture({ kind: 'plate', name: '', apart_mm: [0, 0, 0], boxes: [{ low_mm: [0, 0, 0], high_mm: [30, 20, 10] }] })
const rod = ofFixture({ kind: 'pull', name: '', apart_mm: [0, 0, 0], rods: [{ from_mm: [0, 0, 0], to_mm: [0, 0, 100], diameter_mm: 20 }] })

function volume(s: Surface): number {
  let v = 0
  const p = s.points
  for (let i = 0; i < s.triangles.length; i += 3) {
    const [a, b, c] = [s.triangles[i]! * 3, s.triangles[i + 1]! * 3, s.triangles[i + 2]! * 3]
    v += p[a]! * (p[b + 1]! * p[c + 2]! - p[b + 2]! * p[c + 1]!) + p[a + 1]! * (p[b + 2]! * p[c]! - p[b]! * p[c + 2]!) + p[a + 2]! * (p[b]! * p[c + 1]! - p[b + 1]! * p[c]!)
  }
  return v / 6
}

/** Triangles turn the way of their normals. */
function turned(s: Surface): number {
  let wrong = 0
  for (let i = 0; i < s.triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => { const j = s.triangles[i + k]! * 3; return [...s.points.slice(j, j + 3)] }) as [number[], number[], number[]]
    const u = b.map((x, k) => x - a[k]!), v = c.map((x, k) => x - a[k]!)
    const n = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!]
    const size = Math.hypot(...n)
    const m = s.normals.slice(s.triangles[i]! * 3, s.triangles[i]! * 3 + 3)
    if (size > 1e-2 && n.reduce((sum, x, k) => sum + x * m[k]!, 0) / size < 0.5) wrong++
  }
  return wrong
}

test('a box and a rod are closed, with the edges a draughtsman draws', () => {
  expect(volume(box)).toBeCloseTo(6000, 3)
  expect(turned(box)).toBe(0)
  expect(box.edges.length / perEdge).toBe(12)
  expect(volume(rod)).toBeCloseTo(24 * 0.5 * 100 * Math.sin((2 * Math.PI) / 24) * 100, 0)
  const sharp = [...Array(rod.edges.length / perEdge).keys()].filter((i) => !rod.edges.slice(i * perEdge + 6, i * perEdge + 12).some(Boolean))
  expect(sharp.length).toBe(48) // both rims; the rest are contours
  expect(rod.edges.length / perEdge).toBe(72)
})

test('a section of a box is its rectangle, of a rod its polygon', () => {
  expect(slice(box.points, box.triangles, 0, 12).map((c) => area(c.outer))).toEqual([200])
  expect(slice(box.points, box.triangles, 1, 12).map((c) => area(c.outer))).toEqual([300])
  expect(slice(box.points, box.triangles, 2, 12)).toEqual([])
  const cut = slice(rod.points, rod.triangles, 2, 40)
  expect(cut.length).toBe(1)
  expect(area(cut[0]!.outer)).toBeCloseTo(24 * 0.5 * 100 * Math.sin((2 * Math.PI) / 24), 2)
})

test('a section of a tube has a hole', () => {
  // Two prisms, the inner one turned inside out, joined by nothing: as one
  // surface it is a ring in section.
  const inner = ofFixture({ kind: '', name: '', apart_mm: [0, 0, 0], boxes: [{ low_mm: [5, 5, -1], high_mm: [25, 15, 11] }] })
  const n = box.points.length / 3
  const tris = [...box.triangles]
  for (let i = 0; i < inner.triangles.length; i += 3) tris.push(n + inner.triangles[i]!, n + inner.triangles[i + 2]!, n + inner.triangles[i + 1]!)
  const cut = slice([...box.points, ...inner.points], tris, 2, 5)
  expect(cut.length).toBe(1)
  expect(area(cut[0]!.outer)).toBeCloseTo(600)
  expect(cut[0]!.holes.map(area)[0]).toBeCloseTo(-200)
})

test('grain runs along a part on its faces, plies show on the edges of a panel', () => {
  const m = { points_mm: [...box.points], normals: [...box.normals], triangles: [...box.triangles] }
  const part = { solid: false, grain: [0, 1] } as unknown as Body
  const s = ofMesh(part, m)
  for (let i = 0; i < s.points.length; i += 3) {
    const up = Math.abs(s.normals[i + 2]!) === 1
    expect(s.grain[i + 2]).toBe(up ? 0 : 1)
    if (up) expect(s.grain[i]).toBe(s.points[i + 1])
    else expect(s.grain[i + 1]).toBe(s.points[i + 2])
  }
})

const strips = examples as unknown as { name: string; strip: Strip; spot: Spot }[]

test.each(strips)('$name keeps its wood while it bends, and is closed', ({ strip, spot }) => {
  const body = { solid: false, grain: [1, 0] } as unknown as Body
  let slots = 0
  for (const b of strip.bends) slots += b.kerfs_mm.length * b.width_mm * b.depth_mm
  const flat = (strip.length_mm * strip.thickness_mm - slots) * strip.width_mm
  for (const share of [0, 0.5, 1]) {
    const s = ofStrip(body, strip, spot.lay, [spot.matrix[2]!, spot.matrix[5]!], share)
    expect(turned(s)).toBe(0)
    // The skin keeps its length on the neutral line, so its volume stays but
    // for the hinge's small stretch.
    expect(Math.abs(volume(s) / flat - 1)).toBeLessThan(0.003)
    const cut = slice(s.points, s.triangles, 2, strip.width_mm / 2)
    expect(cut.length).toBe(1)
    expect(area(cut[0]!.outer) * strip.width_mm).toBeCloseTo(volume(s), -2)
  }
})
