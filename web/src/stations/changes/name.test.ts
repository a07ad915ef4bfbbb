import { expect, test } from 'vitest'
import { byPlace, name, when } from './name'

test('a revision has its number and what it changed', () => {
  expect(name({ number: 3, says: 'case.width 1500 → 1520 mm' })).toBe('3: case.width 1500 → 1520 mm')
  expect(name({ number: 4, says: 'x'.repeat(80), stands: true })).toBe(`4: ${'x'.repeat(59)}… (stands)`)
})

test('the day is left out today, the year this year', () => {
  const now = new Date(2027, 2, 5, 12, 0)
  expect(when(new Date(2027, 2, 5, 9, 5).toISOString(), now)).toMatch(/^today, 0?9:05/)
  expect(when(new Date(2027, 2, 3, 9, 5).toISOString(), now)).not.toContain('2027')
  expect(when(new Date(2026, 2, 3, 9, 5).toISOString(), now)).toContain('2026')
})

test('papers are gathered by place', () => {
  expect(byPlace(['Desk: quote', 'Yard: panels: birch-6', 'Desk: sections'])).toEqual([['Desk', ['quote', 'sections']], ['Yard', ['panels: birch-6']]])
})
