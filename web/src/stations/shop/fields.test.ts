import { expect, test } from 'vitest'
import { adding, changeOf, field, keyOf, label, listText, type Field } from './fields'

const f = (path: string, over: Partial<Field> = {}): Field => ({ path, name: path, kind: 'size', given: true, ...over }) as Field
const root = f('', {
  kind: 'group',
  children: [f('saws', { kind: 'map', children: [f('saws.track', { kind: 'group', children: [f('saws.track.kerf')] }), f('saws.track-2', { children: [f('saws.track-2.kerf')] })] })],
} as Partial<Field>)

test('a field is found by its path, whatever begins alike', () => {
  expect(field(root, 'saws.track-2.kerf')?.path).toBe('saws.track-2.kerf')
  expect(field(root, 'saws.track.kerf')?.path).toBe('saws.track.kerf')
  expect(field(root, 'saws.tr')).toBeUndefined()
})

test('an emptied field is taken out, one that was not there is left alone', () => {
  expect(changeOf(f('a'), ' ')).toEqual([{ path: 'a', do: 'remove' }])
  expect(changeOf(f('a', { given: false }), '')).toEqual([])
  expect(changeOf(f('a'), ' 17 1/4 ')).toEqual([{ path: 'a', do: 'set', value: '17 1/4' }])
  expect(changeOf(f('l', { kind: 'list' }), '10, 12 in')).toEqual([{ path: 'l', do: 'set', value: '["10", "12 in"]' }])
})

test('a decimal comma does not part a list', () => {
  expect(listText('302,4 mm; 500')).toBe('["302,4 mm", "500"]')
  expect(listText('250, 300, 350')).toBe('["250", "300", "350"]')
})

test('a thing is added with its key, what it is, and what was filled in', () => {
  const n = { path: 'hardware.cup-hinge', keyed: true, fixed: [{ path: 'kind', do: 'set', value: 'cup-hinge' }], asks: [{ name: 'cup', kind: 'size', need: true, says: '' }, { name: 'boring', kind: 'size', need: false, says: '' }] }
  expect(adding(n, 'Wide Hinge', { cup: '35 mm', boring: '' })).toEqual([
    { path: 'hardware.wide-hinge.kind', do: 'set', value: 'cup-hinge' },
    { path: 'hardware.wide-hinge.cup', do: 'set', value: '35 mm' },
  ])
  const row = { path: 'panels.oak.sheets[2]', keyed: false, fixed: [], asks: [{ name: 'length', kind: 'size', need: true, says: '' }] }
  expect(adding(row, '', { length: '600' })).toEqual([
    { path: 'panels.oak.sheets[2]', do: 'insert', value: '' },
    { path: 'panels.oak.sheets[2].length', do: 'set', value: '600' },
  ])
})

test('names and keys', () => {
  expect(label({ name: 'moisture-percent' })).toBe('Moisture, %')
  expect(label({ name: 'side-min' })).toBe('Side min')
  expect(keyOf('  Screw 8×16 mm ')).toBe('screw-8-16-mm')
})
