import type { Schemas } from '../../lib/api'
import type { FieldChange } from '../../lib/piece.svelte'

export type Field = Schemas['Field']

/** The field at a path of an outline. */
export function field(root: Field | undefined, path: string): Field | undefined {
  if (!root || root.path === path) return root
  for (const f of root.children ?? []) {
    if (f.path === path) return f
    const next = path.charAt(f.path.length)
    if (path.startsWith(f.path) && (next === '.' || next === '[')) {
      const found = field(f, path)
      if (found) return found
    }
  }
  return undefined
}

/** Joins a path and a name below it. */
export const below = (path: string, name: string) => (path ? (name.startsWith('[') ? path + name : `${path}.${name}`) : name)

/** A list typed in one line: 250, 300, 350 as YAML. */
export function listText(typed: string, words = false): string {
  const parts = words ? typed.split('\n').map((t) => t.trim()).filter(Boolean) : typed.split(/[,;]\s+|[,;](?!\d)|\n/).map((t) => t.trim()).filter(Boolean)
  return `[${parts.map((t) => JSON.stringify(t)).join(', ')}]`
}

/** A list of sentences, which have commas of their own. */
export const sentences = (f: Field) => f.kind === 'list' && f.name === 'lines'

/** What stands in a list, in one line; sentences on a line each. */
export const listed = (f: Field) => (f.children ?? []).map((c) => c.text || c.value || '').join(sentences(f) ? '\n' : ', ')

/**
 * The changes for what was typed into a field: an emptied field goes, unless
 * it was not there.
 */
export function changeOf(f: Field, typed: string): FieldChange[] {
  const t = typed.trim()
  if (!t) return f.given ? [{ path: f.path, do: 'remove' }] : []
  if (f.kind === 'list') return [{ path: f.path, do: 'set', value: listText(t, sentences(f)) }]
  return [{ path: f.path, do: 'set', value: t }]
}

/** A field as it is read: names of the document with spaces for hyphens. */
export function label(f: { name: string }): string {
  const t = f.name.replace(/-percent$/, ', %').replace(/-kg-m3$/, ', kg/m³').replace(/-m2$/, ', m²').replace(/-kg$/, ', kg').replace(/-n$/, ', N').replace(/-c$/, ', °C').replaceAll('-', ' ')
  return t.charAt(0).toUpperCase() + t.slice(1)
}

/** A key that is safe in a path: small letters, figures and hyphens. */
export function keyOf(typed: string): string {
  return typed.toLowerCase().normalize('NFKD').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 40)
}

export interface Ask { name: string; kind: string; need: boolean; says: string; value?: string; choice?: { value: string; says: string }[] | null }
export interface NewThing { path: string; keyed: boolean; fixed: { path: string; do: string; value?: string }[] | null; asks: Ask[] | null }

/** The changes that add a thing as it was filled in. */
export function adding(n: NewThing, key: string, typed: Record<string, string>): FieldChange[] {
  const path = n.keyed && key ? `${n.path.slice(0, n.path.lastIndexOf('.'))}.${keyOf(key)}` : n.path
  const out: FieldChange[] = []
  if (path.endsWith(']')) out.push({ path, do: 'insert', value: '' })
  for (const f of n.fixed ?? []) out.push({ path: below(path, f.path), do: f.do as FieldChange['do'], value: f.value ?? '' })
  for (const a of n.asks ?? []) {
    const t = (typed[a.name] ?? '').trim()
    if (!t || (a.kind === 'yes' && t === 'no')) continue
    out.push({ path: below(path, a.name), do: 'set', value: a.kind === 'sizes' ? listText(t) : t })
  }
  return out
}

/** The change that writes a thing once more, under a free key. */
export function copying(root: Field, f: Field): FieldChange {
  const cut = f.path.length - f.name.length
  const taken = new Set((field(root, f.path.slice(0, cut - 1))?.children ?? []).map((c) => c.name))
  let n = 2
  while (taken.has(`${f.name}-${n}`)) n++
  return { path: `${f.path.slice(0, cut)}${f.name}-${n}`, do: 'set', value: f.text ?? '' }
}
