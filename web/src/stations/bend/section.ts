// Draws what the program worked out: points between two steps of a turn, and
// the sheet they lie on.

export interface Step {
  turn: number; says: string; gap: string; points: number[]
  apex?: number[] | null; radius_mm: number; radius: string; kerf: number[] | null
}
export type Pt = [number, number]

/** A step between two: points lie on the lines from one to the other. */
export interface Pose { turn: number; points: number[]; apex?: Pt; radius: number; kerf?: number[]; near: Step }

export function pose(steps: readonly Step[], at: number): Pose {
  at = at || 0 // and no number that is none
  const i = Math.max(0, Math.min(Math.floor(at), steps.length - 1))
  const a = steps[i]!
  const b = steps[Math.min(i + 1, steps.length - 1)]!
  const f = Math.max(0, Math.min(at - i, 1))
  const mix = (x: number, y: number) => x + (y - x) * f
  const both = (x?: number[] | null, y?: number[] | null) => x?.length && y?.length ? x.map((v, k) => mix(v, y[k]!)) : undefined
  return {
    turn: mix(a.turn, b.turn),
    points: a.points.map((v, k) => mix(v, b.points[k] ?? v)),
    apex: both(a.apex, b.apex) as Pt | undefined,
    radius: a.radius_mm && b.radius_mm ? mix(a.radius_mm, b.radius_mm) : 0,
    kerf: both(a.kerf, b.kerf),
    near: f < 0.5 ? a : b,
  }
}

/** The sheet: millimetres on it become pixels. */
export interface Sheet { k: number; width: number; height: number; x: (mm: number) => number; y: (mm: number) => number }

export interface Margins { left: number; right: number; top: number; bottom: number }

/** Fits a box of millimetres into a width and a greatest height of pixels. */
export function sheet(box: readonly number[], width: number, most: number, m: Margins): Sheet {
  const [x0, , x1, y1] = box as [number, number, number, number]
  const w = Math.max(x1 - x0, 1)
  const h = Math.max(y1 - box[1]!, 1)
  const k = Math.max(0.1, Math.min((width - m.left - m.right) / w, (most - m.top - m.bottom) / h))
  const left = m.left + (width - m.left - m.right - w * k) / 2
  return {
    k, width, height: h * k + m.top + m.bottom,
    x: (mm) => left + (mm - x0) * k,
    y: (mm) => m.top + (y1 - mm) * k,
  }
}

export function path(points: readonly number[], s: Pick<Sheet, 'x' | 'y'>, closed = true): string {
  let d = ''
  for (let i = 0; i + 1 < points.length; i += 2) {
    d += `${i ? 'L' : 'M'}${s.x(points[i]!).toFixed(2)} ${s.y(points[i + 1]!).toFixed(2)}`
  }
  return closed ? `${d}Z` : d
}

/** The last point of a line and the way it goes there, in pixels. */
export function end(points: readonly number[], s: Pick<Sheet, 'x' | 'y'>): { at: Pt; way: Pt } {
  const n = points.length
  const at: Pt = [s.x(points[n - 2]!), s.y(points[n - 1]!)]
  const from: Pt = [s.x(points[n - 4]!), s.y(points[n - 3]!)]
  const l = Math.hypot(at[0] - from[0], at[1] - from[1]) || 1
  return { at, way: [(at[0] - from[0]) / l, (at[1] - from[1]) / l] }
}

/** Pixels of a page to a millimetre, as pages reckon: 96 to the inch. */
const PX = 96 / 25.4

/** The scale of a drawing in words, as near as a screen can be known. */
export function scaleWords(k: number): string {
  const r = k / PX
  const round = (v: number) => (v >= 3 ? v.toFixed(0) : v.toFixed(1).replace(/\.0$/, ''))
  return r >= 1 ? `about ${round(r)} : 1 on a usual screen` : `about 1 : ${round(1 / r)} on a usual screen`
}

/** The box about points, for a small drawing of its own. */
export function boxOf(points: readonly number[]): [number, number, number, number] {
  const b: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i + 1 < points.length; i += 2) {
    b[0] = Math.min(b[0], points[i]!); b[2] = Math.max(b[2], points[i]!)
    b[1] = Math.min(b[1], points[i + 1]!); b[3] = Math.max(b[3], points[i + 1]!)
  }
  return b
}
