import { describe, expect, it } from 'vitest'
import { ago, answer, codeIn, guess, left } from './when'

describe('ago', () => {
  const now = Date.parse('2026-03-02T12:00:00Z')
  it.each([
    ['2026-03-02T12:00:30Z', 'a moment ago'], // a clock that is ahead
    ['2026-03-02T11:59:00Z', 'a moment ago'],
    ['2026-03-02T11:58:00Z', '2 minutes ago'],
    ['2026-03-02T10:00:00Z', '2 hours ago'],
    ['2026-03-01T12:00:00Z', '24 hours ago'],
    ['2026-02-25T12:00:00Z', '5 days ago'],
    ['nonsense', ''],
  ])('%s is %s', (then, want) => expect(ago(then, now)).toBe(want))
})

describe('left', () => {
  it.each([[300, '5 min 00 s'], [61.2, '1 min 02 s'], [0.4, '0 min 01 s'], [-3, '0 min 00 s']])('%d s is %s', (s, want) => {
    expect(left(s)).toBe(want)
  })
})

describe('answer', () => {
  const d = (here: boolean, revoked = false) => ({ here, revoked })
  it.each([
    [false, [], 'Only this machine can reach the workbench.'],
    [true, [d(false, true)], 'No other device is let in yet.'],
    [true, [d(true)], '1 device is let in; 1 has a page open now.'],
    [true, [d(false), d(false)], '2 devices are let in; none has a page open now.'],
    [true, [d(true), d(true), d(false)], '3 devices are let in; 2 have a page open now.'],
  ])('%s %o', (lan, devices, want) => expect(answer(lan, devices)).toBe(want))
})

describe('guess', () => {
  it('goes by touch and width', () => {
    expect([guess(true, true), guess(true, false), guess(false, true)]).toEqual(['Phone', 'Tablet', 'Second computer'])
  })
})

describe('codeIn', () => {
  it.each([['#12345678', '1234 5678'], ['#1234567', ''], ['', ''], ['#1234567a', ''], ['#123456789', '']])('%s is %s', (hash, want) => {
    expect(codeIn(hash)).toBe(want)
  })
})
