import { expect, test } from 'vitest'
import { ends, hang, lands, put } from './chain'
import examples from './strips.json'
import type { Pose, Spot, Strip } from './types'

// The figures come from the program (internal/scene); its own test holds them
// against the outline that the plan places.
const all = examples as unknown as { name: string; strip: Strip; spot: Spot; poses: { share: number; lands: Pose[] }[] }[]

const off = (a: Pose, b: Pose) => Math.max(Math.abs(a.x_mm - b.x_mm), Math.abs(a.y_mm - b.y_mm), 1000 * Math.abs(a.rad - b.rad))

test.each(all)('$name bends as the program reckons', ({ strip, poses }) => {
  for (const p of poses) {
    const got = lands(strip, p.share)
    expect(got.length).toBe(p.lands.length)
    got.forEach((g, i) => expect(off(g, p.lands[i]!)).toBeLessThan(0.02))
  }
})

test.each(all)('$name hangs from flat to where it stands', ({ strip, spot }) => {
  const up: [number, number] = [spot.matrix[2]!, spot.matrix[5]!]
  const bent = hang(strip, spot.lay, up, 1)
  lands(strip, 1).forEach((p, i) => expect(off(p, bent[i]!)).toBeLessThan(1e-6))
  // Just before the end it is nearly there: nothing jumps.
  hang(strip, spot.lay, up, 0.999).forEach((p, i) => expect(off(p, bent[i]!)).toBeLessThan(6))
  const flat = hang(strip, spot.lay, up, 0)
  for (const p of flat) expect(off(p, spot.lay!.pose)).toBeLessThan(1e-6)
  // Lands are rigid: joined at every kerf as far apart as the skin lets them.
  for (const share of [0, 0.3, 0.7, 1]) {
    const at = hang(strip, spot.lay, up, share)
    const e = ends(strip)
    for (let i = 1; i < at.length; i++) {
      const a = put(at[i - 1]!, e[i]!, strip.thickness_mm / 2), b = put(at[i]!, e[i]!, strip.thickness_mm / 2)
      expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(3)
    }
  }
})
