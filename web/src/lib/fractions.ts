/** A piece of a printed size: a fraction is set as one. */
export interface Run { text: string; frac: boolean }

/** Parts "11-29/32 in" into 11, 29/32 and in, so that fractions can be set as fractions. */
export function runs(size: string): Run[] {
  const out: Run[] = []
  let last = 0
  for (const m of size.matchAll(/(\d+)?-?(?<![\d.])(\d+\/\d+)/g)) {
    const [num, den] = (m[2] ?? '').split('/').map(Number)
    if ((num ?? 0) >= (den ?? 0)) continue // 4/4 and 8/4 are classes of thickness
    const start = m.index + m[0].length - (m[2]?.length ?? 0)
    let whole = size.slice(last, start)
    if (m[1] !== undefined) whole = whole.replace(/-$/, '')
    if (whole) out.push({ text: whole, frac: false })
    out.push({ text: m[2] ?? '', frac: true })
    last = start + (m[2]?.length ?? 0)
  }
  if (last < size.length) out.push({ text: size.slice(last), frac: false })
  return out
}
