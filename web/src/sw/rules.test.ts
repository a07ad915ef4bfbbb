import { expect, test } from 'vitest'
import { isAsset, keeps } from './rules'

const home = 'https://bench.lan:8455'
const at = (path: string) => new URL(path, home)

test('stations are kept, and what the frame round them needs', () => {
  for (const p of ['saw', 'bench', 'glue-up', 'finish', 'delivery', 'yard', 'ticks', 'line']) {
    expect(keeps('GET', at(`/api/pieces/abcd/${p}`), home), p).toBe(true)
  }
  expect(keeps('GET', at('/api/docs/abcd'), home)).toBe(true)
})

test('nothing else of the API is kept', () => {
  for (const p of ['/api/pieces', '/api/pieces/abcd/scene', '/api/docs/abcd/text', '/api/events', '/api/devices', '/api/pieces/abcd/saw?x=1', '/api/pieces/abcd/changes']) {
    expect(keeps('GET', at(p), home), p).toBe(false)
  }
  expect(keeps('POST', at('/api/pieces/abcd/ticks'), home)).toBe(false)
  expect(keeps('GET', new URL('https://elsewhere.example/api/docs/abcd'), home)).toBe(false)
})

test('assets are those of this program', () => {
  expect(isAsset(at('/assets/index-abc.js'), home)).toBe(true)
  expect(isAsset(new URL('https://elsewhere.example/assets/index-abc.js'), home)).toBe(false)
})
