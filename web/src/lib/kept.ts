// What a page keeps in the browser until the program has it. Two pages of one
// browser share its store, so each keeps under a name of its own, which
// outlives a reload. What a page that was closed left behind is taken over by
// the next that is opened.

const prefix = 'edits:'
let page = pageName()

function pageName(): string {
  try {
    let name = sessionStorage.getItem('page')
    if (!name) {
      name = Math.random().toString(36).slice(2, 10)
      sessionStorage.setItem('page', name)
    }
    return name
  } catch { return 'page' }
}

/** As long as a page is open it holds a lock under its name. */
const held: Promise<void> | undefined = typeof navigator !== 'undefined' && navigator.locks ? hold() : undefined
// Without locks nobody can tell who is there: all pages share one name.
if (!held) page = 'all'

function hold(): Promise<void> {
  return new Promise((done) => {
    void navigator.locks.request(`page:${page}`, { ifAvailable: true }, (lock) => {
      if (lock) {
        done()
        return new Promise(() => {}) // until the page is closed
      }
      // A page that was copied with its name: it takes another.
      page = Math.random().toString(36).slice(2, 10)
      try { sessionStorage.setItem('page', page) } catch { /* as long as it is open */ }
      void hold().then(done)
      return undefined
    })
  })
}

/** Keeps a value for a document, or nothing any more. */
export function keep(doc: string, value: unknown): void {
  try {
    const key = `${prefix}${doc}:${page}`
    if (value === undefined) localStorage.removeItem(key)
    else localStorage.setItem(key, JSON.stringify(value))
  } catch { /* a full or closed store: the edit is still on its way */ }
}

/** What this page kept before it was read anew. */
export function kept<T>(doc: string): T | undefined {
  try {
    const text = localStorage.getItem(`${prefix}${doc}:${page}`)
    return text ? (JSON.parse(text) as T) : undefined
  } catch { return undefined }
}

/** Takes over what pages that are closed have left for a document. */
export async function left<T>(doc: string): Promise<T[]> {
  if (!held) return []
  await held
  const open = new Set((await navigator.locks.query()).held?.map((l) => l.name))
  const out: T[] = []
  try {
    for (const key of Object.keys(localStorage)) {
      const owner = key.slice(`${prefix}${doc}:`.length)
      if (!key.startsWith(`${prefix}${doc}:`) || owner === page || open.has(`page:${owner}`)) continue
      const text = localStorage.getItem(key)
      localStorage.removeItem(key)
      if (text) out.push(JSON.parse(text) as T)
    }
  } catch { /* nothing that can be read */ }
  return out
}
