import { expect, test } from 'vitest'
import { boardText, bySort, changed, sizeLike } from './lines'

test('lines of a sort stand together', () => {
  const got = bySort([{ sort: 'panels', n: 1 }, { sort: 'screws', n: 2 }, { sort: 'panels', n: 3 }])
  expect(got.map((g) => `${g.sort} ${g.lines.map((l) => l.n).join(',')}`)).toEqual(['panels 1,3', 'screws 2'])
})

test.each([
  [{ thickness: '27 mm', width: '150', length: ' 2400 ', count: 1 }, '{thickness: 27 mm, width: 150, length: 2400}'],
  [{ thickness: '1 in', width: '6-1/2"', length: '8 ft', count: 3 }, '{thickness: 1 in, width: "6-1/2\\"", length: 8 ft, count: 3}'],
  [{ thickness: '1 in', width: '6, 7', length: '{x}', count: 1 }, '{thickness: 1 in, width: "6, 7", length: "{x}"}'],
  [{ thickness: '1 in', width: '-5', length: '8', count: 1 }, '{thickness: 1 in, width: "-5", length: 8}'],
  [
    { thickness: '27 mm', width: '150', length: '2400', count: 1, straight: true, tone: 3, defects: [{ what: 'knot', fromEnd: '400', fromEdge: '', length: '60', width: ' 4 cm' }, { what: '', fromEnd: '', fromEdge: '1"', length: '5', width: '5' }] },
    '{thickness: 27 mm, width: 150, length: 2400, straight-edge: true, tone: 3, defects: [{what: knot, from-end: 400, length: 60, width: 4 cm}, {from-edge: "1\\"", length: 5, width: 5}]}',
  ],
])('a board as text', (board, want) => expect(boardText(board)).toBe(want))

test('what can be a size', () => {
  expect([sizeLike('6-1/2"'), sizeLike('150'), sizeLike(''), sizeLike('wide')]).toEqual([true, true, false, false])
})

test('what a re-plan changed', () => {
  const was = { answer: 'All', total: '3 lines', price: [{ what: 'Goods', is: '10' }], boards: [{ key: 'oak 4/4', title: 'Oak 4/4', says: 'Buy 3' }] }
  const now = { answer: 'All', total: '3 lines', price: [{ what: 'Goods', is: '12' }], boards: [{ key: 'oak 4/4', title: 'Oak 4/4', says: 'From 2 boards' }, { key: 'x', title: 'X', says: 'new' }] }
  expect(changed(undefined, now)).toEqual([])
  expect(changed(was, was)).toEqual([])
  expect(changed(was, now)).toEqual([{ what: 'Oak 4/4', was: 'Buy 3', now: 'From 2 boards' }, { what: 'Goods', was: '10', now: '12' }])
})
