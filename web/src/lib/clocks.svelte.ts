import { untrack } from 'svelte'
import { callSays, face, leftOf, passed, pause, start, type Clock } from './clocks'

/** A clock of the page: its key, its name and how long it runs. */
export interface Named { key: string; name: string; of: string; seconds: number; worry: boolean }

/**
 * All clocks of a piece. They run by the time of day, so that reload and sleep
 * do not stop them, and are kept on this device.
 */
export class Clocks {
  private state = $state<Record<string, Clock>>({})
  now = $state(Date.now())
  /** What was last to be said aloud. */
  said = $state('')
  sound = $state(false)
  private beat: ReturnType<typeof setInterval> | undefined
  private last = new Map<string, number>()
  private title = ''

  constructor(private readonly piece: string) {
    try {
      this.state = JSON.parse(localStorage.getItem(this.key) ?? '{}') as Record<string, Clock>
      this.sound = localStorage.getItem('clock-sound') === 'on'
    } catch { /* none are kept */ }
  }
  private get key() { return `clocks:${this.piece}` }
  private keep() {
    try { localStorage.setItem(this.key, JSON.stringify($state.snapshot(this.state))) } catch { /* they run as long as the page */ }
  }

  runs(key: string) { return (this.state[key]?.started ?? null) !== null }
  begun(key: string) { return this.state[key] !== undefined }
  left(key: string, seconds: number) { return leftOf(this.state[key], seconds, this.now) }
  start(key: string) { this.now = Date.now(); this.state[key] = start(this.state[key], this.now); this.keep() }
  pause(key: string) { this.now = Date.now(); this.state[key] = pause(this.state[key], this.now); this.keep() }
  back(key: string) { delete this.state[key]; this.last.delete(key); this.keep() }
  startedAt(key: string) { const c = this.state[key]; return c?.started != null ? c.started - c.ran : undefined }

  setSound(on: boolean) {
    this.sound = on
    try { localStorage.setItem('clock-sound', on ? 'on' : 'off') } catch { /* for this page */ }
    if (on) this.beep(0.05)
  }

  /** Watches the clocks until the returned function is called. */
  watch(named: Named[]): () => void {
    this.title = document.title
    this.beat = setInterval(() => this.look(named), 1000)
    untrack(() => this.look(named)) // what it reads and sets is no reason to begin anew
    return () => {
      clearInterval(this.beat)
      document.title = this.title
    }
  }

  private look(all: Named[]) {
    this.now = Date.now()
    let soonest: { name: string; left: number } | undefined
    for (const c of all) {
      if (!this.runs(c.key)) continue
      const left = this.left(c.key, c.seconds)
      const call = passed(this.last.get(c.key) ?? left, left)
      if (call !== undefined) {
        this.said = `${c.of}. ${callSays(c.name, call, c.worry)}`
        if (this.sound) this.beep(call === 0 ? 0.8 : 0.2)
      }
      this.last.set(c.key, left)
      if (left > 0 && (!soonest || left < soonest.left)) soonest = { name: c.name, left }
    }
    if (!document.title.includes(' left, ')) this.title = document.title
    const title = soonest ? `${face(soonest.left)} left, ${soonest.name}` : this.title
    if (document.title !== title) document.title = title
  }

  private beep(seconds: number) {
    try {
      const a = new AudioContext()
      const tone = a.createOscillator(), loud = a.createGain()
      tone.frequency.value = 740
      loud.gain.value = 0.2
      tone.connect(loud).connect(a.destination)
      tone.start()
      tone.stop(a.currentTime + seconds)
      tone.onended = () => void a.close()
    } catch { /* no sound on this device */ }
  }
}

const open = new Map<string, Clocks>()

export function openClocks(piece: string): Clocks {
  let c = open.get(piece)
  if (!c) open.set(piece, (c = new Clocks(piece)))
  return c
}
