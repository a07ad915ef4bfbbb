// The outline of a piece as lines to walk. What each line says was worked out
// by the program; here is only which lines are in view and how they are named.
import type { Schemas } from '../../lib/api'
import type { FieldChange } from '../../lib/piece.svelte'

export type Field = Schemas['Field']
export interface Two { own: string; other: string }

/** One line in view. */
export interface Line {
  /** A field; the others of a group, to be added; or one more entry of a list. */
  what: 'field' | 'more' | 'add'
  key: string
  field: Field // with more and add: the group or list it belongs to
  parent: string // key of the line it stands under, '' at the top
  label: string
  level: number // from 1
  at: number // among its like, from 1
  of: number
  parted: boolean // holds further lines
  open: boolean
  pencil: boolean // left out
  entry: boolean // of a list
}

/** The order of the work; what is not named follows as the document has it. */
const order = ['case', 'frame', 'inside', 'back', 'base', 'materials', 'thicknesses', 'finish', 'use', 'loose', 'name', 'count', 'units']
/** Groups that most pieces have: offered in their place when left out. */
const offered = new Set(['frame', 'inside', 'back', 'base'])

const one: Record<string, string> = { loose: 'part', fixed: 'shelf', profile: 'leg', address: 'line', shelves: 'shelf' }

/** The name of one entry of a list. */
export function entryName(list: string): string {
  return one[list] ?? list.replace(/ies$/, 'y').replace(/s$/, '').replaceAll('-', ' ')
}

export const named = (name: string): string => name.replaceAll('-', ' ')

export function single(f: Field): boolean {
  return f.kind !== 'group' && f.kind !== 'list' && f.kind !== 'map'
}

export function childrenOf(f: Field): Field[] { return f.children ?? [] }

/** The fields of the piece in the order of the work. */
export function sorted(root: Field): Field[] {
  const place = (f: Field) => {
    const i = order.indexOf(f.name)
    return i < 0 ? order.length : i
  }
  return childrenOf(root)
    .filter((f) => f.name !== 'format' || f.problem)
    .map((f, i) => ({ f, i }))
    .sort((a, b) => place(a.f) - place(b.f) || a.i - b.i)
    .map(({ f }) => f)
}

/** The lines in view: open holds the keys of lines that are unfolded, also the paths that are shown although left out. */
export function lines(root: Field, open: ReadonlySet<string>, also: ReadonlySet<string>): Line[] {
  const out: Line[] = []
  walk(out, root, '', 1, open, also)
  return out
}

/** Whether a field that is left out has a line all the same. */
function shown(f: Field, of: Field, also: ReadonlySet<string>): boolean {
  return Boolean(f.problem) || also.has(f.path) || of.path === '' && offered.has(f.name)
}

function walk(out: Line[], of: Field, parent: string, level: number, open: ReadonlySet<string>, also: ReadonlySet<string>) {
  const all = of.path === '' ? sorted(of) : childrenOf(of)
  const seen = (f: Field) => f.given || !of.given || shown(f, of, also)
  const here = all.filter(seen)
  const rest = all.filter((f) => !seen(f))
  const moreKey = `${of.path}?`
  const more = rest.length > 0
  const list = of.kind === 'list' && !of.fixed
  const moreOpen = open.has(moreKey)
  const n = here.length + (more ? 1 : 0) + (more && moreOpen ? rest.length : 0) + (list ? 1 : 0)
  let at = 0
  const put = (f: Field) => {
    const isOpen = open.has(f.path) && !single(f)
    out.push({
      what: 'field', key: f.path, field: f, parent, level, at: ++at, of: n,
      label: of.kind === 'list' ? `${entryName(of.name)} ${f.name}` : named(f.name),
      parted: !single(f), open: isOpen, pencil: !f.given, entry: of.kind === 'list',
    })
    if (isOpen) walk(out, f, f.path, level + 1, open, also)
  }
  here.forEach(put)
  if (list) {
    out.push({
      what: 'add', key: `${of.path}+`, field: of, parent, level, at: ++at, of: n,
      label: here.length ? `one more ${entryName(of.name)}` : `a ${entryName(of.name)}`, parted: false, open: false, pencil: true, entry: false,
    })
  }
  if (more) {
    out.push({
      what: 'more', key: moreKey, field: of, parent, level, at: ++at, of: n,
      label: 'left out', parted: true, open: moreOpen, pencil: true, entry: false,
    })
    if (moreOpen) rest.forEach(put)
  }
}

/** The lines that are unfolded when a piece is first looked at. */
export function firstOpen(root: Field): Set<string> {
  const open = new Set<string>()
  const inner = (f: Field) => {
    if (!f.given || single(f)) return
    open.add(f.path)
    for (const c of childrenOf(f)) if (c.kind === 'list' || /\]$/.test(c.path)) inner(c)
  }
  for (const f of childrenOf(root)) {
    if (f.name === 'case' && f.given) open.add(f.path)
    if (f.name === 'inside') inner(f)
  }
  return open
}

/** Unfolds all that a path lies in, so that its line is in view. */
export function unfold(root: Field, path: string, open: Set<string>, also: ReadonlySet<string>): void {
  let f = root
  while (f.path !== path) {
    const next = childrenOf(f).find((c) => within(path, c.path))
    if (!next) return
    if (f.path !== '') open.add(f.path)
    if (!next.given && f.given && !shown(next, f, also)) open.add(`${f.path}?`)
    f = next
  }
}

/** Whether a path is that of a field or lies within it. */
export function within(path: string, outer: string): boolean {
  return path === outer || path.startsWith(`${outer}.`) || path.startsWith(`${outer}[`)
}

/** The key of the line in view that stands for a path: its own, or the nearest it lies in. */
export function lineFor(path: string, all: readonly Line[]): string {
  let best = ''
  for (const l of all) if (l.what === 'field' && within(path, l.key) && l.key.length > best.length) best = l.key
  return best
}

/** What a folded group holds, in a few words. */
export function summary(f: Field): string {
  if (!f.given) return f.left ?? 'none'
  if (f.kind === 'list') {
    const n = childrenOf(f).length
    const parts = childrenOf(f)
    return parts[0] && single(parts[0]) ? parts.map((c) => c.value || c.text).join(', ') : `${n}`
  }
  const words: string[] = []
  for (const c of childrenOf(f)) {
    if (!c.given) continue
    if (!single(c)) words.push(c.kind === 'list' ? `${childrenOf(c).length} ${childrenOf(c).length === 1 ? entryName(c.name) : named(c.name)}` : named(c.name))
    else if (c.kind === 'yesno') { if (c.value === 'yes') words.push(named(c.name)) }
    else if (c.kind === 'size') words.push(`${named(c.name)} ${c.value || c.text}`)
    else words.push(f.kind === 'map' ? `${named(c.name)} ${c.text}` : c.kind === 'count' || c.kind === 'number' ? `${named(c.name)} ${c.text}` : (c.value || c.text) ?? '')
  }
  return words.join(', ')
}

/** Where the keys of the keyboard lead from a line. */
export function step(all: readonly Line[], key: string, press: string): { to?: string; open?: string; close?: string } {
  const i = all.findIndex((l) => l.key === key)
  const here = all[i]
  if (!here) return { to: all[0]?.key }
  switch (press) {
    case 'ArrowDown': return { to: all[Math.min(i + 1, all.length - 1)]?.key }
    case 'ArrowUp': return { to: all[Math.max(i - 1, 0)]?.key }
    case 'PageDown': return { to: all[Math.min(i + 10, all.length - 1)]?.key }
    case 'PageUp': return { to: all[Math.max(i - 10, 0)]?.key }
    case 'Home': return { to: all[0]?.key }
    case 'End': return { to: all.at(-1)?.key }
    case 'ArrowRight':
      if (here.parted && !here.open) return { open: here.key }
      return { to: here.parted ? all[i + 1]?.key : undefined }
    case 'ArrowLeft':
      if (here.parted && here.open) return { close: here.key }
      return { to: here.parent || undefined }
  }
  return {}
}

/** One change more with the first key of the shop, where an added group must name one. */
function needs(f: Field, path: string, offers: ReadonlyMap<string, string[]>): FieldChange[] {
  const out: FieldChange[] = []
  for (const c of childrenOf(f)) {
    const first = c.of ? offers.get(c.of)?.[0] : undefined
    if (c.need && c.kind === 'key' && first) out.push({ path: `${path}.${c.name}`, do: 'set', value: first })
  }
  return out
}

/** What can be done with an empty space. */
export type Way = 'drawer' | 'door' | 'shelves' | 'columns' | 'rows'
const all: Way[] = ['drawer', 'door', 'shelves', 'columns', 'rows']

/** What an opening can still take: a door and shelves go together, the rest alone. */
export function ways(f: Field): Way[] {
  const by = new Map(childrenOf(f).map((c) => [c.name, c.given]))
  if (!f.given || !all.every((w) => by.has(w))) return []
  const has = all.filter((w) => by.get(w))
  if (has.length === 0) return all
  if (has.length === 1 && has[0] === 'door') return ['shelves']
  if (has.length === 1 && has[0] === 'shelves') return ['door']
  return []
}

/** Fills an opening, or parts it in two. */
export function filled(f: Field, way: Way, offers: ReadonlyMap<string, string[]>): FieldChange[] {
  const path = `${f.path}.${way}`
  if (way === 'columns' || way === 'rows') return [{ path, do: 'set', value: '[{}, {}]' }]
  const child = childrenOf(f).find((c) => c.name === way)
  if (!child) return []
  if (way !== 'shelves') return addGroup(child, offers)
  const pin = offers.get('pin')?.[0]
  return [{ path, do: 'set', value: '{on-pins: 1}' }, ...(pin ? [{ path: `${path}.pin`, do: 'set' as const, value: pin }] : [])]
}

/** Puts in a group that was left out. */
export function addGroup(f: Field, offers: ReadonlyMap<string, string[]>): FieldChange[] {
  return [{ path: f.path, do: 'set', value: f.blank || '{}' }, ...needs(f, f.path, offers)]
}

/** Puts a new entry into a list of groups. */
export function insertAt(list: Field, i: number): FieldChange {
  return { path: `${list.path}[${i}]`, do: 'insert', value: list.blank || '{}' }
}

/** Puts the same entry in once more, after itself. */
export function duplicate(entry: Field): FieldChange {
  return { path: entry.path.replace(/\[(\d+)\]$/, (_, n: string) => `[${Number(n) + 1}]`), do: 'insert', value: entry.text || '{}' }
}

/** The list an entry is in, and its number from 0. */
export function listOf(path: string): { list: string; i: number } | undefined {
  const m = /^(.*)\[(\d+)\]$/.exec(path)
  return m ? { list: m[1] ?? '', i: Number(m[2]) } : undefined
}

export function find(f: Field, path: string): Field | undefined {
  if (f.path === path) return f
  for (const c of childrenOf(f)) {
    if (within(path, c.path)) return find(c, path)
  }
  return undefined
}
