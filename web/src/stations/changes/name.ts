/** A revision in a list to choose from: its number, and what it changed. */
export function name(r: { number: number; says: string; stands?: boolean }): string {
  const says = r.says.length > 60 ? `${r.says.slice(0, 59)}…` : r.says
  return `${r.number}: ${says}${r.stands ? ' (stands)' : ''}`
}

/** When, as a maker says it: 10:42 today, 3 Mar 10:42. */
export function when(at: string, now = new Date()): string {
  const d = new Date(at)
  const clock = d.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })
  if (d.toDateString() === now.toDateString()) return `today, ${clock}`
  const day: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'short' }
  if (d.getFullYear() !== now.getFullYear()) day.year = 'numeric'
  return `${d.toLocaleDateString([], day)}, ${clock}`
}

/** Papers named "Desk: parts list", gathered by the place they are for. */
export function byPlace(papers: string[]): [string, string[]][] {
  const out = new Map<string, string[]>()
  for (const p of papers) {
    const at = p.indexOf(': ')
    const [place, rest] = at < 0 ? ['', p] : [p.slice(0, at), p.slice(at + 2)]
    out.set(place, [...(out.get(place) ?? []), rest])
  }
  return [...out]
}
