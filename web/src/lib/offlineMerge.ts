/** One press: this is done, or it is taken back. */
export interface Tick { id: string; place: string; done: boolean; count?: number; at: string }

/** Which of two ticks of one place counts: the later one, then the greater id; as the program has it. */
export function later(a: Tick, b: Tick): Tick {
  const x = Date.parse(a.at), y = Date.parse(b.at)
  if (x !== y) return x > y ? a : b
  return a.id >= b.id ? a : b
}

/** The ticks that count, by place: those the program knows and those that wait here. */
export function merge(known: Tick[], waiting: Tick[]): Record<string, Tick> {
  const out: Record<string, Tick> = {}
  for (const t of [...known, ...waiting]) {
    const had = out[t.place]
    out[t.place] = had ? later(had, t) : t
  }
  return out
}

/**
 * The time of the next tick of a place: now, but always after the tick that
 * counts there, even where another device's clock runs ahead.
 */
export function nextAt(now: number, last: number, had?: Tick): number {
  return Math.max(now, last + 1, had ? Date.parse(had.at) + 1 : 0)
}

/** How many of so many are done. A tick without a count is of all. */
export function doneOf(t: Tick | undefined, times: number): number {
  if (!t?.done) return 0
  return t.count ? Math.min(t.count, times) : times
}
