import { axeEverywhere, expect, test, type Page } from './bench'

/** The ticks that count on the program, by place. */
async function ticksOf(url: string, id: string): Promise<{ place: string; done: boolean; id: string }[]> {
  return ((await (await fetch(`${url}/api/pieces/${id}/ticks`)).json()) as { ticks: { place: string; done: boolean; id: string }[] }).ticks
}

const step = (page: Page) => page.locator('.words h2')
const press = async (page: Page) => {
  const before = await step(page).innerText()
  await page.getByRole('button', { name: 'Done', exact: true }).click()
  await expect(step(page)).not.toHaveText(before)
}

/** Waits until the pages and the piece are kept on the device. */
async function kept(page: Page) {
  await page.evaluate(() => navigator.serviceWorker.ready)
  await expect(page.getByText('Kept on this device: it works without a network.')).toBeAttached()
}

test('ticks made without a network outlive reloads and reach the program once', async ({ page, bench, context, allow }) => {
  allow(/Failed to load resource|ERR_INTERNET_DISCONNECTED/)
  await page.setViewportSize({ width: 390, height: 844 })
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await expect(step(page)).toContainText('Setting 1 of')
  await expect(page.locator('.setting')).toBeVisible()
  await kept(page)

  await press(page)
  await press(page)
  await expect.poll(async () => (await ticksOf(bench.url, id)).length).toBe(2)
  const third = await step(page).innerText() // as the layouts have it: a setting more, or one more cut
  await page.reload()
  await expect(step(page)).toHaveText(third) // a reload goes on where the work is

  await context.setOffline(true)
  await press(page)
  await press(page)
  await expect(page.getByText('No network: 2 ticks wait here')).toBeVisible()
  const fifth = await step(page).innerText()
  await page.reload() // without a network
  await expect(step(page)).toHaveText(fifth)
  await expect(page.getByText('No network: 2 ticks wait here')).toBeVisible()
  await press(page)
  await expect(page.getByText('No network: 3 ticks wait here')).toBeVisible()
  const next = (await step(page).textContent()) ?? ''
  const elsewhere = await page.goto(`${bench.url}/piece/${id}/bench`) // the bench is kept too
  expect(elsewhere?.ok()).toBe(true)
  await expect(page.getByRole('heading', { level: 1 })).toContainText('steps')

  await page.goto(`${bench.url}/piece/${id}/saw`)
  await expect(step(page)).toHaveText(next)
  await context.setOffline(false)
  await expect.poll(async () => (await ticksOf(bench.url, id)).length, { timeout: 20_000 }).toBe(5)
  await expect(page.getByText('No network')).toHaveCount(0)
  const all = await ticksOf(bench.url, id)
  expect(new Set(all.map((t) => t.place)).size).toBe(5)
  expect(all.every((t) => t.done)).toBe(true)
})

test('the saw goes on while the program is ended, and a tick is taken back', async ({ page, bench, allow }) => {
  allow(/Failed to load resource|ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED_ENCODING|ERR_CONNECTION_RESET|ERR_EMPTY_RESPONSE/)
  const id = await bench.piece('chest')
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await expect(step(page)).toContainText('Setting 1 of')
  await kept(page)
  await bench.stop()
  await press(page)
  await press(page)
  await page.getByRole('button', { name: 'Back', exact: true }).click()
  await expect(step(page)).toContainText('Setting 2 of')
  await expect(page.getByText('No network: 3 ticks wait here')).toBeVisible()
  await page.reload()
  await expect(step(page)).toContainText('Setting 2 of')
  await bench.start()
  await expect.poll(async () => (await ticksOf(bench.url, id)).map((t) => t.done).sort(), { timeout: 30_000 }).toEqual([false, true])
})

test('what another device ticks is ticked here', async ({ page, bench, another }) => {
  const id = await bench.piece('chest')
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await expect(step(page)).toContainText('Setting 1 of')
  const phone = await another()
  await phone.goto(`${bench.url}/piece/${id}/saw`)
  await press(phone)
  await expect(step(page)).toContainText('Setting 2 of')
})

test('the screen is asked to stay on', async ({ page, bench }) => {
  await page.addInitScript(() => {
    const w = window as unknown as { asked: number }
    w.asked = 0
    Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => { w.asked++; return Object.assign(new EventTarget(), { release: async () => undefined, released: false, type: 'screen' }) } } })
  })
  const id = await bench.piece('chest')
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await expect(page.getByText('The screen stays on.')).toBeAttached()
  expect(await page.evaluate(() => (window as unknown as { asked: number }).asked)).toBe(1)
})

test('with every cut ticked the parts go into the record, and a changed plan says so', async ({ page, bench }) => {
  const id = await bench.piece('chest')
  const saw = (await (await fetch(`${bench.url}/api/pieces/${id}/saw`)).json()) as { record: string; runs: { settings: { cuts: { place: string; times: number }[] }[] }[] }
  const places = saw.runs.flatMap((r) => r.settings.flatMap((s) => s.cuts))
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await press(page) // begins by this plan

  // The chest gets wider: settings change.
  const doc = (await (await fetch(`${bench.url}/api/docs/${id}`)).json()) as { version: number }
  const put = await fetch(`${bench.url}/api/docs/${id}`, {
    method: 'PATCH', headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ base: doc.version, edit: 'journey-1', changes: [{ path: 'case.width', do: 'set', value: '21 in' }] }),
  })
  expect(put.ok).toBe(true)
  await expect(page.getByText('The plan has changed since you began.')).toBeVisible()
  await page.getByRole('button', { name: 'Go on with the new plan' }).click()
  await expect(page.getByText('The plan has changed since you began.')).toHaveCount(0)
  const undone = await fetch(`${bench.url}/api/docs/${id}/undo`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ base: doc.version + 1 }) })
  expect(undone.ok).toBe(true)

  const sent = await fetch(`${bench.url}/api/pieces/${id}/ticks`, {
    method: 'POST', headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(places.map((c, i) => ({ id: `journey-tick-${i}`, place: c.place, done: true, count: c.times, at: new Date().toISOString() }))),
  })
  expect(sent.ok).toBe(true)
  await page.getByRole('button', { name: 'Enter these in the record' }).click()
  await expect.poll(async () => await (await fetch(`${bench.url}/api/docs/${saw.record}/text`)).text()).toMatch(/cut:\s+- *\{? *part: /)
})

test('the saw reads well everywhere', async ({ page, bench }) => {
  test.setTimeout(180_000)
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/saw`)
  await axeEverywhere(page, () => expect(page.locator('.setting')).toBeVisible())
  await page.setViewportSize({ width: 390, height: 844 })
  for (const b of await page.locator('.act button').all()) expect((await b.boundingBox())!.height).toBeGreaterThanOrEqual(64)
  await page.getByRole('button', { name: 'All settings' }).click()
  await axeEverywhere(page, () => expect(page.locator('.list li').first()).toBeVisible())
})
