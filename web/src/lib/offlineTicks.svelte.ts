import { api, Problem } from './api'
import { listen } from './events'
import { openBox, type Box } from './offlineBox'
import { doneOf, merge, nextAt, type Tick } from './offlineMerge'

/** The way to the program and back. */
export interface Wire {
  get(piece: string): Promise<Tick[]>
  post(piece: string, ticks: Tick[]): Promise<Tick[]>
}

const wire: Wire = {
  get: async (id) => (await api.get('/api/pieces/{id}/ticks', { id })).ticks ?? [],
  post: async (id, ticks) => (await api.post('/api/pieces/{id}/ticks', { id }, ticks)).ticks ?? [],
}

const again = 10_000 // ms between tries while ticks wait

/**
 * What is done of one piece. A tick is kept on this device first, and only
 * then sent, always under the same id: it is never lost and never counts
 * twice.
 */
export class Ticks {
  private known = $state.raw<Tick[]>([])
  private out = $state.raw<Tick[]>([])
  private byPlace = $derived(merge(this.known, this.out))
  private loose = $state.raw<string[]>([])
  /** How many ticks wait here for the network. */
  readonly waiting = $derived(this.out.length)
  /** How many of them are written down on this device, so that they outlive a reload. */
  readonly kept = $derived(this.out.filter((t) => !this.loose.includes(t.id)).length)
  /** The program could not be reached when it was last tried. */
  away = $state(false)
  /** Why the program does not take what waits here. */
  refused = $state('')
  /** What is kept here has been read. */
  ready = $state(false)

  private last = 0
  private read: Promise<void>
  private sending: Promise<void> | undefined
  private timer: ReturnType<typeof setTimeout> | undefined

  constructor(readonly piece: string, private readonly box: Promise<Box> = openBox(), private readonly to: Wire = wire) {
    this.read = this.begin()
  }

  private async begin() {
    const box = await this.box
    this.known = await box.known(this.piece)
    this.out = await box.waiting(this.piece)
    this.ready = true
  }

  /** Follows the program until the returned function is called. */
  follow(): () => void {
    void this.sync()
    const deaf = listen((t) => { if (t.kind === 'reopened' || (t.kind === 'ticks' && t.doc === this.piece)) void this.sync() })
    const back = () => { if (document.visibilityState === 'visible') void this.sync() }
    addEventListener('online', back)
    document.addEventListener('visibilitychange', back)
    return () => {
      deaf()
      removeEventListener('online', back)
      document.removeEventListener('visibilitychange', back)
    }
  }

  /** How many of so many are done at a place. */
  done(place: string, times = 1): number { return doneOf(this.byPlace[place], times) }

  /** Ticks places off, or takes ticks back. */
  async set(...marks: { place: string; done: boolean; count?: number }[]) {
    await this.read
    const made = marks.map((m): Tick => {
      this.last = nextAt(Date.now(), this.last, this.byPlace[m.place])
      return { id: newID(), place: m.place, done: m.done, ...(m.count ? { count: m.count } : {}), at: new Date(this.last).toISOString() }
    })
    const ids = made.map((t) => t.id)
    this.loose = [...this.loose, ...ids]
    this.out = [...this.out, ...made] // seen at once
    await (await this.box).put(this.piece, made)
    this.loose = this.loose.filter((id) => !ids.includes(id))
    void this.sync()
  }

  /** Sends what waits, and reads what others ticked. One at a time. */
  sync(): Promise<void> {
    this.sending ??= this.talk().finally(() => { this.sending = undefined; this.later() })
    return this.sending
  }

  private async talk() {
    await this.read
    try {
      if (this.out.length === 0) {
        await this.take(await this.to.get(this.piece))
      }
      while (this.out.length > 0) {
        const now = this.out.slice(0, 500)
        const said = await this.to.post(this.piece, now)
        const ids = new Set(now.map((t) => t.id))
        await (await this.box).sent([...ids])
        await this.take(said)
        this.out = this.out.filter((t) => !ids.has(t.id))
      }
      this.away = false
      this.refused = ''
    } catch (e) {
      const p = e as Problem
      this.away = p.away ?? true
      this.refused = this.away ? '' : p.detail
    }
  }

  private async take(said: Tick[]) {
    this.known = said
    await (await this.box).know(this.piece, said)
  }

  private later() {
    clearTimeout(this.timer)
    if (this.out.length > 0) this.timer = setTimeout(() => void this.sync(), again)
  }
}

function newID(): string {
  return crypto.randomUUID?.() ?? `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}${Math.random().toString(36).slice(2)}`
}

const open = new Map<string, Ticks>()

/** The ticks of a piece, shared by all parts of a page. */
export function openTicks(piece: string): Ticks {
  let t = open.get(piece)
  if (!t) open.set(piece, (t = new Ticks(piece)))
  return t
}
