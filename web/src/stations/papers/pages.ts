/** The pages of all papers in a row, each with the paper it belongs to. */
export interface Page { number: number; across: boolean; title: string; place: string }

interface Line { place: string; title: string; pages: { number: number; across: boolean }[] | null }

const named: Record<string, string> = {
  desk: 'Desk', yard: 'Yard', saw: 'Saw', bench: 'Bench', 'glue-up': 'Glue-up', finish: 'Finish', delivery: 'Delivery',
}

/** Lays the papers out page by page. */
export function flat(papers: Line[] | null): Page[] {
  const out: Page[] = []
  for (const p of papers ?? []) {
    for (const s of p.pages ?? []) out.push({ ...s, title: p.title, place: p.place })
  }
  return out
}

/** The pages of one place of work after the other. */
export function byPlace(pages: Page[]): { key: string; name: string; pages: Page[] }[] {
  const out: { key: string; name: string; pages: Page[] }[] = []
  for (const p of pages) {
    let last = out.at(-1)
    if (last?.key !== p.place) out.push((last = { key: p.place, name: named[p.place] ?? p.place, pages: [] }))
    last.pages.push(p)
  }
  return out
}

/** The page that is read, or 0. */
export function pageIn(asked: string | null, of: number): number {
  const n = Number(asked)
  return Number.isInteger(n) && n >= 1 && n <= of ? n : 0
}

/** A query with some of its words changed or taken out. */
export function withQuery(query: string, change: Record<string, string | undefined>): string {
  const q = new URLSearchParams(query)
  for (const [k, v] of Object.entries(change)) {
    if (v === undefined) q.delete(k)
    else q.set(k, v)
  }
  const text = q.toString()
  return text ? `?${text}` : ''
}
