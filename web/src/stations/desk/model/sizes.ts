// Dimensions laid over the view: each stands off on the side of the piece
// where it is out of the way, drawn as on paper.
import type { Measure, Scene, V3 } from './types'

export type P = [number, number]
/** A dimension on the screen: extension lines, its line with ticks, and where its figure stands. */
export interface Laid { measure: Measure; lines: [P, P][]; ticks: [P, P][]; at: P; beside: P }

interface Sight { at: (p: V3) => P; toward: V3 }

const tick = 5, clear = 7

/** The room a figure takes on the screen. */
export const figure = { w: 84, h: 34 }

/** The measures of a kind as they lie in this view; those seen end on are left out. */
export function lay(scene: Scene, kind: 'outside' | 'openings', sight: Sight, few = false): Laid[] {
  const wanted = scene.measures
    .filter((m) => (kind === 'openings' ? m.kind === 'opening' : m.kind === 'outside' || (m.kind === 'case' && !few)))
    .map((m) => (few ? { ...m, row: 0 } : m))
  const out: Laid[] = []
  for (const m of wanted) {
    const got = m.away.length ? stoodOff(scene, m, sight) : inPlace(m, sight)
    if (got) out.push(got)
  }
  return spread(out)
}

const sub = (a: P, b: P): P => [a[0] - b[0], a[1] - b[1]]
const len = (a: P) => Math.hypot(a[0], a[1])

function inPlace(m: Measure, s: Sight): Laid | undefined {
  if (s.toward[1] > -0.2) return undefined // openings are seen from the front
  const a = s.at(m.from_mm), b = s.at(m.to_mm)
  const d = sub(b, a), l = len(d)
  if (l < 34) return undefined
  return line(m, a, b, [], [d[0] / l, d[1] / l])
}

function line(m: Measure, a: P, b: P, lines: [P, P][], u: P): Laid {
  // Ticks lean the same way everywhere.
  const t: P = [(u[0] - u[1]) * tick * 0.7, (u[1] + u[0]) * tick * 0.7]
  const ticks = [a, b].map((p): [P, P] => [[p[0] - t[0], p[1] - t[1]], [p[0] + t[0], p[1] + t[1]]])
  return { measure: m, lines: [[a, b], ...lines], ticks, at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], beside: [0, 0] }
}

/** Of the four edges of the piece's box that run this way, the one that lies outermost on the screen on the wanted side. */
function stoodOff(scene: Scene, m: Measure, s: Sight): Laid | undefined {
  const axis = [0, 1, 2].reduce((best, k) => (Math.abs(m.to_mm[k]! - m.from_mm[k]!) > Math.abs(m.to_mm[best]! - m.from_mm[best]!) ? k : best), 0)
  const [u, v] = [0, 1, 2].filter((k) => k !== axis) as [number, number]
  const lo = scene.low_mm, hi = scene.high_mm
  const middle = s.at([0, 1, 2].map((k) => (lo[k]! + hi[k]!) / 2) as V3)
  let best: { a: P; b: P; out: P; score: number } | undefined
  for (const [i, j] of [[0, 0], [0, 1], [1, 0], [1, 1]] as const) {
    const p: V3 = [...m.from_mm], q: V3 = [...m.to_mm]
    const low = axis === 2 ? lo : [lo[0], lo[1], 0]
    p[u] = q[u] = i ? hi[u]! : low[u]!
    p[v] = q[v] = j ? hi[v]! : low[v]!
    const a = s.at(p), b = s.at(q)
    const d = sub(b, a), l = len(d)
    if (l < 12) return undefined // seen end on
    const n: P = [-d[1] / l, d[0] / l]
    const mid: P = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
    const far = (mid[0] - middle[0]) * n[0] + (mid[1] - middle[1]) * n[1]
    const out: P = far < 0 ? [-n[0], -n[1]] : n
    // Below for what runs across, at the right for what stands.
    const side = Math.abs(d[0]) > Math.abs(d[1]) ? out[1] : out[0]
    const score = Math.abs(far) + (side > 0 ? 40 : 0)
    if (!best || score > best.score + 0.5) best = { a, b, out, score }
  }
  if (!best) return undefined
  const { a, b, out } = best
  const wide = Math.abs(out[0]) * figure.w * 0.5 + Math.abs(out[1]) * figure.h * 0.5
  // Pulls, casters and the like stand out beyond the box.
  const edge = (a[0] + b[0]) / 2 * out[0] + (a[1] + b[1]) / 2 * out[1]
  let stands = 0
  for (const f of scene.fixtures) {
    for (const p of [...(f.boxes ?? []).flatMap((x) => [x.low_mm, x.high_mm]), ...(f.rods ?? []).flatMap((x) => [x.from_mm, x.to_mm])]) {
      const q = s.at(p)
      stands = Math.max(stands, q[0] * out[0] + q[1] * out[1] - edge)
    }
  }
  const by = clear + stands + wide + m.row * (wide * 2 - 4)
  const move = (p: P, d: number): P => [p[0] + out[0] * d, p[1] + out[1] * d]
  const d = sub(b, a), l = len(d)
  const laid = line(m, move(a, by), move(b, by), [[move(a, clear), move(a, by + 5)], [move(b, clear), move(b, by + 5)]], [d[0] / l, d[1] / l])
  // A figure longer than its line stands beyond it.
  const long = (Math.abs(d[0] / l) * figure.w + Math.abs(d[1] / l) * figure.h)
  if (l < long + 8) laid.beside = [out[0] * (wide + 4), out[1] * (wide + 4)]
  return laid
}

/** Moves figures along their lines so that none lies on another; one that finds no room is left out. */
function spread(all: Laid[]): Laid[] {
  const taken: P[] = []
  const hits = (p: P) => taken.some((q) => Math.abs(p[0] - q[0]) < figure.w && Math.abs(p[1] - q[1]) < figure.h)
  return all.filter((l) => {
    const [a, b] = l.lines[0]!
    for (const t of [0.5, 0.35, 0.65, 0.2, 0.8, -0.15, 1.15]) {
      const p: P = [a[0] + (b[0] - a[0]) * t + l.beside[0], a[1] + (b[1] - a[1]) * t + l.beside[1]]
      if (hits(p)) continue
      l.at = p
      taken.push(p)
      return true
    }
    return false
  })
}

/** By how much figures and lines reach over the edges of a view. */
export function beyond(all: Laid[], w: number, h: number): { top: number; right: number; bottom: number; left: number } {
  const out = { top: 0, right: 0, bottom: 0, left: 0 }
  const reach = (p: P, x: number, y: number) => {
    out.left = Math.max(out.left, x - p[0])
    out.right = Math.max(out.right, p[0] + x - w)
    out.top = Math.max(out.top, y - p[1])
    out.bottom = Math.max(out.bottom, p[1] + y - h)
  }
  for (const l of all) {
    reach(l.at, figure.w / 2, figure.h / 2)
    for (const p of l.lines.flat()) reach(p, 6, 6)
  }
  return out
}

/** A place for a balloon beside a point: within the view and off the figures. */
export function clearOf(to: P, all: Laid[], w: number, h: number): P {
  const way = to[0] < w / 2 ? -1 : 1
  const tries: P[] = [[46 * way, -52], [-46 * way, -52], [66 * way, 0], [-66 * way, 0], [0, 66], [90 * way, -90], [-90 * way, -90]]
  const places = tries.map((t): P => [Math.max(22, Math.min(w - 22, to[0] + t[0])), Math.max(22, Math.min(h - 22, to[1] + t[1]))])
  const free = (p: P) => all.every((l) => Math.abs(l.at[0] - p[0]) > figure.w / 2 + 18 || Math.abs(l.at[1] - p[1]) > figure.h / 2 + 18)
  return places.find((p) => free(p) && Math.hypot(p[0] - to[0], p[1] - to[1]) > 34) ?? places[0]!
}
