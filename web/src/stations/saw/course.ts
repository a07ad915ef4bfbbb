import type { Schemas } from '../../lib/api'

export type Run = Schemas['SawRun']
export type Setting = Schemas['SawSetup']
export type Cut = Schemas['SawCut']

/** One press: one cut, or several alike, at one setting. */
export interface Step { run: Run; setting: Setting; cut: Cut; nth: number; of: number }

export function course(runs: Run[] | null | undefined): Step[] {
  return (runs ?? []).flatMap((run) => (run.settings ?? []).flatMap((setting) => {
    const cuts = setting.cuts ?? []
    return cuts.map((cut, i) => ({ run, setting, cut, nth: i + 1, of: cuts.length }))
  }))
}

type Done = (place: string, times: number) => number
const isDone = (s: Step, done: Done) => done(s.cut.place, s.cut.times) >= s.cut.times

/** The first step that is not done; -1 when all are. */
export function firstOpen(steps: Step[], done: Done): number {
  return steps.findIndex((s) => !isDone(s, done))
}

/** The step after one is done: the next open one, or else the first. */
export function nextOpen(steps: Step[], from: number, done: Done): number {
  const after = steps.findIndex((s, i) => i > from && !isDone(s, done))
  return after >= 0 ? after : firstOpen(steps, done)
}

/** Which settings are done, all their cuts. */
export function settled(steps: Step[], done: Done): Set<string> {
  const out = new Set(steps.map((s) => s.setting.key))
  for (const s of steps) if (!isDone(s, done)) out.delete(s.setting.key)
  return out
}

export function settings(steps: Step[]): Setting[] {
  return [...new Map(steps.map((s) => [s.setting.key, s.setting])).values()]
}

/** Kerfs of a run that are left, and of how many. */
export function kerfs(run: Run, done: Done): { left: number; of: number } {
  let left = 0, of = 0
  for (const s of run.settings ?? []) for (const c of s.cuts ?? []) {
    of += c.times
    left += c.times - done(c.place, c.times)
  }
  return { left, of }
}

/** Numbers as they are spoken of: 4-7, 9 and 12. */
export function ranges(ns: number[]): string {
  const runs: [number, number][] = []
  for (const n of [...ns].sort((a, b) => a - b)) {
    const last = runs[runs.length - 1]
    if (last && n === last[1] + 1) last[1] = n
    else runs.push([n, n])
  }
  const words = runs.map(([a, b]) => (a === b ? `${a}` : b === a + 1 ? `${a}, ${b}` : `${a}-${b}`))
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`
}

/** The plan by which the maker began to cut. */
export interface Began { revision: string; keys: string[] }

/** What is otherwise since: settings that are new, and ticked ones that are gone. */
export function since(began: Began | undefined, revision: string, now: Setting[], wasDone: (key: string) => boolean): { fresh: number[]; gone: number } | undefined {
  if (!began || began.revision === revision) return undefined
  const had = new Set(began.keys)
  const has = new Set(now.map((s) => s.key))
  const fresh = now.filter((s) => !had.has(s.key)).map((s) => s.n)
  const gone = began.keys.filter((k) => !has.has(k) && wasDone(k)).length
  return fresh.length || gone ? { fresh, gone } : undefined
}

/** What is told of a plan that has changed. */
export function changeSays(c: { fresh: number[]; gone: number }): string {
  const out = ['The plan has changed since you began.']
  if (c.fresh.length === 1) out.push(`Setting ${c.fresh[0]} is new.`)
  else if (c.fresh.length) out.push(`Settings ${ranges(c.fresh)} are new.`)
  if (c.gone) out.push(`${c.gone === 1 ? 'One setting that you ticked is' : `${c.gone} settings that you ticked are`} not in it any more: look at what is cut before you go on.`)
  return out.join(' ')
}
