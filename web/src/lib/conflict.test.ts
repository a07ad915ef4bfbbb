import { expect, test } from 'vitest'
import { besides, clashes, meets, wordsOf, type Written } from './conflict'

test('a path is said in words', () => {
  expect(wordsOf('case.width')).toBe('case width')
  expect(wordsOf('inside.columns[0].rows[1].drawer.box-height')).toBe('inside, column 1, row 2, drawer, box height')
})

test('fields meet when one holds the other', () => {
  expect(meets('case.width', 'case.width')).toBe(true)
  expect(meets('case', 'case.width')).toBe(true)
  expect(meets('inside.columns[1].width', 'inside.columns[1]')).toBe(true)
  expect(meets('case.width', 'case.width-all')).toBe(false)
  expect(meets('inside.columns[1]', 'inside.columns[10]')).toBe(false)
})

const theirs: Written[] = [
  { path: 'case.width', words: 'case width', old: '1500', new: '1520' },
  { path: 'name', words: 'name', old: 'Low', new: 'High' },
]

test('each field typed here stands beside what is there now', () => {
  const mine = [
    { path: 'case.width', do: 'set' as const, value: '1600' },
    { path: 'case.depth', do: 'set' as const, value: '430' },
    { path: 'case.width', do: 'set' as const, value: '1610' },
    { path: 'back', do: 'remove' as const },
  ]
  const got = clashes(mine, theirs, (p) => ({ 'case.width': '1520', 'case.depth': '420', back: '{fit: overlaid}' })[p] ?? '')
  expect(got.map((c) => [c.path, c.mine, c.stands, c.was, c.both])).toEqual([
    ['case.width', '1610', '1520', '1500', true],
    ['case.depth', '430', '420', '420', false],
    ['back', '', '{fit: overlaid}', '{fit: overlaid}', false],
  ])
  expect(got[0]?.changes).toEqual([mine[2]])
  expect(besides(mine, theirs).map((t) => t.path)).toEqual(['name'])
})
