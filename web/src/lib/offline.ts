/** Puts the service worker in, where the browser has one and the page is built. */
export function begin(): void {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return
  navigator.serviceWorker.register('/sw.js').catch(() => {
    // Without it the pages still work while the network is there.
  })
}

/** What a piece needs to be worked on without a network. */
export function needs(piece: string, record: string): string[] {
  const of = ['saw', 'bench', 'glue-up', 'finish', 'delivery', 'ticks', 'line'].map((at) => `/api/pieces/${piece}/${at}`)
  return [...of, `/api/docs/${piece}`, ...(record ? [`/api/docs/${record}`] : [])]
}

/**
 * Keeps the stations of a piece on this device. Resolves to whether a reload
 * without a network would find all of them.
 */
export async function keepPiece(piece: string, record = '', wait = 15_000): Promise<boolean> {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return false
  const urls = needs(piece, record)
  try {
    const ready = await soon(navigator.serviceWorker.ready, wait)
    const worker = ready.active
    if (!worker) return false
    const answer = new Promise<number>((done) => {
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = (e: MessageEvent<{ kept: number }>) => done(e.data.kept)
      worker.postMessage({ keep: urls }, [port2])
    })
    return (await soon(answer, wait)) === urls.length
  } catch { return false }
}

function soon<T>(p: Promise<T>, ms: number): Promise<T> {
  return Promise.race([p, new Promise<T>((_, no) => setTimeout(() => no(new Error('too long')), ms))])
}
