import { readFileSync } from 'node:fs'
import { axeEverywhere, expect, test } from './bench'

/** The boxes of all pages of a PDF, in points, rounded. */
function boxes(pdf: Buffer): string[] {
  const out: string[] = []
  for (const m of pdf.toString('latin1').matchAll(/\/MediaBox\s*\[\s*([\d.\s]+?)\s*\]/g)) {
    const [, , w, h] = (m[1] ?? '').split(/\s+/).map(Number)
    out.push(`${Math.round(w ?? 0)} x ${Math.round(h ?? 0)}`)
  }
  return out
}
const pagesOf = (pdf: Buffer) => [...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b(?!s)/g)].length

test('from the first visit to printed papers', async ({ page, bench }) => {
  await page.goto(bench.url)
  await page.getByRole('link', { name: /Low record cabinet/ }).first().click()
  await page.getByRole('navigation', { name: 'Stations' }).getByRole('link', { name: 'Papers' }).click()
  const head = page.getByRole('heading', { level: 1 })
  await expect(head).toHaveText(/^\d+ pages of A4 for 7 places of work$/, { timeout: 30_000 })
  const n = Number.parseInt((await head.textContent()) ?? '', 10)
  expect(await page.getByRole('img', { name: /^Page \d+: / }).count()).toBe(n)

  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Download the PDF' }).click()])
  expect(download.suggestedFilename()).toBe('low-record-cabinet-papers.pdf')
  const pdf = readFileSync(await download.path())
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
  expect(pagesOf(pdf)).toBe(n)

  // Pictures come as they come into view, and all of them are there.
  const last = page.getByRole('img', { name: new RegExp(`^Page ${n}: `) })
  await last.scrollIntoViewIfNeeded()
  await expect.poll(() => last.evaluate((i: HTMLImageElement) => i.complete && i.naturalWidth > 0)).toBe(true)

  // One paper for one place of work, to look at in the browser.
  const saw = await page.getByRole('region', { name: 'Saw' }).getByRole('link', { name: /Print these/ }).getAttribute('href')
  const part = await page.request.get(bench.url + saw)
  expect(part.headers()['content-disposition']).toMatch(/^inline/)
  const sheets = await page.getByRole('region', { name: 'Saw' }).getByRole('img').count()
  expect(pagesOf(await part.body())).toBe(sheets)
})

test('read page by page, in inches on Letter', async ({ page, bench }) => {
  const id = await bench.piece('clinic')
  await page.goto(`${bench.url}/piece/${id}/papers`)
  await page.getByRole('radio', { name: 'A4' }).check()
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/of A4/, { timeout: 30_000 })
  await page.getByRole('radio', { name: 'Letter' }).check()
  await page.getByRole('radio', { name: 'inches first' }).check()
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/of Letter/, { timeout: 30_000 })
  const first = page.getByRole('img', { name: /^Page 1: / })
  await expect(first).toHaveAttribute('src', /paper=letter.*units=in/)

  await first.click()
  await expect(page.getByRole('heading', { level: 2 })).toHaveText(/, page 1 of \d+/)
  await page.keyboard.press('ArrowRight')
  await expect(page.getByRole('heading', { level: 2 })).toHaveText(/, page 2 of \d+/)
  await expect(page).toHaveURL(/page=2/)
  await page.getByRole('button', { name: 'Nearer' }).click()
  await page.getByRole('button', { name: 'All pages' }).click()
  await expect(page).not.toHaveURL(/page=/)
  await expect(first).toBeVisible()
})

test('the browser prints every page at its size', async ({ page, bench }) => {
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/papers`)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/of A4/, { timeout: 30_000 })
  const want = await page.locator('li.sheet').evaluateAll((all) => all.map((s) => (s.classList.contains('across') ? '842 x 595' : '595 x 842')))
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByRole('link', { name: 'Download the PDF' })).toBeHidden()
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true })
  expect(pagesOf(pdf)).toBe(want.length)
  expect(boxes(pdf)).toEqual(want)
})

test('everything to take along', async ({ page, bench }) => {
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/papers`)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/pages of/, { timeout: 30_000 })
  await page.getByText('Single files').click()
  await expect(page.getByRole('link', { name: 'Parts list (CSV)' })).toBeVisible({ timeout: 30_000 })
  const starts: [string | RegExp, RegExp][] = [
    ['Front', /^<svg/], [/^Outline of A,/, /^\s*0\r?\nSECTION/], ['The piece in space (glTF)', /^glTF/],
    ['Parts list (CSV)', /letter/i], ['The whole plan (JSON)', /^\{/], [/^Templates/, /^%PDF-/],
  ]
  for (const [name, begins] of starts) {
    const href = await page.getByRole('link', { name, exact: typeof name === 'string' }).first().getAttribute('href')
    const r = await page.request.get(bench.url + href)
    expect(r.ok(), String(name)).toBe(true)
    expect((await r.body()).toString('latin1').slice(0, 400), String(name)).toMatch(begins)
  }
  const all = await page.getByRole('link', { name: 'Everything (zip)' }).getAttribute('href')
  expect((await (await page.request.get(bench.url + all)).body()).subarray(0, 2).toString()).toBe('PK')
})

test('papers are usable by all', async ({ page, bench }) => {
  test.setTimeout(120_000)
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/papers`)
  await axeEverywhere(page, () => expect(page.getByRole('img', { name: /^Page 1: / })).toBeVisible({ timeout: 30_000 }))
  await page.goto(`${bench.url}/piece/${id}/papers?page=3`)
  await axeEverywhere(page, () => expect(page.getByRole('heading', { level: 2 })).toHaveText(/page 3 of/, { timeout: 30_000 }))
})
