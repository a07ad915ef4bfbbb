import { test as base, expect, type BrowserContext, type Page } from '@playwright/test'
import axe from 'axe-core'
import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'

export { expect }
export type { Page }

const here = fileURLToPath(new URL('.', import.meta.url))
const program = process.env.CASEWRIGHT ?? resolve(here, '../../bin/casewright')

/** One program on a data folder of its own. */
export class Bench {
  url = ''
  readonly data = mkdtempSync(join(tmpdir(), 'casewright-journey-'))
  private running?: ChildProcess
  private said = ''

  constructor(private readonly more: string[] = []) {}

  async start(): Promise<void> {
    const port = this.url ? new URL(this.url).port : '0'
    const p = spawn(program, ['serve', '--data', this.data, '--port', port, ...this.more])
    this.running = p
    this.said = ''
    p.stderr.on('data', (d: Buffer) => { this.said += String(d) })
    this.url = await new Promise<string>((found, failed) => {
      let out = ''
      p.stdout.on('data', (d: Buffer) => {
        out += String(d)
        const m = /https?:\/\/[^\s]+/.exec(out)
        if (m) found(m[0])
      })
      p.on('exit', (code) => failed(new Error(`the program ended with ${code}: ${out}${this.said}`)))
    })
  }

  async stop(how: NodeJS.Signals = 'SIGINT'): Promise<void> {
    const p = this.running
    this.running = undefined
    if (!p || p.exitCode !== null) return
    const ended = new Promise((done) => p.once('exit', done))
    p.kill(how)
    await ended
  }

  async restart(how?: NodeJS.Signals): Promise<void> {
    await this.stop(how)
    await this.start()
  }

  /** The id of a demo piece by a word of its name. */
  async piece(word: string): Promise<string> {
    const all = (await (await fetch(`${this.url}/api/pieces`)).json()) as { pieces: { id: string; name: string }[] }
    const found = all.pieces.find((p) => p.name.toLowerCase().includes(word.toLowerCase()))
    if (!found) throw new Error(`no piece named ${word} among ${all.pieces.map((p) => p.name).join(', ')}`)
    return found.id
  }

  async end(): Promise<void> {
    await this.stop('SIGKILL')
    rmSync(this.data, { recursive: true, force: true })
  }
}

/** Fails the journey on a message in the console or a request that leaves the machine. */
export function watch(page: Page, seen: string[], allowed: () => RegExp[]): void {
  page.on('console', (m) => {
    if ((m.type() === 'error' || m.type() === 'warning') && !allowed().some((r) => r.test(m.text()))) seen.push(`console: ${m.text()}`)
  })
  page.on('pageerror', (e) => seen.push(`page: ${e.message}`))
  page.on('request', (r) => {
    const u = new URL(r.url())
    const inner = ['data:', 'blob:', 'about:', 'chrome:', 'chrome-error:'].includes(u.protocol)
    if (!inner && !/^(127\.0\.0\.1|localhost|\[::1\]|\d+\.\d+\.\d+\.\d+)$/.test(u.hostname)) seen.push(`request: ${r.url()}`)
  })
}

interface Fixtures {
  bench: Bench
  /** Console messages that this journey brings about on purpose. */
  allow: (r: RegExp) => void
  /** Another page, watched like the first. */
  another: (context?: BrowserContext) => Promise<Page>
}

export const test = base.extend<Fixtures & { watched: { seen: string[]; allowed: RegExp[] } }>({
  watched: async ({}, use) => {
    const w = { seen: [] as string[], allowed: [/GPU stall due to ReadPixels/, /GL Driver Message/] }
    await use(w)
    expect(w.seen, 'nothing in the console, no request that leaves the machine').toEqual([])
  },
  allow: async ({ watched }, use) => use((r) => void watched.allowed.push(r)),
  bench: async ({ context }, use) => {
    const b = new Bench()
    await b.start()
    await use(b)
    // The pages let go of the program before it ends.
    for (const page of context.pages()) await page.close()
    await b.end()
  },
  page: async ({ page, watched }, use) => {
    watch(page, watched.seen, () => watched.allowed)
    await use(page)
  },
  another: async ({ context, watched }, use) => {
    const opened: Page[] = []
    await use(async (other) => {
      const page = await (other ?? context).newPage()
      opened.push(page)
      watch(page, watched.seen, () => watched.allowed)
      return page
    })
    for (const page of opened) await page.close()
  },
})

/** No violation of WCAG 2.2 A and AA on the page as it stands. */
export async function axeClean(page: Page, what = page.url()): Promise<void> {
  await page.evaluate(axe.source)
  const found = await page.evaluate(async () => {
    const run = (window as unknown as { axe: typeof axe }).axe
    const r = await run.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
    return r.violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.target.join(' ')).join(' | ')}`)
  })
  expect(found, what).toEqual([])
}

/**
 * axe on a laptop in light and on a phone in dark; with THOROUGH set in all
 * four ways. Nothing scrolls sideways.
 */
export async function axeEverywhere(page: Page, ready: () => Promise<void>): Promise<void> {
  const before = page.viewportSize()
  const ways = [[1440, 900, 'light'], [390, 844, 'dark'], [390, 844, 'light'], [1440, 900, 'dark']] as const
  for (const [width, height, scheme] of ways.slice(0, process.env.THOROUGH ? 4 : 2)) {
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ colorScheme: scheme })
    await ready()
    // What hangs on the width of the page is told it with the next frame.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))
    await axeClean(page, `${page.url()} ${width} ${scheme}`)
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(wide, `${page.url()} scrolls sideways at ${width}`).toBeLessThanOrEqual(0)
  }
  await page.emulateMedia({ colorScheme: null })
  if (before) await page.setViewportSize(before)
}
