import { describe, expect, test } from 'vitest'
import { addGroup, duplicate, entryName, type Field, find, firstOpen, insertAt, lineFor, lines, step, summary, unfold } from './outline'

const leaf = (path: string, more: Partial<Field> = {}): Field => ({ path, name: path.replace(/^.*\./, ''), kind: 'size', given: true, ...more })
const group = (path: string, children: Field[], more: Partial<Field> = {}): Field => leaf(path, { kind: 'group', children, ...more })

const root: Field = group('', [
  leaf('format', { kind: 'count' }),
  leaf('name', { kind: 'text', text: 'Box' }),
  group('materials', [leaf('materials.case', { kind: 'key', text: 'ply' }), leaf('materials.back', { kind: 'key', given: false })], { kind: 'map' }),
  group('case', [leaf('case.width', { value: '600 mm', text: '600' }), leaf('case.saw', { given: false })]),
  group('frame', [leaf('frame.thickness', { given: false, need: true })], { given: false, blank: '{}' }),
  group('inside', [
    leaf('inside.width', { given: false }),
    leaf('inside.columns', {
      kind: 'list', blank: '{}', children: [
        group('inside.columns[0]', [
          leaf('inside.columns[0].width', { given: false }),
          group('inside.columns[0].drawer', [leaf('inside.columns[0].drawer.runner', { kind: 'key', of: 'runner', need: true, given: false })], { given: false, blank: '{}' }),
        ], { name: '1', text: '{drawer: {runner: r}}' }),
        group('inside.columns[1]', [], { name: '2', text: '{}' }),
      ],
    }),
  ]),
  leaf('notes', { kind: 'text', given: false }),
])

const none = new Set<string>()
const labels = (open: Iterable<string>, follows = none) => lines(root, new Set(open), follows).map((l) => `${l.level} ${l.label}${l.pencil ? '~' : ''}`)

describe('lines', () => {
  test('stand in the order of the work, what is left out folded away', () => {
    expect(labels([])).toEqual(['1 case', '1 frame~', '1 inside', '1 materials', '1 name', '1 left out~'])
    expect(labels(['?'])).toEqual(['1 case', '1 frame~', '1 inside', '1 materials', '1 name', '1 left out~', '1 notes~'])
  })
  test('unfold by level, with a line for one more entry', () => {
    expect(labels(['inside', 'inside.columns'])).toEqual([
      '1 case', '1 frame~', '1 inside', '2 columns', '3 column 1', '3 column 2', '3 one more column~', '2 left out~', '1 materials', '1 name', '1 left out~'])
  })
  test('show what is wanted', () => {
    expect(labels(['case'], new Set(['case.saw']))).toContain('2 saw~')
  })
  test('show in pencil what follows', () => {
    const follows = new Set(['inside.columns[0].width'])
    expect(labels(['inside', 'inside.columns', 'inside.columns[0]'], follows)).toContain('4 width~')
  })
  test('a group that is left out shows all that it could have', () => {
    expect(labels(['frame'])).toContain('2 thickness~')
  })
  test('are numbered among their like', () => {
    const all = lines(root, new Set(['inside', 'inside.columns']), none)
    expect(all.filter((l) => l.level === 3).map((l) => `${l.at}/${l.of}`)).toEqual(['1/3', '2/3', '3/3'])
  })
})

test('what is open at first is the case and how the inside is divided', () => {
  expect([...firstOpen(root)].sort()).toEqual(['case', 'inside', 'inside.columns', 'inside.columns[0]', 'inside.columns[1]'])
})

test('a path that is folded away is unfolded', () => {
  const open = new Set<string>()
  unfold(root, 'inside.columns[0].drawer.runner', open, none)
  expect([...open].sort()).toEqual(['inside', 'inside.columns', 'inside.columns[0]', 'inside.columns[0].drawer', 'inside.columns[0]?'])
  expect(labels(open)).toContain('5 runner~')
})

test('a folded path is told at the line it lies in', () => {
  const all = lines(root, new Set(['inside']), none)
  expect(lineFor('inside.columns[1].drawer.gap', all)).toBe('inside.columns')
  expect(lineFor('case', all)).toBe('case')
  expect(lineFor('nowhere', all)).toBe('')
})

test('the arrows walk', () => {
  const all = lines(root, new Set(['case']), none)
  expect(step(all, 'case', 'ArrowDown')).toEqual({ to: 'case.width' })
  expect(step(all, 'case', 'ArrowLeft')).toEqual({ close: 'case' })
  expect(step(all, 'case.width', 'ArrowLeft')).toEqual({ to: 'case' })
  expect(step(all, 'inside', 'ArrowRight')).toEqual({ open: 'inside' })
  expect(step(all, 'case', 'ArrowRight')).toEqual({ to: 'case.width' })
  expect(step(all, 'case', 'End')).toEqual({ to: '?' })
  expect(step(all, 'case', 'Home')).toEqual({ to: 'case' })
  expect(step(all, 'gone', 'ArrowDown')).toEqual({ to: 'case' })
})

test('changes of lists and groups', () => {
  const offers = new Map([['runner', ['side', 'under']]])
  const drawer = find(root, 'inside.columns[0].drawer')!
  expect(addGroup(drawer, offers)).toEqual([
    { path: 'inside.columns[0].drawer', do: 'set', value: '{}' }, { path: 'inside.columns[0].drawer.runner', do: 'set', value: 'side' }])
  const columns = find(root, 'inside.columns')!
  expect(insertAt(columns, 2)).toEqual({ path: 'inside.columns[2]', do: 'insert', value: '{}' })
  expect(duplicate(columns.children![0]!)).toEqual({ path: 'inside.columns[1]', do: 'insert', value: '{drawer: {runner: r}}' })
})

test('a folded group says what it holds', () => {
  expect(summary(find(root, 'materials')!)).toBe('case ply')
  expect(summary(find(root, 'case')!)).toBe('width 600 mm')
  expect(summary(find(root, 'frame')!)).toBe('none')
  expect(summary(find(root, 'inside')!)).toBe('2 columns')
})

test.each([['columns', 'column'], ['loose', 'part'], ['fixed', 'shelf'], ['not-included', 'not included'], ['seams', 'seam']])('one of %s is a %s', (list, name) => {
  expect(entryName(list)).toBe(name)
})
