import type { Schemas } from '../../lib/api'
import type { FieldChange } from '../../lib/piece.svelte'

export type Opening = Schemas['BenchOpening']
export type Kind = 'widths' | 'heights' | 'diagonals' | 'corners'
export type Draft = Record<Kind, string[]>

/** What is measured in an opening, and where. */
export const places: Record<Kind, { name: string; at: string[] }> = {
  widths: { name: 'Wide', at: ['top', 'middle', 'bottom'] },
  heights: { name: 'High', at: ['left', 'middle', 'right'] },
  diagonals: { name: 'Diagonals', at: ['from top left', 'from top right'] },
  corners: { name: 'Corners, radius', at: ['top left', 'top right', 'bottom right', 'bottom left'] },
}
export const kinds = Object.keys(places) as Kind[]

export function draftOf(o: Opening): Draft {
  const t = o.typed
  const fill = (have: string[] | null | undefined, n: number) => Array.from({ length: n }, (_, i) => have?.[i] ?? '')
  return { widths: fill(t.widths, 3), heights: fill(t.heights, 3), diagonals: fill(t.diagonals, 2), corners: fill(t.corners, 4) }
}

const full = (list: string[]) => list.every((v) => v.trim() !== '')
const none = (list: string[]) => list.every((v) => v.trim() === '')

/** What is still missing before front and box can follow; empty when nothing is. */
export function missing(d: Draft): string {
  const out: string[] = []
  for (const k of ['widths', 'heights'] as const) {
    const left = d[k].filter((v) => !v.trim()).length
    if (left) out.push(`${left} ${left === 1 ? k.slice(0, -1) : k}`)
  }
  if (!none(d.diagonals) && !full(d.diagonals)) out.push('the other diagonal')
  if (!none(d.corners) && !full(d.corners)) out.push('all four corners, or none')
  return out.join(' and ')
}

/** A list as the record has it; every size as it was typed. */
const list = (vs: string[]) => `[${vs.map((v) => `'${v.trim().replaceAll("'", "''")}'`).join(', ')}]`
const text = (v: string) => `'${v.replaceAll("'", "''")}'`

/** What the record has of an opening, or will have once the edits on their way are in. */
export interface Recorded { measured: boolean; draft: Draft }

export const recorded = (o: Opening): Recorded => ({ measured: o.measured, draft: draftOf(o) })

/** The change of the record by which an opening is measured. None while something is missing. */
export function changes(o: Opening, d: Draft, was: Recorded = recorded(o)): FieldChange[] {
  if (missing(d)) return []
  const path = `openings[${o.at}]`
  if (!was.measured) {
    const fields = kinds.filter((k) => full(d[k])).map((k) => `${k}: ${list(d[k])}`)
    return [{ path, do: 'insert', value: `{opening: ${text(o.name)}, ${fields.join(', ')}}` }]
  }
  return kinds.filter((k) => d[k].some((v, i) => v.trim() !== was.draft[k][i]?.trim())).map((k): FieldChange =>
    none(d[k]) ? { path: `${path}.${k}`, do: 'remove' } : { path: `${path}.${k}`, do: 'set', value: list(d[k]) })
}
