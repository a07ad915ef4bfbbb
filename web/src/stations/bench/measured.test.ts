import { expect, test } from 'vitest'
import { changes, draftOf, missing, recorded, type Opening } from './measured'

const empty = { name: 'column 1 row 1', at: 2, measured: false, typed: { widths: ['', '', ''], heights: ['', '', ''], diagonals: ['', ''], corners: ['', '', '', ''] } } as unknown as Opening

test('nothing is put in before all widths and heights are there', () => {
  const d = draftOf(empty)
  expect(missing(d)).toBe('3 widths and 3 heights')
  d.widths = ['464', '464', '464']
  d.heights = ['165', '165', '']
  expect(missing(d)).toBe('1 height')
  expect(changes(empty, d)).toEqual([])
})

test('a first measuring is one change, typed as it was typed', () => {
  const d = draftOf(empty)
  d.widths = ['17 1/4', '17-1/4"', '17.25 in']
  d.heights = ['165 mm', '16.5 cm', '165']
  expect(changes(empty, d)).toEqual([{
    path: 'openings[2]', do: 'insert',
    value: `{opening: 'column 1 row 1', widths: ['17 1/4', '17-1/4"', '17.25 in'], heights: ['165 mm', '16.5 cm', '165']}`,
  }])
  d.diagonals = ['492', '']
  expect(missing(d)).toBe('the other diagonal')
})

test('later only what changed is changed', () => {
  const o = { ...empty, at: 0, measured: true, typed: { widths: ['1 mm', '1 mm', '1 mm'], heights: ['2 mm', '2 mm', '2 mm'], diagonals: ['3 mm', '3 mm'], corners: null } } as unknown as Opening
  const d = draftOf(o)
  d.widths[1] = '1.2 mm'
  d.diagonals = ['', '']
  expect(changes(o, d)).toEqual([
    { path: 'openings[0].widths', do: 'set', value: `['1 mm', '1.2 mm', '1 mm']` },
    { path: 'openings[0].diagonals', do: 'remove' },
  ])
})

test('changes are told from what is on its way, not from an older answer', () => {
  const d = draftOf(empty)
  d.widths = ['464', '464', '464']
  d.heights = ['165', '165', '165']
  const sent = { measured: true, draft: structuredClone(d) }
  expect(changes(empty, d, sent)).toEqual([]) // not put in a second time
  d.widths[0] = '463'
  expect(changes(empty, d, sent)).toEqual([{ path: 'openings[2].widths', do: 'set', value: `['463', '464', '464']` }])
  const o = { ...empty, measured: true, typed: { ...empty.typed, widths: ['463', '464', '464'], heights: ['165', '165', '165'] } } as unknown as Opening
  expect(changes(o, d, recorded(o))).toEqual([])
  expect(changes(o, d, sent)).toHaveLength(1) // put back to what the old answer has
})
