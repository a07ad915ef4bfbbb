/** A clock that runs down: since when it runs, and what it ran before that. */
export interface Clock { started: number | null; ran: number }

export const still: Clock = { started: null, ran: 0 }

/** Milliseconds left of so many seconds; less than 0 when it is over. */
export function leftOf(c: Clock | undefined, seconds: number, now: number): number {
  if (!c) return seconds * 1000
  return seconds * 1000 - c.ran - (c.started === null ? 0 : Math.max(0, now - c.started))
}

export function start(c: Clock | undefined, now: number): Clock {
  const was = c ?? still
  return was.started === null ? { started: now, ran: was.ran } : was
}

export function pause(c: Clock | undefined, now: number): Clock {
  const was = c ?? still
  return was.started === null ? was : { started: null, ran: was.ran + Math.max(0, now - was.started) }
}

/** Time as a clock shows it: 4:05, 1:02:09, and -0:12 when it is over. */
export function face(ms: number): string {
  const s = Math.ceil(Math.abs(ms) / 1000 - (ms < 0 ? 1 : 0) + (ms < 0 ? 1e-9 : 0))
  const over = ms < 0 && s > 0
  const h = Math.floor(s / 3600), m = Math.floor((s % 3600) / 60), r = s % 60
  const two = (n: number) => String(n).padStart(2, '0')
  return `${over ? '−' : ''}${h ? `${h}:${two(m)}` : m}:${two(r)}`
}

/** What is said aloud when the time left passes one of these, in seconds. */
export const calls = [600, 300, 120, 60, 0]

/** The call that was passed last between two looks at a clock; after a sleep there may be several. */
export function passed(before: number, after: number): number | undefined {
  return calls.filter((c) => before > c * 1000 && after <= c * 1000).at(-1)
}

export function callSays(name: string, seconds: number, worry: boolean): string {
  if (seconds > 0) return `${name}: ${seconds >= 120 ? `${seconds / 60} minutes` : seconds === 60 ? 'one minute' : `${seconds} seconds`} left.`
  return worry ? `${name} is over.` : `${name}: ready.`
}
