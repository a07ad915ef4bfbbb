import { axeEverywhere, expect, test, type Page } from './bench'

const opening = (page: Page, name: string) => page.locator('article', { has: page.getByRole('heading', { name: new RegExp(name) }) })

/** What stands in the last column of a line of an opening's table. */
const now = (page: Page, name: string, what: RegExp) => opening(page, name).locator('tr', { has: page.getByText(what) }).locator('td').last()

test('a measured opening recomputes box and front', async ({ page, bench }) => {
  test.setTimeout(120_000)
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/bench`)
  const one = opening(page, 'column 3 row 1')
  await expect(now(page, 'column 3 row 1', /^Front .*, wide$/)).toContainText('460 mm')
  await expect(now(page, 'column 3 row 1', /^Box, wide outside/)).toContainText('437.9 mm')

  // Typed in the forms a maker writes; the record wants all of them.
  const wide = one.getByRole('group', { name: 'Wide' }), high = one.getByRole('group', { name: 'High' })
  await wide.getByLabel('top').fill('463.6')
  await wide.getByLabel('middle').fill('46.36 cm')
  await wide.getByLabel('bottom').fill('463.6 mm')
  await high.getByLabel('left').fill('165')
  await high.getByLabel('left').press('Tab')
  await expect(one.getByText('Wanted yet')).toContainText('2 heights')
  await page.reload() // what is typed is kept until there is enough of it
  await expect(wide.getByLabel('middle')).toHaveValue('46.36 cm')
  await high.getByLabel('middle').fill('16.5 cm')
  await high.getByLabel('right').fill('165')
  await high.getByLabel('right').press('Enter')

  // 0.4 narrower than planned: so are front and box.
  await expect(now(page, 'column 3 row 1', /^Front .*, wide$/)).toContainText('459.6 mm')
  await expect(now(page, 'column 3 row 1', /^Box, wide outside/)).toContainText('437.5 mm')
  await expect(one.locator('tr', { has: page.getByText(/^Box, wide outside/) }).locator('td').nth(1)).toContainText('437.9 mm')
  await expect(page.getByRole('heading', { level: 1 })).toContainText('1 of 4 openings measured')
  await expect(one.locator('.pic svg')).toBeVisible()

  // One size put right: only that follows.
  await wide.getByLabel('top').fill('463,x')
  await wide.getByLabel('top').press('Enter')
  await expect(one.locator('.problem')).toBeVisible()
  await page.waitForTimeout(1000) // the answer to it has come
  await expect(wide.getByLabel('top')).toHaveValue('463,x')
  // Edits take their time: the answer to the first comes while the next is on
  // its way, and takes back nothing that was typed since.
  await page.route('**/api/docs/*', async (r) => {
    if (r.request().method() === 'PATCH') await new Promise((done) => setTimeout(done, 1500))
    await r.continue()
  })
  const first = page.waitForResponse((r) => r.url().endsWith('/bench'))
  await wide.getByLabel('top').fill('464')
  await wide.getByLabel('middle').fill('464')
  await wide.getByLabel('bottom').focus()
  await first
  await page.waitForTimeout(300) // the page has drawn it
  await expect(wide.getByLabel('middle')).toHaveValue(/^464/)
  await wide.getByLabel('bottom').fill('464')
  await wide.getByLabel('bottom').press('Enter')
  await expect(now(page, 'column 3 row 1', /^Box, wide outside/)).toContainText('437.9 mm')
  await one.getByRole('button', { name: 'Take these measures out' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toContainText('4 openings to measure')
})

test('a step is ticked and stays ticked', async ({ page, bench }) => {
  const id = await bench.piece('chest')
  await page.goto(`${bench.url}/piece/${id}/bench`)
  const first = page.getByRole('checkbox').first()
  await expect(first).toHaveAttribute('aria-checked', 'false')
  await first.click()
  await expect(first).toHaveAttribute('aria-checked', 'true')
  await expect(page.getByRole('heading', { level: 1 })).toContainText('steps left')
  await page.reload()
  await expect(page.getByRole('checkbox').first()).toHaveAttribute('aria-checked', 'true')
})

test('bench, finish and delivery read well everywhere', async ({ page, bench }) => {
  test.setTimeout(180_000)
  const id = await bench.piece('record')
  for (const at of ['bench', 'finish', 'delivery']) {
    await page.goto(`${bench.url}/piece/${id}/${at}`)
    await axeEverywhere(page, () => expect(page.getByRole('heading', { level: 1 })).toBeVisible())
  }
})
