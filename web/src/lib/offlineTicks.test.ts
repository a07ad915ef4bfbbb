import { expect, test } from 'vitest'
import { Problem } from './api'
import { Memory } from './offlineBox'
import { doneOf, later, merge, nextAt, type Tick } from './offlineMerge'
import { Ticks, type Wire } from './offlineTicks.svelte'

/** A program that keeps every tick once, and may be away or lose its answer. */
class Program implements Wire {
  kept = new Map<string, Tick>()
  got = 0
  away = false
  answersLost = 0
  async get() {
    if (this.away) throw new Problem(0, 'away')
    return Object.values(merge([], [...this.kept.values()]))
  }
  async post(_: string, ticks: Tick[]) {
    if (this.away) throw new Problem(0, 'away')
    for (const t of ticks) { this.got++; this.kept.set(t.id, t) }
    if (this.answersLost > 0) { this.answersLost--; throw new Problem(0, 'the answer was lost') }
    return this.get()
  }
}

const tick = (id: string, at: number, done = true): Tick => ({ id, place: 'saw/a/1', done, at: new Date(at).toISOString() })

test('the later tick counts, then the greater id', () => {
  expect(later(tick('a', 5), tick('b', 4)).id).toBe('a')
  expect(later(tick('a', 5), tick('b', 5)).id).toBe('b')
  expect(merge([tick('a', 9, false)], [tick('b', 3)])['saw/a/1']?.done).toBe(false)
})

test('a new tick comes after the one that counts, though a clock runs ahead', () => {
  expect(nextAt(100, 50)).toBe(100)
  expect(nextAt(100, 100)).toBe(101)
  expect(nextAt(100, 50, tick('x', 4000))).toBe(4001)
})

test('a tick without a count is of all', () => {
  expect(doneOf({ ...tick('a', 1), count: 3 }, 8)).toBe(3)
  expect(doneOf({ ...tick('a', 1), count: 30 }, 8)).toBe(8)
  expect(doneOf(tick('a', 1), 8)).toBe(8)
  expect(doneOf(tick('a', 1, false), 8)).toBe(0)
  expect(doneOf(undefined, 8)).toBe(0)
})

test('a tick is seen at once, and told as waiting here when it is written down', async () => {
  let write = () => {}
  class Slow extends Memory {
    override put(piece: string, ticks: Tick[]) { return new Promise<void>((done) => { write = () => done(super.put(piece, ticks)) }) }
  }
  const program = new Program()
  program.away = true
  const ticks = new Ticks('p', Promise.resolve(new Slow()), program)
  const set = ticks.set({ place: 'a', done: true })
  await expect.poll(() => ticks.done('a')).toBe(1)
  expect([ticks.waiting, ticks.kept]).toEqual([1, 0])
  await Promise.resolve()
  write()
  await set
  expect([ticks.waiting, ticks.kept]).toEqual([1, 1])
})

test('ticks made without a network outlive the page and are sent once', async () => {
  const box = new Memory(), program = new Program()
  const first = new Ticks('p', Promise.resolve(box), program)
  program.away = true
  await first.set({ place: 'a', done: true }, { place: 'b', done: true, count: 2 })
  await first.sync()
  expect(first.waiting).toBe(2)
  expect(first.away).toBe(true)
  expect(first.done('b', 8)).toBe(2)

  const second = new Ticks('p', Promise.resolve(box), program) // the page is read again, still without a network
  await second.sync()
  expect(second.done('a')).toBe(1)
  await second.set({ place: 'c', done: true })

  program.away = false
  program.answersLost = 1 // it has them, but does not get to say so
  await second.sync()
  expect(second.waiting).toBe(3)
  await second.sync()
  expect(second.waiting).toBe(0)
  expect(program.kept.size).toBe(3)
  expect(program.got).toBe(6)
  expect(await box.waiting('p')).toEqual([])
  expect(second.done('c')).toBe(1)
})

test('what another device took back is not done here any more', async () => {
  const program = new Program()
  const here = new Ticks('p', Promise.resolve(new Memory()), program)
  await here.set({ place: 'saw/a/1', done: true })
  await here.sync()
  program.kept.set('other', tick('other', Date.now() + 60_000, false))
  await here.sync()
  expect(here.done('saw/a/1')).toBe(0)
  await here.set({ place: 'saw/a/1', done: true }) // and is again, though that clock ran ahead
  await here.sync()
  expect(here.done('saw/a/1')).toBe(1)
})

test('ticks that the program refuses stay, and the reason is told', async () => {
  const box = new Memory()
  const no: Wire = { get: async () => [], post: async () => { throw new Problem(403, 'This device is not let in.') } }
  const here = new Ticks('p', Promise.resolve(box), no)
  await here.set({ place: 'a', done: true })
  await here.sync()
  expect(here.refused).toBe('This device is not let in.')
  expect(here.waiting).toBe(1)
  expect((await box.waiting('p')).length).toBe(1)
})
