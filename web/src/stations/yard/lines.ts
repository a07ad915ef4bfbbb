/** The lines of one sort after the other, in the order of the list. */
export function bySort<L extends { sort: string }>(lines: readonly L[]): { sort: string; lines: L[] }[] {
  const out: { sort: string; lines: L[] }[] = []
  for (const l of lines) {
    let g = out.find((g) => g.sort === l.sort)
    if (!g) out.push((g = { sort: l.sort, lines: [] }))
    g.lines.push(l)
  }
  return out
}

interface Page {
  answer: string
  total: string
  price: { what: string; is: string }[] | null
  boards: { key: string; title: string; says: string }[] | null
}
export interface Changed { what: string; was: string; now: string }

/** What a re-plan changed of the yard's figures. */
export function changed(was: Page | undefined, now: Page): Changed[] {
  if (!was) return []
  const out: Changed[] = []
  const add = (what: string, a: string | undefined, b: string) => { if (a !== undefined && a !== b) out.push({ what, was: a, now: b }) }
  add('All parts', was.answer, now.answer)
  for (const b of now.boards ?? []) add(b.title, was.boards?.find((w) => w.key === b.key)?.says, b.says)
  if (!now.price?.length) add('List', was.total, now.total)
  for (const p of now.price ?? []) add(p.what, was.price?.find((w) => w.what === p.what)?.is, p.is)
  return out
}

/** A defect as it is typed in: sizes as text. */
export interface Defect { what: string; fromEnd: string; fromEdge: string; length: string; width: string }
export interface Board { thickness: string; width: string; length: string; count: number; straight?: boolean; tone?: number; defects?: Defect[] }

/** A board as it is put into the shop's text: sizes as they were typed. */
export function boardText(b: Board): string {
  const size = (s: string) => { const t = s.trim(); return /^[\w.][\w ./-]*$/.test(t) ? t : JSON.stringify(t) }
  const fields = (of: [string, string | undefined | false][]) => `{${of.filter(([, v]) => v).map(([k, v]) => `${k}: ${v}`).join(', ')}}`
  const defects = b.defects?.map((d) => fields([
    ['what', d.what], ['from-end', d.fromEnd.trim() && size(d.fromEnd)], ['from-edge', d.fromEdge.trim() && size(d.fromEdge)], ['length', size(d.length)], ['width', size(d.width)],
  ]))
  return fields([
    ['thickness', size(b.thickness)], ['width', size(b.width)], ['length', size(b.length)], ['count', b.count > 1 && String(b.count)],
    ['straight-edge', b.straight && 'true'], ['tone', b.tone ? String(b.tone) : ''], ['defects', defects?.length ? `[${defects.join(', ')}]` : ''],
  ])
}

/** Whether something typed can be a size at all; what it means the program says. */
export const sizeLike = (s: string): boolean => /\d/.test(s) && s.length < 40
