import { axeClean, axeEverywhere, expect, type Page, test } from './bench'

/** The line of a field, and what it says. */
const line = (page: Page, path: string) => page.locator(`[data-key="${path}"]`)
const answer = (page: Page) => page.getByRole('heading', { level: 1 })

/** At the desk with the front in view, as last looked at. */
async function open(page: Page, url: string, id: string) {
  await page.addInitScript(() => localStorage.setItem('desk-view', 'front'))
  await page.goto(`${url}/piece/${id}/desk`)
  await expect(page.locator('svg.live')).toBeVisible({ timeout: 30_000 })
}

/** Types over a line, as with the mouse and the keyboard at a desk. */
async function put(page: Page, path: string, value: string) {
  await line(page, path).getByRole('gridcell').click()
  const field = line(page, path).locator('input, select, textarea')
  if (await field.evaluate((e) => e.tagName === 'SELECT')) {
    await field.selectOption(value)
  } else {
    await field.fill(value)
    await field.press('Enter')
  }
  await expect(field).toHaveCount(0)
}

async function api<T>(url: string, path: string): Promise<T> {
  return (await (await fetch(url + path)).json()) as T
}
const textOf = async (url: string, id: string) => (await fetch(`${url}/api/docs/${id}/text`)).text()

test('a U-shell is made from nothing, line by line', async ({ page, bench }) => {
  const made = await fetch(`${bench.url}/api/pieces`, {
    method: 'POST', headers: { 'Content-Type': 'application/json', Origin: bench.url }, body: JSON.stringify({ shape: 'blank', units: 'mm', name: 'Side table' }),
  })
  const { id } = (await made.json()) as { id: string }
  await open(page, bench.url, id)
  await expect(answer(page)).toContainText('600 wide')

  // A shell asks for more than a carcass: the last plan stays in view meanwhile.
  await put(page, 'case.kind', 'shell')
  await expect(page.getByText('The picture is of the last plan that could be made.')).toBeVisible()
  await expect(line(page, 'case.shape')).toContainText('wanted')
  await put(page, 'case.shape', 'u')
  await put(page, 'case.radius', '60')
  await put(page, 'case.skin', '2')
  await put(page, 'case.height', '450')
  await expect(page.getByText('The picture is of the last plan')).toHaveCount(0)
  await expect(answer(page)).toContainText('600 wide, 300 deep and 450 mm high')
  await expect(page.getByRole('row', { name: /shell/ }).first()).toBeVisible()

  // Shelves in the open space, then a back.
  await line(page, 'inside').getByRole('rowheader').click()
  await page.getByRole('button', { name: 'Add inside' }).click()
  expect(await textOf(bench.url, id)).toContain('shape: u')
  await line(page, 'back').getByRole('rowheader').click()
  await page.getByRole('button', { name: 'Add back' }).click()
  await expect(line(page, 'back.fit')).toContainText('rebated')
})

test('sizes are typed in any form and shown in both units', async ({ page, bench }) => {
  const id = await bench.piece('clinic')
  await open(page, bench.url, id)
  await put(page, 'case.width', '11-29/32"')
  await expect(line(page, 'case.width')).toContainText('302.4 mm')
  await expect(page.getByText('Typed: 11-29/32"')).toBeVisible()
  await put(page, 'case.width', '30 cm')
  await expect(line(page, 'case.width')).toContainText('300 mm')
  await put(page, 'case.width', "1' 4-1/2\"")
  await expect(line(page, 'case.width')).toContainText('419.1 mm')
  expect(await textOf(bench.url, id)).toContain(`width: 1' 4-1/2"`)

  // What cannot be read stays as typed, with a sentence; the picture stays.
  await put(page, 'case.depth', 'broad')
  await expect(line(page, 'case.depth')).toContainText('broad')
  await expect(page.getByRole('alert').filter({ hasText: 'cannot read “broad”' })).toBeVisible()
  await expect(page.locator('svg.live')).toBeVisible()
  await put(page, 'case.depth', '19-1/2')
  await expect(page.getByText('The picture is of the last plan')).toHaveCount(0)
})

test('the piece is walked and changed with the keyboard alone', async ({ page, bench }) => {
  const id = await bench.piece('record')
  await open(page, bench.url, id)
  const focused = () => page.evaluate(() => (document.activeElement as HTMLElement).dataset.key ?? document.activeElement?.tagName)
  await line(page, 'case').focus()
  await page.keyboard.press('ArrowDown')
  expect(await focused()).toBe('case.kind')
  await page.keyboard.press('ArrowDown')
  expect(await focused()).toBe('case.width')
  await page.keyboard.press('ArrowLeft')
  expect(await focused()).toBe('case')
  await page.keyboard.press('ArrowLeft')
  await expect(line(page, 'case')).toHaveAttribute('aria-expanded', 'false')
  await page.keyboard.press('ArrowRight')
  await expect(line(page, 'case')).toHaveAttribute('aria-expanded', 'true')
  await page.keyboard.press('End')
  expect(await focused()).toBe('?')
  await page.keyboard.press('Home')
  expect(await focused()).toBe('case')

  // Typing begins at once; Escape gives up, Enter commits.
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.type('1')
  await page.keyboard.press('Escape')
  await expect(line(page, 'case.width')).toContainText('1500 mm')
  expect(await focused()).toBe('case.width')
  await page.keyboard.type('1400')
  await page.keyboard.press('Enter')
  await expect(answer(page)).toContainText('1400 wide')
  expect(await focused()).toBe('case.width')

  // Rows and columns are put in and taken out; undo brings them back.
  await line(page, 'inside.columns[1]').focus()
  await page.keyboard.press('Insert')
  await expect(line(page, 'inside.columns[3]')).toBeVisible()
  await page.keyboard.press('Delete')
  await expect(line(page, 'inside.columns[3]')).toHaveCount(0)
  await page.keyboard.press('Control+z')
  await expect(line(page, 'inside.columns[3]')).toBeVisible()
  await page.keyboard.press('Control+z')
  await expect(line(page, 'inside.columns[3]')).toHaveCount(0)
  const text = await textOf(bench.url, id)
  expect(text).toContain('height: 410           # outside, without the legs')
  expect(text).toContain('width: 1400')
})

test('a dimension is clicked and typed over, and reached by Tab', async ({ page, bench }) => {
  const id = await bench.piece('record')
  await open(page, bench.url, id)
  await page.locator('.dim[data-path="case.width"]').click()
  await page.getByRole('textbox', { name: 'case width' }).fill('1600')
  await page.keyboard.press('Enter')
  await expect(page.locator('.dim[data-path="case.width"]')).toHaveAttribute('data-value', '1600 mm')
  await expect(line(page, 'case.width')).toContainText('1600 mm')
  await expect(answer(page)).toContainText('1600 wide')

  const height = page.locator('.dim[data-path="case.height"]').first()
  await height.focus()
  await page.keyboard.press('Enter')
  await page.getByRole('textbox', { name: 'case height' }).fill('16-1/2 in')
  await page.keyboard.press('Enter')
  await expect(line(page, 'case.height')).toContainText('419.1 mm')
  await expect(page.locator('.dim[data-path="case.height"]').first()).toBeFocused()
})

test('a part is picked in list and drawing, with the sum behind its size', async ({ page, bench }) => {
  const id = await bench.piece('record')
  await open(page, bench.url, id)
  const parts = page.getByRole('region', { name: 'Parts' })
  await parts.getByRole('button', { name: /top rail/ }).click()
  await expect(parts.getByText('inner radius')).toBeVisible()
  await expect(page.locator('[data-part="D"].picked').first()).toBeAttached()
  await page.locator('[data-part="M"]').first().click()
  await expect(parts.getByRole('button', { name: /^M/ })).toHaveAttribute('aria-expanded', 'true')
})

test('a finding stands beside its line and its advice is put in with one press', async ({ page, bench }) => {
  const id = await bench.piece('clinic')
  await open(page, bench.url, id)
  // The base no longer is as high as its casters: the advice is one change.
  await expect(async () => {
    if (await line(page, 'base.height').count() === 0) await line(page, 'base').getByRole('rowheader').click()
    await expect(line(page, 'base.height')).toBeVisible({ timeout: 2_000 })
  }).toPass()
  await put(page, 'base.height', '4')
  await expect(line(page, 'base.height').locator('.mark')).toBeVisible()
  await line(page, 'base.height').focus()
  const known = page.getByRole('region', { name: 'What is known of this line' })
  await known.getByRole('button', { name: /^Set the base to 3/ }).click()
  await expect(line(page, 'base.height')).toContainText('3 in')
  await expect(known.getByRole('button', { name: /^Set the base to/ })).toHaveCount(0)
  expect(await textOf(bench.url, id)).toContain('base: {kind: casters, height: 3 in, hardware: caster-3')
})

test('a text that is no YAML is mended as text', async ({ page, bench }) => {
  const id = await bench.piece('chest')
  const good = await textOf(bench.url, id)
  const doc = await api<{ version: number }>(bench.url, `/api/docs/${id}`)
  await fetch(`${bench.url}/api/docs/${id}/text`, {
    method: 'PUT', headers: { 'Content-Type': 'application/json', Origin: bench.url },
    body: JSON.stringify({ base: doc.version, edit: 'journey-broken', text: good.replace('width: 20\n', 'width: [20\n') }),
  })
  await open(page, bench.url, id)
  await expect(page.getByText('The text of this piece cannot be read')).toBeVisible()
  await expect(page.getByText('The picture is of the last plan')).toBeVisible()
  await page.getByLabel('The text, to be mended here').fill(good)
  await page.getByRole('button', { name: 'Put this text in' }).click()
  await expect(line(page, 'case.width')).toContainText('20 in')
})

test('the desk is clean for all readers, large and small', async ({ page, bench }) => {
  test.slow()
  const id = await bench.piece('record')
  await open(page, bench.url, id)
  await axeEverywhere(page, () => expect(answer(page)).toContainText('1500 wide'))
  await page.setViewportSize({ width: 390, height: 844 })
  for (const name of ['Sizes', 'Parts']) {
    await page.getByRole('group', { name: 'Show' }).getByRole('button', { name }).click()
    await axeClean(page, name)
  }
})
