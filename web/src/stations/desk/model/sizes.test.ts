import { expect, test } from 'vitest'
import { beyond, clearOf, figure, lay, type P } from './sizes'
import type { Measure, Scene, V3 } from './types'

const measure = (name: string, from: V3, to: V3, more: Partial<Measure> = {}): Measure => ({
  kind: 'outside', name, from_mm: from, to_mm: to, away: [[0, -1, 0]], row: 0, size: { own: '', other: '' }, ...more,
})
const scene = {
  low_mm: [0, 0, 0], high_mm: [400, 200, 300], fixtures: [],
  measures: [
    measure('width', [0, 0, 0], [400, 0, 0]), measure('depth', [400, 0, 0], [400, 200, 0]), measure('height', [400, 0, 0], [400, 0, 300]),
    measure('opening', [20, 0, 100], [380, 0, 100], { kind: 'opening', away: [] }),
  ],
} as unknown as Scene

// From the front: x to the right, z up, a pixel a millimetre.
const front = { at: (p: V3): P => [100 + p[0], 400 - p[2]], toward: [0, -1, 0] as V3 }
const behind = { at: (p: V3): P => [500 - p[0], 400 - p[2]], toward: [0, 1, 0] as V3 }

test('from the front, width lies below, height beside, and depth is seen end on', () => {
  const all = lay(scene, 'outside', front)
  expect(all.map((l) => l.measure.name)).toEqual(['width', 'height'])
  const [w, h] = all as [(typeof all)[0], (typeof all)[0]]
  expect(w.at[1]).toBeGreaterThan(400)
  expect(h.at[0]).toBeGreaterThan(500)
  // Each line is as long on the screen as what it measures.
  for (const [l, long] of [[w, 400], [h, 300]] as const) {
    const [a, b] = l.lines[0]!
    expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(long)
  }
})

test('sizes of openings show from the front only', () => {
  expect(lay(scene, 'openings', front).length).toBe(1)
  expect(lay(scene, 'openings', behind).length).toBe(0)
})

test('figures never lie on each other', () => {
  const crowd = { ...scene, measures: Array.from({ length: 12 }, (_, i) => measure(`m${i}`, [0, 0, 0], [400, 0, 0])) } as Scene
  const all = lay(crowd, 'outside', front)
  expect(all.length).toBeGreaterThan(2)
  all.forEach((l, i) => {
    for (const o of all.slice(0, i)) {
      expect(Math.abs(l.at[0] - o.at[0]) >= figure.w || Math.abs(l.at[1] - o.at[1]) >= figure.h).toBe(true)
    }
  })
})

test('what reaches over the edge is told, and a balloon keeps off figures', () => {
  const all = lay(scene, 'outside', front)
  expect(beyond(all, 1000, 1000)).toEqual({ top: 0, right: 0, bottom: 0, left: 0 })
  expect(beyond(all, 1000, 410).bottom).toBeGreaterThan(0)
  const at = clearOf([all[0]!.at[0] + 46, all[0]!.at[1] + 52], all, 1000, 1000)
  expect(Math.abs(at[0] - all[0]!.at[0]) > 15 || Math.abs(at[1] - all[0]!.at[1]) > 15).toBe(true)
})
