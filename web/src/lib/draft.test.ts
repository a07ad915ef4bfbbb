import { beforeEach, expect, test } from 'vitest'
import { Problem } from './api'
import { Draft } from './draft.svelte'

/** A program that takes a text only on top of the version it has. */
class Program {
  texts = ['', 'name: bench\n']
  get version() { return this.texts.length - 1 }
  get text() { return this.texts[this.version]! }
  put = (base: number, text: string) => {
    if (base !== this.version) return Promise.reject(new Problem(409, 'It was changed elsewhere.'))
    this.texts.push(text)
    return Promise.resolve(this.version)
  }
}
const write = (d: Draft, text: string) => { d.text = text; d.typed() }

beforeEach(() => localStorage.clear())

test('a text goes in on the version it was read at, and what came meanwhile stands beside it', async () => {
  const program = new Program(), d = new Draft('a')
  d.read(program.text, program.version)
  write(d, 'name: low bench\n')
  program.texts.push('name: bench\ncount: 6\n') // by another page
  d.read(program.text, program.version)
  expect(d.text).toBe('name: low bench\n')
  expect(d.theirs?.text).toBe('name: bench\ncount: 6\n')
  await d.put(program.put)
  expect([d.fault?.status, program.version, d.text]).toEqual([409, 2, 'name: low bench\n'])

  // Theirs is taken; what was typed stands beside and outlives the page.
  d.take(d.theirs!)
  expect([d.text, d.open, d.asides]).toEqual(['name: bench\ncount: 6\n', false, [{ text: 'name: low bench\n' }]])
  const again = new Draft('a')
  again.read(program.text, program.version)
  expect([again.text, again.asides]).toEqual(['name: bench\ncount: 6\n', [{ text: 'name: low bench\n' }]])
  write(again, 'name: low bench\ncount: 6\n')
  await again.put(program.put)
  expect([program.text, again.open, again.saved]).toEqual(['name: low bench\ncount: 6\n', false, true])
  again.drop(again.asides[0]!)
  expect(localStorage.length).toBe(0)
})

test('one that was seen may be put in over', async () => {
  const program = new Program(), d = new Draft('a')
  d.read(program.text, program.version)
  write(d, 'mine')
  program.texts.push('theirs')
  d.read(program.text, program.version)
  program.texts.push('theirs, later') // not seen yet
  await d.over(program.put)
  expect([d.fault?.status, program.text]).toEqual([409, 'theirs, later'])
  d.read(program.text, program.version)
  expect(d.asides).toEqual([{ text: 'theirs, later', version: 3 }])
  await d.over(program.put)
  expect([d.fault, program.text, d.asides]).toEqual([undefined, 'mine', []])
})

test('a draft kept over a reload knows on what it was written', async () => {
  const program = new Program(), d = new Draft('a')
  d.read(program.text, program.version)
  write(d, 'mine')
  program.texts.push('theirs')
  const again = new Draft('a')
  again.read(program.text, program.version)
  expect([again.text, again.theirs?.text]).toEqual(['mine', 'theirs'])
  await again.put(program.put)
  expect(program.text).toBe('theirs')
})

test('a bare text that was kept is not lost and goes over nothing unseen', () => {
  localStorage.setItem('text:a', 'typed long ago')
  const program = new Program(), d = new Draft('a')
  d.read(program.text, program.version)
  expect([d.text, d.theirs?.text]).toEqual(['typed long ago', 'name: bench\n'])
})

test('what nobody edits follows the program, and an undo of theirs clears the way', async () => {
  const program = new Program(), d = new Draft('a')
  d.read(program.text, program.version)
  program.texts.push('theirs')
  d.read(program.text, program.version)
  expect([d.text, d.open]).toEqual(['theirs', false])
  write(d, 'mine')
  program.texts.push('other', 'theirs')
  d.read(program.text, program.version)
  await d.put(program.put)
  expect([d.fault, program.text]).toEqual([undefined, 'mine'])
})
