/// <reference lib="webworker" />
import { isAsset, keeps, most } from './rules'

declare const self: ServiceWorkerGlobalScope
/** Put in by the build: the files of the pages, and a name over all of them. */
declare const __SHELL__: string[]
declare const __BUILD__: string

const shell = `shell-${__BUILD__}`
const stations = 'stations' // outlives a new build: it is what the maker works by
const patience = 3000 // ms that a page waits for the network when it has another

self.addEventListener('install', (e) => {
  e.waitUntil(
    caches.open(shell)
      .then((c) => c.addAll(__SHELL__.map((u) => new Request(u, { cache: 'reload' }))))
      .then(() => self.skipWaiting()),
  )
})

self.addEventListener('activate', (e) => {
  e.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith('shell-') && name !== shell) await caches.delete(name)
    await self.clients.claim()
  })())
})

self.addEventListener('fetch', (e) => {
  const url = new URL(e.request.url)
  if (e.request.mode === 'navigate' && url.origin === self.location.origin && !url.pathname.startsWith('/api/')) {
    e.respondWith(page(e.request))
  } else if (isAsset(url, self.location.origin) || url.pathname === '/icon.svg') {
    e.respondWith(asset(e.request))
  } else if (keeps(e.request.method, url, self.location.origin)) {
    e.respondWith(station(e.request))
  }
})

/** The page from the network, or after a while the one that is kept. */
async function page(request: Request): Promise<Response> {
  const kept = await (await caches.open(shell)).match('/')
  const asked = fetch(request)
  if (!kept) return asked
  return Promise.race([
    asked.then((r) => (r.status >= 500 ? kept.clone() : r), () => kept.clone()),
    new Promise<Response>((done) => setTimeout(() => done(kept.clone()), patience)),
  ])
}

/** Files have the name of their content: what is kept is right. */
async function asset(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request)
}

/** A station as it is now, or without a network as it was last. */
async function station(request: Request): Promise<Response> {
  const cache = await caches.open(stations)
  try {
    const r = await fetch(request)
    if (r.ok) await keep(cache, request, r.clone())
    else if (r.status === 401 || r.status === 403) await caches.delete(stations) // this device was shut out
    else if (r.status === 404) await cache.delete(request.url)
    return r
  } catch (e) {
    const kept = await cache.match(request.url)
    if (kept) return kept
    throw e
  }
}

async function keep(cache: Cache, request: Request, r: Response) {
  try {
    await cache.delete(request.url) // so that the order is that of use
    await cache.put(request.url, r)
    const all = await cache.keys()
    for (const old of all.slice(0, Math.max(0, all.length - most))) await cache.delete(old)
  } catch { /* a full device: the page works while the network is there */ }
}

/** A page asks to keep what it will need later. */
self.addEventListener('message', (e) => {
  const asked = e.data as { keep?: string[] } | undefined
  const port = e.ports[0]
  if (!asked?.keep) return
  e.waitUntil((async () => {
    let kept = 0
    for (const u of asked.keep ?? []) {
      const request = new Request(u, { credentials: 'same-origin' })
      if (!keeps('GET', new URL(request.url), self.location.origin)) continue
      try { if ((await station(request)).ok) kept++ } catch { /* not there: told by the count */ }
    }
    port?.postMessage({ kept })
  })())
})
