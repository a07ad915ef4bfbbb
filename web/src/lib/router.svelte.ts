/** The places a page can be. Stations stand in the order of the work. */
export const stations = ['desk', 'yard', 'saw', 'bench', 'glue-up', 'finish', 'delivery'] as const
export const besides = ['bend', 'papers', 'record', 'changes', 'history'] as const
export type Station = (typeof stations)[number]
export type Beside = (typeof besides)[number]

export type Place =
  | { page: 'home' }
  | { page: 'piece'; id: string; at: Station | Beside }
  | { page: 'shop'; id: string }
  | { page: 'devices' }
  | { page: 'join' }
  | { page: 'nowhere'; path: string }

export const titles: Record<Station | Beside, string> = {
  desk: 'Desk', yard: 'Yard', saw: 'Saw', bench: 'Bench', 'glue-up': 'Glue-up', finish: 'Finish', delivery: 'Delivery',
  bend: 'Bend', papers: 'Papers', record: 'Record', changes: 'What changed', history: 'History',
}

/** Reads an address. */
export function placeOf(path: string): Place {
  const parts = path.split('/').filter(Boolean).map(decodeURIComponent)
  const [a, b, c] = parts
  if (parts.length === 0) return { page: 'home' }
  if (a === 'piece' && b && parts.length <= 3) {
    const at = c ?? 'desk'
    if ([...stations, ...besides].some((s) => s === at)) return { page: 'piece', id: b, at: at as Station | Beside }
  }
  if (a === 'shop' && parts.length <= 2) return { page: 'shop', id: b ?? '' }
  if (a === 'devices' && parts.length === 1) return { page: 'devices' }
  if (a === 'join' && parts.length === 1) return { page: 'join' }
  return { page: 'nowhere', path }
}

class Router {
  path = $state(location.pathname)
  query = $state(location.search)
  place = $derived(placeOf(this.path))

  constructor() {
    addEventListener('popstate', () => this.read())
    addEventListener('click', (e) => this.follow(e))
  }

  private read() {
    this.path = location.pathname
    this.query = location.search
  }

  /** Turns to another page of the workbench. */
  go(to: string, how: 'push' | 'replace' = 'push') {
    if (how === 'push') history.pushState(null, '', to)
    else history.replaceState(null, '', to)
    const walked = location.pathname !== this.path
    this.read()
    if (walked && how === 'push') {
      scrollTo(0, 0)
      // The reader's place moves with the page.
      requestAnimationFrame(() => document.querySelector<HTMLElement>('main')?.focus({ preventScroll: true }))
    }
  }

  private follow(e: MouseEvent) {
    if (e.defaultPrevented || e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey || e.altKey) return
    const a = (e.target as Element | null)?.closest?.('a')
    if (!a || a.target || a.hasAttribute('download') || a.origin !== location.origin) return
    if (a.pathname.startsWith('/api/') || (a.hash && a.pathname === location.pathname)) return
    e.preventDefault()
    this.go(a.pathname + a.search + a.hash)
  }
}

export const router = new Router()
export const go = (to: string, how?: 'push' | 'replace') => router.go(to, how)
