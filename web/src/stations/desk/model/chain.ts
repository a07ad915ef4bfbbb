// A strip as a chain of hinges: the same reckoning as the program's, so that
// it can be bent while a slider is moved. Tested against the program's figures.
import type { Lay, Pose, Strip, StripBend } from './types'

/** Takes a point of the pose's own axes to those it lies in. */
export function put(p: Pose, x: number, y: number): [number, number] {
  const c = Math.cos(p.rad), s = Math.sin(p.rad)
  return [p.x_mm + x * c - y * s, p.y_mm + x * s + y * c]
}

function moved(p: Pose, x: number, y: number): Pose {
  const [a, b] = put(p, x, y)
  return { x_mm: a, y_mm: b, rad: p.rad }
}

/**
 * The skin under a kerf at c, a part of the way over it, from 0 to 1: a pose
 * whose y counts from the neutral line. theta is the turn of the whole kerf.
 */
export function skin(b: StripBend, before: Pose, c: number, theta: number, part: number): Pose {
  const half = theta / 2
  let arc = b.width_mm
  if (Math.abs(half) > 1e-9) arc = b.pitch_mm - ((b.pitch_mm - b.width_mm) * half) / Math.tan(half)
  const turn = half * part
  const chord = arc * part * (Math.abs(turn) > 1e-9 ? Math.sin(turn) / turn : 1)
  const p = moved(before, c - b.width_mm / 2, b.neutral_mm)
  const q = moved({ ...p, rad: p.rad + turn }, chord, 0)
  return { ...q, rad: p.rad + 2 * turn }
}

/** The pose of the land after a kerf at c that has turned by theta. */
export function hinge(b: StripBend, before: Pose, c: number, theta: number): Pose {
  return moved(skin(b, before, c, theta, 1), -(c + b.width_mm / 2), -b.neutral_mm)
}

/** The poses of all lands when the bends have turned by a share of their angle. */
export function lands(s: Strip, share: number): Pose[] {
  const out: Pose[] = [{ x_mm: 0, y_mm: 0, rad: 0 }]
  for (const b of s.bends) {
    for (const c of b.kerfs_mm) out.push(hinge(b, out[out.length - 1]!, c, share * b.each_rad))
  }
  return out
}

/** The ends of each land along the strip, from the middle of one kerf to the next. */
export function ends(s: Strip): number[] {
  return [0, ...s.bends.flatMap((b) => b.kerfs_mm), s.length_mm]
}

/** Two poses one after the other: q lies in the axes of p. */
export function chained(p: Pose, q: Pose): Pose {
  const [x, y] = put(p, q.x_mm, q.y_mm)
  return { x_mm: x, y_mm: y, rad: p.rad + q.rad }
}

/** The pose that undoes p. */
export function back(p: Pose): Pose {
  const c = Math.cos(p.rad), s = Math.sin(p.rad)
  return { x_mm: -(p.x_mm * c + p.y_mm * s), y_mm: p.x_mm * s - p.y_mm * c, rad: -p.rad }
}

/** The lowest point of a chain along a direction of its plane. */
function lowest(s: Strip, at: Pose[], up: [number, number]): number {
  const e = ends(s)
  let low = Infinity
  at.forEach((p, i) => {
    for (const x of [e[i]!, e[i + 1]!]) {
      for (const y of [0, s.thickness_mm]) {
        const [a, b] = put(p, x, y)
        low = Math.min(low, a * up[0] + b * up[1])
      }
    }
  })
  return low
}

/**
 * The lands of a strip on its way from flat, 0, to where it stands bent, 1:
 * the lead turns and moves evenly, the others hang on it, and the whole rests
 * on the ground between its two lowest points. up is upward in its plane.
 */
export function hang(s: Strip, lay: Lay | undefined, up: [number, number], share: number): Pose[] {
  const at = lands(s, share)
  if (!lay || share >= 1) return at
  const bent = lands(s, 1)
  const lead = bent[lay.lead]!
  const e = ends(s)
  const middle = (e[lay.lead]! + e[lay.lead + 1]!) / 2
  const from = put(lay.pose, middle, 0), to = put(lead, middle, 0)
  // A shell that must be turned over is turned first, while it is still small.
  const turn = lead.rad - lay.pose.rad
  let k = share
  if (Math.abs(turn) > 2) {
    const t = Math.max(0, (share - 0.5) / 0.5)
    k = t * t * (3 - 2 * t)
  }
  const mid: Pose = { x_mm: from[0] + (to[0] - from[0]) * k, y_mm: from[1] + (to[1] - from[1]) * k, rad: lay.pose.rad + turn * k }
  const root = chained(mid, { x_mm: -middle, y_mm: 0, rad: 0 })
  const move = chained(root, back(at[lay.lead]!))
  const moved = at.map((p) => chained(move, p))
  const flat = lands(s, 0).map(() => lay.pose)
  const low = lowest(s, flat, up) + (lowest(s, bent, up) - lowest(s, flat, up)) * share
  const lift = low - lowest(s, moved, up)
  return moved.map((p) => ({ x_mm: p.x_mm + lift * up[0], y_mm: p.y_mm + lift * up[1], rad: p.rad }))
}
