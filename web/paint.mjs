// Prints when the first paint and the largest one come, for a fresh visit to
// the pages of a demo piece: the median of five. Not a test: times depend on
// the machine. Run it with: make paint
import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium } from 'playwright-core'

const data = mkdtempSync(join(tmpdir(), 'casewright-paint-'))
const program = spawn(new URL('../bin/casewright', import.meta.url).pathname, ['serve', '--data', data, '--port', '0'])
const url = await new Promise((found) => program.stdout.on('data', (d) => { const m = /https?:\/\/\S+/.exec(String(d)); if (m) found(m[0]) }))
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
})
const median = (a) => Math.round(a.sort((x, y) => x - y)[a.length >> 1])
try {
  const { pieces } = await (await fetch(`${url}/api/pieces`)).json()
  const id = pieces.find((p) => p.name.includes('record')).id
  for (const path of ['/', `/piece/${id}/desk`, `/piece/${id}/yard`, `/piece/${id}/saw`]) {
    const first = []
    const largest = []
    for (let i = 0; i < 5; i++) {
      const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' })
      const page = await context.newPage()
      await page.goto(url + path, { waitUntil: 'networkidle' }).catch(() => {})
      const t = await page.evaluate(() => new Promise((done) => {
        const fcp = performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN
        new PerformanceObserver((l) => done([fcp, l.getEntries().at(-1)?.startTime ?? NaN])).observe({ type: 'largest-contentful-paint', buffered: true })
        setTimeout(() => done([fcp, NaN]), 500)
      }))
      first.push(t[0])
      largest.push(t[1])
      await context.close()
    }
    console.log(`${path.replace(id, 'ID').padEnd(20)} first paint ${median(first)} ms, largest ${median(largest)} ms`)
  }
} finally {
  await browser.close()
  program.kill('SIGINT')
  rmSync(data, { recursive: true, force: true })
}
