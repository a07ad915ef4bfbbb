import { api, Problem, type Doc } from './api'
import { listen } from './events'
import { keep, kept, left } from './kept'

export interface FieldChange { path: string; do: 'set' | 'remove' | 'insert'; value?: string }

/** An edit on its way: kept in the browser until the program has it. */
interface Pending { edit: string; base: number; head: number; changes: FieldChange[] }

/** Two pages changed one document: what was typed here, on which revision, and what stands. */
export interface Conflict { mine: FieldChange[]; from: number; now: Doc }

interface Kept { queue: Pending[]; conflict?: Conflict }

/**
 * One document as the pages in view know it. Edits go out one after another;
 * what the program has not yet taken is kept in the browser, so that neither
 * a reload nor a lost network loses anything typed.
 */
export class DocState {
  doc = $state<Doc>()
  /** Why the document cannot be shown. */
  fault = $state<Problem>()
  /** What the program said to the last edit, when it refused it. */
  refused = $state<{ problem: Problem; changes: FieldChange[] }>()
  conflict = $state<Conflict>()
  /** Edits that wait for the network. */
  waiting = $state(0)
  /** Grows when better layouts were found or ticks came in. */
  planned = $state(0)
  ticked = $state(0)

  /** Revisions that were made on this page. */
  readonly own = new Set<number>()

  private queue: Pending[] = []
  private sending = false

  constructor(readonly id: string) {
    const mine = kept<Kept>(id)
    this.queue = mine?.queue ?? []
    this.conflict = mine?.conflict
    this.waiting = this.queue.length
    void left<Kept>(id).then((all) => { for (const k of all) this.adopt(k) })
    listen((t) => {
      if (t.kind === 'reopened') void this.load()
      else if (t.doc !== this.id) return
      else if (t.kind === 'plan') this.planned++
      else if (t.kind === 'ticks') this.ticked++
      else if (t.version > (this.doc?.version ?? 0) && !this.sending) void this.load()
    })
    addEventListener('online', () => void this.send())
    void this.load()
  }

  get version() { return this.doc?.version ?? 0 }
  /** What a page that was closed could not send goes on from here. */
  private adopt(k: Kept) {
    this.queue.push(...k.queue)
    if (k.conflict) {
      this.conflict = this.conflict ? { ...this.conflict, mine: [...k.conflict.mine, ...this.conflict.mine] } : k.conflict
    }
    this.keep()
    if (this.queue.length) void this.send()
  }

  private keep() {
    this.waiting = this.queue.length
    keep(this.id, this.queue.length || this.conflict ? { queue: this.queue, conflict: this.conflict && $state.snapshot(this.conflict) } : undefined)
  }

  async load() {
    try {
      this.take(await api.get('/api/docs/{id}', { id: this.id }))
      this.fault = undefined
    } catch (e) {
      if (!this.doc || !(e as Problem).away) this.fault = e as Problem
    }
    if (this.queue.length) void this.send()
  }

  private take(d: Doc) { if (!this.doc || d.version >= this.doc.version) this.doc = d }

  /** Changes fields. Resolves to whether the program has it. */
  async edit(...changes: FieldChange[]): Promise<boolean> {
    this.refused = undefined
    if (this.moving) await this.moving // made on top of what an undo leaves, not of what it takes back
    if (!this.doc) await this.load() // an edit says on what it was made
    this.queue.push({ edit: crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`, base: this.version, head: this.doc?.head ?? 0, changes })
    this.keep()
    await this.send()
    return !this.refused && !this.conflict && this.queue.length === 0
  }

  private running: Promise<void> | undefined
  private send(): Promise<void> {
    this.running ??= this.drain().finally(() => { this.running = undefined })
    return this.running
  }

  private async drain() {
    this.sending = true
    try {
      while (this.queue[0]) {
        const next = this.queue[0]
        try {
          const d = await api.patch('/api/docs/{id}', { id: this.id }, { edit: next.edit, base: next.base, changes: next.changes })
          this.queue.shift()
          for (const later of this.queue) { later.base = d.version; later.head = d.head } // made on top of this one
          this.own.add(d.head)
          this.take(d)
        } catch (e) {
          const p = e as Problem
          if (p.away) break
          if (p.status === 409 && p.now) {
            this.conflict = {
              mine: [...(this.conflict?.mine ?? []), ...this.queue.flatMap((q) => q.changes)],
              from: this.conflict?.from ?? next.head, now: p.now,
            }
            this.queue = []
            this.take(p.now)
          } else {
            this.queue.shift()
            this.refused = { problem: p, changes: next.changes }
          }
        }
        this.keep()
      }
    } finally {
      this.sending = false
    }
  }

  /** Ends a conflict: puts in what was chosen of one's own. */
  async settle(chosen: FieldChange[]) {
    this.conflict = undefined
    this.keep()
    await this.load()
    if (chosen.length) await this.edit(...chosen)
  }

  async undo() { await this.move('/api/docs/{id}/undo') }
  async redo() { await this.move('/api/docs/{id}/redo') }

  private moving: Promise<void> | undefined
  private move(path: '/api/docs/{id}/undo' | '/api/docs/{id}/redo'): Promise<void> {
    const before = this.moving ?? Promise.resolve()
    const now: Promise<void> = before.then(() => this.step(path)).finally(() => { if (this.moving === now) this.moving = undefined })
    return (this.moving = now)
  }

  private async step(path: '/api/docs/{id}/undo' | '/api/docs/{id}/redo') {
    await this.send()
    try {
      const d = await api.post(path, { id: this.id }, { base: this.version })
      this.own.add(d.head)
      this.take(d)
      this.refused = undefined
    } catch (e) {
      if ((e as Problem).now) this.take((e as Problem).now!)
      else if (!(e as Problem).away) this.refused = { problem: e as Problem, changes: [] }
    }
  }
}

const open = new Map<string, DocState>()

/** The one state of a document, shared by all parts of a page. */
export function openDoc(id: string): DocState {
  let d = open.get(id)
  if (!d) open.set(id, (d = new DocState(id)))
  return d
}
