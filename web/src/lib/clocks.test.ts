import { expect, test } from 'vitest'
import { callSays, face, leftOf, passed, pause, start } from './clocks'

test('a clock runs, is paused, and runs on', () => {
  let c = start(undefined, 1000)
  expect(leftOf(c, 60, 11_000)).toBe(50_000)
  c = start(c, 12_000) // pressed twice: it runs on
  expect(leftOf(c, 60, 11_000)).toBe(50_000)
  c = pause(c, 21_000)
  expect(leftOf(c, 60, 900_000)).toBe(40_000)
  c = start(c, 900_000)
  expect(leftOf(c, 60, 941_000)).toBe(-1_000)
  expect(leftOf(undefined, 60, 5)).toBe(60_000)
})

test('a clock set back in time does not run backward', () => {
  expect(leftOf(start(undefined, 10_000), 60, 4_000)).toBe(60_000)
  expect(pause(start(undefined, 10_000), 4_000)).toEqual({ started: null, ran: 0 })
})

test.each([[245_000, '4:05'], [59_001, '1:00'], [0, '0:00'], [-12_500, '−0:12'], [-500, '0:00'], [3_729_000, '1:02:09'], [86_400_000, '24:00:00']])('%i', (ms, want) => {
  expect(face(ms)).toBe(want)
})

test('calls are made once, when their time is passed', () => {
  expect(passed(301_000, 299_900)).toBe(300)
  expect(passed(299_900, 298_000)).toBeUndefined()
  expect(passed(500, -500)).toBe(0)
  expect(passed(208_000, -390_000)).toBe(0) // slept through it
  expect(callSays('Open time', 60, true)).toBe('Open time: one minute left.')
  expect(callSays('In the clamps', 0, false)).toBe('In the clamps: ready.')
  expect(callSays('Open time', 0, true)).toBe('Open time is over.')
})
