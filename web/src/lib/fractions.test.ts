import { expect, test } from 'vitest'
import { runs } from './fractions'

test.each([
  ['11-29/32 in', '11|29/32*| in'],
  ['17 1/4 in', '17 |1/4*| in'],
  ['29/32 in', '29/32*| in'],
  ['302.4 mm', '302.4 mm'],
  ['≈ 8-1/16 in × 3/4 in', '≈ 8|1/16*| in × |3/4*| in'],
  ['-3/8 in', '-|3/8*| in'],
  ['Cherry 4/4', 'Cherry 4/4'],
  ['Oak 8/4, 6-1/2 in', 'Oak 8/4, 6|1/2*| in'],
])('%s', (size, want) => {
  expect(runs(size).map((r) => r.text + (r.frac ? '*' : '')).join('|')).toBe(want)
})
