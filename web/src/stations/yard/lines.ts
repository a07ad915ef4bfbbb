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

/** A board as it is put into the shop's text: sizes as they were typed. */
export function boardText(b: { thickness: string; width: string; length: string; count: number }): string {
  const size = (s: string) => (/^[\w.][\w ./-]*$/.test(s) ? s : JSON.stringify(s))
  const many = b.count > 1 ? `, count: ${b.count}` : ''
  return `{thickness: ${size(b.thickness)}, width: ${size(b.width.trim())}, length: ${size(b.length.trim())}${many}}`
}

/** Whether something typed can be a size at all; what it means the program says. */
export const sizeLike = (s: string): boolean => /\d/.test(s) && s.length < 40
