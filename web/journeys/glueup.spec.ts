import { axeEverywhere, expect, test } from './bench'

test('clocks run side by side, outlive a reload and tell the time left', async ({ page, bench }) => {
  test.setTimeout(120_000)
  await page.clock.install({ time: new Date('2027-03-01T08:00:00') })
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/glue-up`)
  const card = page.locator('article').first()
  const clock = (name: string) => card.locator('.clock', { hasText: name })
  await expect(clock('Open time')).toBeVisible()
  const open = await clock('Open time').locator('.face').innerText()
  expect(open).toMatch(/^\d+:\d\d$/)

  await clock('Open time').getByRole('button', { name: /^Start/ }).click()
  await clock('First spread to last clamp').getByRole('button', { name: /^Start/ }).click()
  await page.clock.runFor(61_000)
  await expect(clock('Open time')).toContainText(/runs|hurry/)
  await expect(page).toHaveTitle(/left, Open time/)
  await clock('First spread to last clamp').getByRole('button', { name: 'Pause' }).click()
  const paused = await clock('First spread to last clamp').locator('.face').innerText()

  await page.clock.runFor(30_000)
  await page.reload()
  await expect(clock('Open time')).toContainText(/runs|hurry/)
  await expect(clock('First spread to last clamp').locator('.face')).toHaveText(paused)
  await expect(clock('First spread to last clamp')).toContainText('paused')

  await page.clock.fastForward('10:00')
  await expect(clock('Open time')).toContainText('over')
  await expect(clock('Open time').locator('.face')).toContainText('−')
  await expect(page.locator('[aria-live=polite]').filter({ hasText: 'Open time is over.' })).toBeAttached()
  await clock('Open time').getByRole('button', { name: 'Set back' }).click()
  await expect(clock('Open time').locator('.face')).toHaveText(open)
})

test('the glue-up reads well everywhere', async ({ page, bench }) => {
  test.setTimeout(180_000)
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/glue-up`)
  await axeEverywhere(page, () => expect(page.locator('.clock').first()).toBeVisible())
})
