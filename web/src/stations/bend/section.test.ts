import { expect, test } from 'vitest'
import { boxOf, end, path, pose, scaleWords, sheet, type Step } from './section'

const step = (turn: number, points: number[], apex?: number[]): Step =>
  ({ turn, says: `${turn}`, gap: '', points, apex, radius_mm: apex ? 80 : 0, radius: '', kerf: [] })
const steps = [step(0, [0, 0, 10, 0]), step(10, [0, 0, 10, 2], [5, 0]), step(20, [0, 0, 9, 4], [6, 0])]

test('a pose on a step is the step, between two it lies between', () => {
  expect(pose(steps, 1).points).toEqual(steps[1]!.points)
  expect(pose(steps, 1.5)).toMatchObject({ turn: 15, points: [0, 0, 9.5, 3], apex: [5.5, 0], radius: 80 })
  expect(pose(steps, 0.5).apex).toBeUndefined()
})

test('past either end the drawing stands still', () => {
  expect(pose(steps, -3).points).toEqual(steps[0]!.points)
  expect(pose(steps, 99).points).toEqual(steps[2]!.points)
  expect(pose(steps, NaN).points).toHaveLength(4)
})

test('the sheet keeps the proportion and puts y upward', () => {
  const s = sheet([0, 0, 100, 50], 240, 1000, { left: 20, right: 20, top: 10, bottom: 10 })
  expect(s.k).toBe(2)
  expect(s.height).toBe(120)
  expect([s.x(0), s.y(0), s.x(100), s.y(50)]).toEqual([20, 110, 220, 10])
  expect(sheet([0, 0, 100, 50], 240, 70, { left: 20, right: 20, top: 10, bottom: 10 }).k).toBe(1)
})

test('paths and ends', () => {
  const s = { x: (v: number) => v, y: (v: number) => -v }
  expect(path([0, 0, 3, 4], s)).toBe('M0.00 0.00L3.00 -4.00Z')
  expect(end([0, 0, 3, 4], s)).toEqual({ at: [3, -4], way: [0.6, -0.8] })
  expect(boxOf([1, 2, -3, 8])).toEqual([-3, 2, 1, 8])
})

test('the scale in words', () => {
  expect(scaleWords(96 / 25.4)).toBe('about 1 : 1 on a usual screen')
  expect(scaleWords(2 * 96 / 25.4)).toContain('2 : 1')
  expect(scaleWords(0.5 * 96 / 25.4)).toContain('1 : 2')
})
