import { beforeEach, expect, test } from 'vitest'
import { keep, kept, left } from './kept'

beforeEach(() => localStorage.clear())

test('what is kept is there after a reload, until it is kept no more', () => {
  keep('d', { queue: [1] })
  expect(kept('d')).toEqual({ queue: [1] })
  expect(kept('other')).toBeUndefined()
  keep('d', undefined)
  expect(kept('d')).toBeUndefined()
  expect(localStorage.length).toBe(0)
})

test('what cannot be read is nothing', () => {
  keep('d', 1)
  localStorage.setItem(Object.keys(localStorage)[0] ?? '', '{')
  expect(kept('d')).toBeUndefined()
})

test('without locks nobody is taken for closed', async () => {
  localStorage.setItem('edits:d:another', '{"queue":[]}')
  expect(await left('d')).toEqual([])
  expect(localStorage.length).toBe(1)
})
