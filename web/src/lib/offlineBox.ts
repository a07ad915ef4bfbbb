import type { Tick } from './offlineMerge'

/** Where ticks wait until the program has them, and what it said last. */
export interface Box {
  waiting(piece: string): Promise<Tick[]>
  put(piece: string, ticks: Tick[]): Promise<void>
  sent(ids: string[]): Promise<void>
  known(piece: string): Promise<Tick[]>
  know(piece: string, ticks: Tick[]): Promise<void>
}

/** In the browser's own store, which outlives reload, sleep and restart. */
class Indexed implements Box {
  constructor(private readonly db: IDBDatabase) {}

  private do<T>(store: string, mode: IDBTransactionMode, work: (s: IDBObjectStore) => IDBRequest<T> | undefined): Promise<T | undefined> {
    return new Promise((done, failed) => {
      const tx = this.db.transaction(store, mode, { durability: 'strict' })
      const r = work(tx.objectStore(store))
      tx.oncomplete = () => done(r?.result)
      tx.onabort = tx.onerror = () => failed(tx.error)
    })
  }
  async waiting(piece: string) {
    const all = (await this.do('outbox', 'readonly', (s) => s.index('piece').getAll(piece))) as { tick: Tick }[] | undefined
    return (all ?? []).map((w) => w.tick)
  }
  async put(piece: string, ticks: Tick[]) {
    await this.do('outbox', 'readwrite', (s) => { for (const tick of ticks) s.put({ id: tick.id, piece, tick }); return undefined })
  }
  async sent(ids: string[]) {
    await this.do('outbox', 'readwrite', (s) => { for (const id of ids) s.delete(id); return undefined })
  }
  async known(piece: string) {
    const k = (await this.do('known', 'readonly', (s) => s.get(piece))) as { ticks: Tick[] } | undefined
    return k?.ticks ?? []
  }
  async know(piece: string, ticks: Tick[]) {
    await this.do('known', 'readwrite', (s) => s.put({ piece, ticks }))
  }
}

/** For browsers that keep nothing: as long as the page is open. */
export class Memory implements Box {
  private out = new Map<string, { piece: string; tick: Tick }>()
  private said = new Map<string, Tick[]>()
  async waiting(piece: string) { return [...this.out.values()].filter((w) => w.piece === piece).map((w) => w.tick) }
  async put(piece: string, ticks: Tick[]) { for (const tick of ticks) this.out.set(tick.id, { piece, tick }) }
  async sent(ids: string[]) { for (const id of ids) this.out.delete(id) }
  async known(piece: string) { return this.said.get(piece) ?? [] }
  async know(piece: string, ticks: Tick[]) { this.said.set(piece, ticks) }
}

let opened: Promise<Box> | undefined

export function openBox(): Promise<Box> {
  opened ??= new Promise<Box>((done) => {
    if (typeof indexedDB === 'undefined') return done(new Memory())
    const r = indexedDB.open('casewright', 1)
    r.onupgradeneeded = () => {
      r.result.createObjectStore('outbox', { keyPath: 'id' }).createIndex('piece', 'piece')
      r.result.createObjectStore('known', { keyPath: 'piece' })
    }
    r.onsuccess = () => done(new Indexed(r.result))
    r.onerror = r.onblocked = () => done(new Memory())
  })
  return opened
}
