// Cutting closed surfaces by a plane square to an axis.
import type { V3 } from './types'

export type Axis = 0 | 1 | 2
export type P2 = [number, number]

/** A cut face: its outer run, anticlockwise seen from the positive side of the axis, and its holes. */
export interface Cut { outer: P2[]; holes: P2[][] }

/** The two axes of the plane, so that they and the axis are right-handed. */
export const across: Record<Axis, [Axis, Axis]> = { 0: [1, 2], 1: [2, 0], 2: [0, 1] }

/** Where a plane cuts a closed surface of triangles. */
export function slice(points: ArrayLike<number>, triangles: ArrayLike<number>, axis: Axis, at: number): Cut[] {
  const [u, v] = across[axis]
  const p = (i: number): V3 => [points[3 * i]!, points[3 * i + 1]!, points[3 * i + 2]!]
  // A cut of a side is reckoned from its lesser end, so that the two triangles
  // that share it give the same point.
  const cut = (a: V3, b: V3): P2 => {
    const swap = a[0] - b[0] || a[1] - b[1] || a[2] - b[2]
    if (swap > 0) [a, b] = [b, a]
    const t = (at - a[axis]) / (b[axis] - a[axis])
    return [a[u] + t * (b[u] - a[u]), a[v] + t * (b[v] - a[v])]
  }
  const key = (q: P2) => `${Math.round(q[0] * 200)} ${Math.round(q[1] * 200)}`
  const next = new Map<string, { from: P2; to: P2 }[]>()
  for (let i = 0; i < triangles.length; i += 3) {
    const q = [p(triangles[i]!), p(triangles[i + 1]!), p(triangles[i + 2]!)]
    const over = q.map((c) => c[axis] > at)
    if (over[0] === over[1] && over[1] === over[2]) continue
    // Below to above along the first crossing side; the surface lies on the
    // left of the cut seen from the positive side.
    let up: P2 | undefined, down: P2 | undefined
    for (let k = 0; k < 3; k++) {
      const a = q[k]!, b = q[(k + 1) % 3]!
      if (!over[k] && over[(k + 1) % 3]) up = cut(a, b)
      if (over[k] && !over[(k + 1) % 3]) down = cut(a, b)
    }
    if (!up || !down) continue
    const from = down, to = up
    if (key(from) === key(to)) continue
    const list = next.get(key(from))
    if (list) list.push({ from, to })
    else next.set(key(from), [{ from, to }])
  }
  const loops: P2[][] = []
  for (const list of next.values()) {
    while (list.length) {
      const loop: P2[] = []
      let side = list.pop()
      while (side) {
        loop.push(side.from)
        side = next.get(key(side.to))?.pop()
      }
      if (loop.length > 2) loops.push(loop)
    }
  }
  return nest(loops)
}

export function area(loop: P2[]): number {
  let a = 0
  loop.forEach((p, i) => {
    const q = loop[(i + 1) % loop.length]!
    a += p[0] * q[1] - q[0] * p[1]
  })
  return a / 2
}

function inside(p: P2, loop: P2[]): boolean {
  let odd = false
  loop.forEach((a, i) => {
    const b = loop[(i + 1) % loop.length]!
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd
  })
  return odd
}

function nest(loops: P2[][]): Cut[] {
  const sorted = loops.filter((l) => Math.abs(area(l)) > 1e-3).sort((a, b) => Math.abs(area(b)) - Math.abs(area(a)))
  const cuts: Cut[] = []
  for (const l of sorted) {
    const p = l[0]!
    const depth = sorted.filter((o) => o !== l && Math.abs(area(o)) > Math.abs(area(l)) && inside(p, o)).length
    if (depth % 2 === 0) cuts.push({ outer: area(l) < 0 ? [...l].reverse() : l, holes: [] })
    else {
      const around = [...cuts].reverse().find((c) => inside(p, c.outer))
      around?.holes.push(area(l) > 0 ? [...l].reverse() : l)
    }
  }
  return cuts
}
