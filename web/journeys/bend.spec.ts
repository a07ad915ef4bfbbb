import { axeEverywhere, expect, test, type Page } from './bench'

const open = async (page: Page, url: string) => {
  await page.goto(url)
  await expect(page.locator('path.section[data-turn]')).toBeVisible()
}
const turn = async (page: Page) => Number(await page.locator('path.section').first().getAttribute('data-turn'))

test('a test bend asks for another count, and the plan follows', async ({ bench, page }) => {
  const id = await bench.piece('record cabinet')
  await open(page, `${bench.url}/piece/${id}/bend`)
  const answer = page.getByRole('heading', { level: 1 })
  await expect(answer).toContainText('13 kerfs close at 96.4°')
  const before = await (await page.request.get(`${bench.url}/api/pieces/${id}/saw`)).text()

  // Nothing is said of half a form, and what cannot be is said at its field.
  const write = page.getByRole('button', { name: 'Write it into the record' })
  await page.getByLabel('Kerfs in the strip').fill('8')
  await page.getByLabel('Skin, by caliper').fill('2.05')
  await expect(write).toBeDisabled()
  await page.getByLabel('Angle got').fill('two right')
  await expect(page.getByText(/cannot read “two right”/i)).toBeVisible()
  await expect(write).toBeDisabled()

  await page.getByLabel('Angle got').fill('55')
  await page.getByLabel('Kerf, by caliper').fill('2.18')
  await page.getByLabel('Thickness of the strip').fill('18.1')
  const says = page.getByText(/^Would ask for \d+ kerfs instead of 13\./)
  await expect(says).toBeVisible()
  const asked = /for (\d+) kerfs/.exec((await says.textContent())!)![1]!
  expect(Number(asked)).toBeGreaterThan(13)
  await expect(answer).toContainText('13 kerfs') // nothing is kept yet

  await write.click()
  await expect(answer).toContainText(`${asked} kerfs`)
  await expect(page.getByText('Written into the record')).toBeVisible()
  await expect(page.getByText('8 kerfs, 55°').first()).toBeVisible()
  expect(await (await page.request.get(`${bench.url}/api/pieces/${id}/saw`)).text()).not.toBe(before)

  // It stands in the record, from where it can be taken out again.
  await page.goto(`${bench.url}/piece/${id}/record`)
  await expect(page.getByText('8 kerfs, 55°')).toBeVisible()
  await page.getByRole('button', { name: 'Undo in the record' }).click()
  await expect(page.getByText('8 kerfs, 55°')).toBeHidden()
  await open(page, `${bench.url}/piece/${id}/bend`)
  await expect(answer).toContainText('13 kerfs')
})

test('the kerfs close as the slider goes, in steps where less motion is asked for', async ({ bench, page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  const id = await bench.piece('record cabinet')
  await open(page, `${bench.url}/piece/${id}/bend`)
  expect(await turn(page)).toBeCloseTo(90, 0)
  const slider = page.getByRole('slider', { name: 'Turn of the bend' })
  await slider.focus()
  await page.keyboard.press('Home')
  expect(await turn(page)).toBe(0)
  await expect(page.getByText('from tangent to tangent')).toBeVisible()
  await page.getByRole('button', { name: 'Bend it a step' }).click()
  expect(await turn(page)).toBeCloseTo(96.4 / 6, 0)
  await page.keyboard.press('Tab')
  await page.keyboard.press('End')
  await expect(page.getByText('the kerfs are closed')).toBeVisible()
  expect(await turn(page)).toBeCloseTo(96.4, 0)
  await page.getByRole('button', { name: 'To 90°' }).click()
  expect(await turn(page)).toBeCloseTo(90, 1)

  // Else it runs through by itself.
  await page.emulateMedia({ reducedMotion: 'no-preference' })
  await slider.press('Home')
  await page.getByRole('button', { name: 'Close the kerfs' }).click()
  await expect(page.getByText('the kerfs are closed')).toBeVisible()
})

test('another design is put in with one press, and taken back with another', async ({ bench, page }) => {
  const id = await bench.piece('clinic')
  await open(page, `${bench.url}/piece/${id}/bend`)
  const answer = page.getByRole('heading', { level: 1 })
  const was = (await answer.textContent())!
  const other = page.getByRole('listitem').filter({ has: page.getByRole('button', { name: 'Put this design in' }) }).first()
  const count = (await other.locator('.figure').textContent())!
  await other.getByRole('button').click()
  await expect(answer).not.toHaveText(was)
  await expect(answer).toContainText(`${count} kerfs`)
  // It went into the shop or into the piece; one press takes it back from there.
  await page.getByRole('button', { name: 'Take it back' }).click()
  await expect(answer).toHaveText(was)
})

test('the page of the bends is clear to all, in every light and size', async ({ bench, page }) => {
  test.slow()
  const id = await bench.piece('record cabinet')
  await open(page, `${bench.url}/piece/${id}/bend`)
  await axeEverywhere(page, async () => { await expect(page.locator('path.section[data-turn]')).toBeVisible() })
  // Nothing is bent in a chest of flat panels: the page says what would be.
  await page.goto(`${bench.url}/piece/${await bench.piece('chest')}/bend`)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Nothing is bent in this piece.')
  await expect(page.getByRole('link', { name: 'To the desk' })).toBeVisible()
})
