import type { FieldChange } from './piece.svelte'

/** A field that was written otherwise between two revisions. */
export interface Written { path: string; words: string; old?: string; new?: string }

/** One field of a conflict: what was typed here and what stands. */
export interface Clash {
  path: string
  words: string
  changes: FieldChange[]
  mine: string
  stands: string
  was: string
  /** The other page wrote it too, so that one of the two has to give way. */
  both: boolean
}

/** A path as it is said: "inside, column 1, width". */
export function wordsOf(path: string): string {
  const out = path.split('.').map((step) => {
    const m = /^([^[]*?)s?\[(\d+)\]/.exec(step)
    return (m ? `${m[1]} ${Number(m[2]) + 1}` : step).replaceAll('-', ' ')
  })
  return out.length === 2 ? out.join(' ') : out.join(', ')
}

/** Whether one path is, or lies within, the other. */
export function meets(a: string, b: string): boolean {
  const within = (x: string, y: string) => x === y || (x.startsWith(y) && /[.[]/.test(x[y.length] ?? ''))
  return within(a, b) || within(b, a)
}

/** Field by field: what was typed here, beside what stands. */
export function clashes(mine: FieldChange[], theirs: Written[], stands: (path: string) => string): Clash[] {
  const out: Clash[] = []
  for (const c of mine) {
    const before = out.find((x) => x.path === c.path)
    // Something put into a list pushes the others on, so such changes stay together and in order.
    const clash = before ?? { path: c.path, words: wordsOf(c.path), changes: [], mine: '', stands: stands(c.path), was: '', both: false }
    if (!before) out.push(clash)
    if (c.do === 'set' && clash.changes.every((x) => x.do === 'set')) clash.changes = [c]
    else clash.changes.push(c)
    clash.mine = c.do === 'remove' ? '' : c.value ?? ''
    const other = theirs.find((t) => meets(t.path, c.path))
    clash.both = other !== undefined
    clash.was = other?.path === c.path ? other.old ?? '' : clash.stands
  }
  return out
}

/** What the other page wrote that nothing typed here touches. */
export function besides(mine: FieldChange[], theirs: Written[]): Written[] {
  return theirs.filter((t) => !mine.some((c) => meets(c.path, t.path)))
}
