import { expect, test } from 'vitest'
import { changeSays, course, firstOpen, kerfs, nextOpen, ranges, settled, since, type Cut, type Run, type Setting } from './course'

const cut = (place: string, times = 1) => ({ place, times, of: '', gives: '', picture: '', done: 0 }) as Cut
const set = (n: number, key: string, ...cuts: Cut[]) => ({ n, key, cuts }) as Setting
const runs = [
  { kerfs: false, settings: [set(1, 'a', cut('a/1'), cut('a/2')), set(2, 'b', cut('b/1', 4))] },
  { kerfs: true, settings: [set(3, 'c', cut('c/1', 2), cut('c/2', 2))] },
] as Run[]
const steps = course(runs)
const by = (d: Record<string, number>) => (p: string, times: number) => Math.min(d[p] ?? 0, times)

test('steps stand in the order of the work', () => {
  expect(steps.map((s) => s.cut.place)).toEqual(['a/1', 'a/2', 'b/1', 'c/1', 'c/2'])
  expect(steps.map((s) => `${s.nth}/${s.of}`)).toEqual(['1/2', '2/2', '1/1', '1/2', '2/2'])
  expect(course(null)).toEqual([])
})

test('the next step is the next open one, then the first', () => {
  expect(firstOpen(steps, by({}))).toBe(0)
  expect(nextOpen(steps, 2, by({ 'b/1': 4 }))).toBe(3)
  expect(nextOpen(steps, 4, by({ 'c/1': 2, 'c/2': 2 }))).toBe(0)
  expect(firstOpen(steps, by({ 'a/1': 1, 'a/2': 1, 'b/1': 4, 'c/1': 2, 'c/2': 2 }))).toBe(-1)
  expect(firstOpen(steps, by({ 'a/1': 1, 'a/2': 1, 'b/1': 3 }))).toBe(2) // three of four cuts
})

test('a setting is done when all its cuts are', () => {
  expect([...settled(steps, by({ 'a/1': 1, 'b/1': 4 }))]).toEqual(['b'])
})

test('kerfs are counted down', () => {
  expect(kerfs(runs[1]!, by({ 'c/1': 1 }))).toEqual({ left: 3, of: 4 })
})

test.each([[[4, 5, 6, 7], '4-7'], [[1], '1'], [[4, 5, 6, 9], '4-6 and 9'], [[2, 3], '2, 3'], [[1, 3, 5], '1, 3 and 5'], [[], '']])('%j', (ns, want) => {
  expect(ranges(ns as number[])).toBe(want)
})

test('a plan that changed tells what is new and what is gone', () => {
  const now = [set(1, 'a'), set(2, 'x'), set(3, 'y'), set(4, 'z')]
  const began = { revision: 'one', keys: ['a', 'b', 'c'] }
  expect(since(began, 'one', now, () => false)).toBeUndefined()
  expect(since(undefined, 'two', now, () => false)).toBeUndefined()
  expect(since(began, 'two', [set(1, 'a'), set(2, 'b'), set(3, 'c')], () => false)).toBeUndefined()
  const c = since(began, 'two', now, (k) => k === 'b')
  expect(c).toEqual({ fresh: [2, 3, 4], gone: 1 })
  expect(changeSays(c!)).toBe('The plan has changed since you began. Settings 2-4 are new. One setting that you ticked is not in it any more: look at what is cut before you go on.')
})
