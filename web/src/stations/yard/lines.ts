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

/** A board as it is put into the shop's text: sizes as they were typed. */
export function boardText(b: { thickness: string; width: string; length: string; count: number }): string {
  const size = (s: string) => (/^[\w.][\w ./-]*$/.test(s) ? s : JSON.stringify(s))
  const many = b.count > 1 ? `, count: ${b.count}` : ''
  return `{thickness: ${size(b.thickness)}, width: ${size(b.width.trim())}, length: ${size(b.length.trim())}${many}}`
}

/** Whether something typed can be a size at all; what it means the program says. */
export const sizeLike = (s: string): boolean => /\d/.test(s) && s.length < 40
