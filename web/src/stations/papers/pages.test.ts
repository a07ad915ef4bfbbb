import { expect, test } from 'vitest'
import { byPlace, flat, pageIn, withQuery } from './pages'

test('pages of each place stand together', () => {
  const pages = flat([
    { place: 'desk', title: 'Views', pages: [{ number: 1, across: false }, { number: 2, across: true }] },
    { place: 'desk', title: 'Parts', pages: [{ number: 3, across: true }] },
    { place: 'glue-up', title: 'Glue', pages: [{ number: 4, across: false }] },
    { place: 'finish', title: 'Nothing', pages: null },
  ])
  expect(byPlace(pages).map((p) => `${p.name}: ${p.pages.map((s) => `${s.number} ${s.title}`).join(', ')}`)).toEqual(['Desk: 1 Views, 2 Views, 3 Parts', 'Glue-up: 4 Glue'])
})

test.each([['3', 5, 3], ['6', 5, 0], ['0', 5, 0], [null, 5, 0], ['x', 5, 0], ['2.5', 5, 0]])('page %s of %d is %d', (asked, of, want) => {
  expect(pageIn(asked, of)).toBe(want)
})

test('a query keeps its other words', () => {
  expect(withQuery('?paper=a4&page=3', { page: undefined })).toBe('?paper=a4')
  expect(withQuery('', { page: '2' })).toBe('?page=2')
  expect(withQuery('?page=2', { page: undefined })).toBe('')
})
