import { expect, test } from 'vitest'
import { inOrder, largest, refuse, stem } from './bring'
import { numbered } from './mend'

test.each([
  ['chest.yaml', 400, 'format: 1', undefined],
  ['photo.jpg', 400, 'a\0b', /not a text/],
  ['empty.yaml', 0, ' \n', /empty/],
  ['huge.yaml', largest + 1, '', /larger/],
])('%s', (name, size, text, want) => {
  const got = refuse(name, size, text)
  if (want) expect(got).toMatch(want)
  else expect(got).toBeUndefined()
})

test('lines are numbered, those with problems marked', () => {
  expect(numbered('a\nb\nc', [2])).toEqual([{ n: 1, bad: false }, { n: 2, bad: true }, { n: 3, bad: false }])
  expect(numbered('', [])).toEqual([{ n: 1, bad: false }])
})

test('a shop is brought in before the piece that is made in it, a record after', () => {
  const files = [
    { name: 'a.record.yaml', text: 'format: 1\nunits: mm\ncut: []\n' },
    { name: 'a.yaml', text: '# a case\nformat: 1\nmaterials: {case: oak}\ncase:\n  kind: shell\n' },
    { name: 'a.shop.yaml', text: 'format: 1\nsaws:\n  table: {kerf: 3}\n' },
    { name: 'b.json', text: '{\n  "format": 1,\n  "case": {}\n}' },
    { name: 'b.shop.json', text: '{"saws": {}, "format": 1}' },
  ]
  expect(inOrder(files).map((f) => f.name)).toEqual(['a.shop.yaml', 'b.shop.json', 'a.yaml', 'b.json', 'a.record.yaml'])
  expect(files.map((f) => stem(f.name))).toEqual(['a', 'a', 'a', 'b', 'b'])
})
