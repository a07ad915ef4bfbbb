import { Problem } from './api'

/**
 * What a page shows, read anew whenever what `ask` reads has changed. The last
 * value stays in view while the next is on its way.
 */
export class View<T> {
  data = $state.raw<T>()
  fault = $state<Problem>()
  busy = $state(true)

  /** Call while a component is made. `ask` must read, at once, all it depends on. */
  constructor(ask: (signal: AbortSignal) => Promise<T> | undefined) {
    $effect(() => {
      const stop = new AbortController()
      const asked = ask(stop.signal)
      if (!asked) return
      this.busy = true
      asked.then(
        (v) => { this.data = v; this.fault = undefined; this.busy = false },
        (e: Error) => {
          if (e.name === 'AbortError') return
          this.fault = e instanceof Problem ? e : new Problem(0, e.message)
          this.busy = false
        },
      )
      return () => stop.abort()
    })
  }
}
