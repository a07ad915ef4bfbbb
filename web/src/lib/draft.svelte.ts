import { Problem } from './api'

/** A text beside the one being written: what another page put in meanwhile, or what was typed here before that was taken. */
export interface Aside { text: string; version?: number } // a version: it stands in the program

interface Kept { text: string; base: number; from: string; asides: Aside[] }

/**
 * The whole text of a document while it is written. It is kept in the browser
 * until the program has it, and goes in only on top of the version it was read
 * at: what another page put in meanwhile stands beside it, and nothing of
 * either is lost.
 */
export class Draft {
  text = $state('')
  /** Texts beside it, to be looked at. */
  asides = $state<Aside[]>([])
  saved = $state(false)
  fault = $state<Problem>()
  private given = $state('') // what the program has
  private from = '' // the text this one was begun on, and its version
  private base = 0
  private ready = false

  constructor(readonly id: string) {}

  /** Written here and not in the program. */
  get open() { return this.text !== this.given }
  /** What stands in the program and was not seen when this text was begun. */
  get theirs() { return this.asides.find((a) => a.version !== undefined) }

  /** Takes in what the program has. */
  read(now: string, version: number) {
    const kept = this.ready ? undefined : this.kept()
    const open = this.ready ? this.open : kept !== undefined && kept.text !== now
    if (kept) [this.text, this.base, this.from, this.asides] = [kept.text, kept.base, kept.from, kept.asides]
    this.ready = true
    this.given = now
    if (!open || this.text === now) this.begin(now, version)
    else if (now === this.from) this.base = version
    else if (version > this.base) this.asides = [...this.mine(), { text: now, version }]
    this.keep()
  }

  typed() {
    this.saved = false
    this.keep()
  }

  /** Puts the text in with what sends it on top of a version and says which it became. */
  async put(send: (base: number, text: string) => Promise<number>) {
    this.fault = undefined
    const text = this.text
    try {
      const version = await send(this.base, text)
      this.given = text
      ;[this.from, this.base, this.asides, this.saved] = [text, version, this.mine(), true]
      this.keep()
    } catch (e) { this.fault = e as Problem }
  }

  /** Puts the text in over what another page has put in, which stays in the history. */
  async over(send: (base: number, text: string) => Promise<number>) {
    const t = this.theirs
    if (t) this.seen(t)
    await this.put(send)
  }

  /** Goes on with a text from beside; the one that was written stands there instead. */
  take(a: Aside) {
    const mine = this.text
    this.text = a.text
    this.asides = [...this.asides.filter((x) => x !== a), { text: mine }]
    if (a.version !== undefined) this.seen(a)
    this.typed()
  }

  drop(a: Aside) {
    this.asides = this.asides.filter((x) => x !== a)
    this.keep()
  }

  private mine() { return this.asides.filter((a) => a.version === undefined) }
  private seen(a: Aside) { [this.from, this.base, this.fault] = [a.text, a.version ?? this.base, undefined] }
  private begin(text: string, version: number) { [this.text, this.from, this.base, this.asides] = [text, text, version, this.mine()] }

  private kept(): Kept | undefined {
    let k: string | null = null
    try {
      k = localStorage.getItem(`text:${this.id}`)
      if (k?.startsWith('{"text":')) return JSON.parse(k) as Kept
    } catch { /* a bare text */ }
    return k === null ? undefined : { text: k, base: 0, from: '', asides: [] } // kept before a draft knew its version
  }
  private keep() {
    try {
      if (!this.open && !this.asides.length) localStorage.removeItem(`text:${this.id}`)
      else localStorage.setItem(`text:${this.id}`, JSON.stringify({ text: this.text, base: this.base, from: this.from, asides: $state.snapshot(this.asides) }))
    } catch { /* the page still has it */ }
  }
}

/** Reads the text of a document, and its version, into a draft. */
export async function readInto(draft: Draft, signal: AbortSignal) {
  const r = await fetch(`/api/docs/${draft.id}/text`, { signal, credentials: 'same-origin' })
  if (!r.ok) return
  const version = Number(r.headers.get('etag')?.replaceAll('"', ''))
  draft.read(await r.text(), version)
}
