import { expect, test } from 'vitest'
import { largest, refuse } from './bring'
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
