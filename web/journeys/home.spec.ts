import { axeEverywhere, expect, type Page, test } from './bench'

const carefully = { timeout: 30_000 }

/** Drops a file on the page as a maker does with the mouse. */
async function drop(page: Page, name: string, text: string) {
  const data = await page.evaluateHandle(([n, t]) => {
    const d = new DataTransfer()
    d.items.add(new File([t!], n!, { type: 'application/yaml' }))
    return d
  }, [name, text])
  await page.dispatchEvent('main', 'dragover', { dataTransfer: data })
  await page.dispatchEvent('main', 'drop', { dataTransfer: data })
}

test('the first visit shows the demo pieces, drawn', async ({ page, bench }) => {
  await page.goto(bench.url)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('3 pieces')
  const card = page.getByRole('article', { name: 'Low record cabinet', exact: true })
  await expect(card).toContainText('1500 × 446 × 562.5 mm')
  await expect(card).toContainText(/things? to look at/, carefully)
  await expect(card.locator('svg.live path').first()).toBeVisible(carefully)
  // Ink of the page, no colour of its own.
  expect(await card.locator('svg.live path.pen').first().getAttribute('stroke')).toBe('currentColor')

  // Six instead of one, typed in place.
  await card.getByLabel('To make').fill('6')
  await card.getByLabel('To make').press('Enter')
  await expect.poll(async () => (await (await page.request.get(`${bench.url}/api/pieces/${await bench.piece('record')}/card`)).json()).count).toBe(6)

  // A copy, put away and taken out again.
  await card.getByRole('button', { name: 'Duplicate' }).click()
  const copy = page.getByRole('article', { name: 'Low record cabinet, copy' })
  await copy.getByRole('button', { name: 'Put away' }).click()
  await expect(copy).toHaveCount(0)
  await page.getByText('Put away: 1 piece').click()
  await page.getByRole('button', { name: 'Take out again Low record cabinet, copy' }).click()
  await expect(copy).toBeVisible()

  // The file as the maker wrote it, with its comments.
  const [file] = await Promise.all([page.waitForEvent('download'), card.getByRole('link', { name: 'Save the file' }).click()])
  expect(file.suggestedFilename()).toBe('low-record-cabinet.yaml')
  await axeEverywhere(page, () => expect(page.getByRole('heading', { level: 1 })).toBeVisible())
})

test('a new piece from a starting shape can be made at once', async ({ page, bench }) => {
  await page.goto(bench.url)
  await page.getByRole('button', { name: 'New piece' }).click()
  await page.getByRole('radio', { name: /open below/ }).check()
  await page.getByLabel('Name').fill('Bedside case')
  await page.getByRole('button', { name: 'Begin this piece' }).click()
  await expect(page).toHaveURL(/\/piece\/.*\/desk$/)
  await page.getByRole('link', { name: 'Pieces' }).click()
  await expect(page.getByRole('article', { name: 'Bedside case' }).locator('svg.live path').first()).toBeVisible(carefully)
})

test('a broken file is kept, shown with its lines, and mended', async ({ page, bench }) => {
  const broken = 'format: 1\nname: Low bench # by the window\nunits: mm\nmaterials: {case: ply-18}\ncase:\n  kind: carcas\n  width: 900\n  height: 420\n  depth: 350\n'
  await page.goto(bench.url)
  await expect(page.getByRole('article')).toHaveCount(3)
  await drop(page, 'bench.yaml', broken)
  await expect(page.getByRole('heading', { level: 1 })).toContainText('has to be mended in Low bench')
  await expect(page.getByRole('listitem').filter({ hasText: 'Line 6' })).toContainText('carcass')
  const text = page.getByLabel(/The text as it was written/)
  await expect(text).toHaveValue(broken)
  await axeEverywhere(page, () => expect(text).toBeVisible())

  // Half mended, then the page is read anew: what was typed is still there.
  await text.fill(broken.replace('carcas\n', 'carcass\n'))
  await page.reload()
  await expect(text).toHaveValue(/kind: carcass/)
  await page.getByRole('button', { name: 'Put this text in' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Low bench can be planned as it is written.')
  await page.getByRole('link', { name: 'Open it' }).click()
  await expect(page).toHaveURL(/\/desk$/)
  const id = new URL(page.url()).pathname.split('/')[2]
  expect(await (await page.request.get(`${bench.url}/api/docs/${id}/text`)).text()).toContain('# by the window')

  // A shop is known by its fields; what is no text is refused by a sentence.
  await page.goto(bench.url)
  await drop(page, 'shop.yaml', 'format: 1\nunits: mm\nsaws:\n  table: {kind: table, kerf: 3, depth: 80}\n')
  await expect(page.getByText('shop.yaml is brought in as a shop.')).toBeVisible()
  await drop(page, 'photo.yaml', 'a\0b')
  await expect(page.getByText('photo.yaml is not a text.')).toBeVisible()
})

test('a text typed while another page changes it loses neither', async ({ page, bench, allow }) => {
  allow(/409/)
  const id = await bench.piece('chest')
  const url = `${bench.url}/api/docs/${id}`
  const good = await (await page.request.get(`${url}/text`)).text()
  await page.goto(`${bench.url}/?mend=${id}`)
  const text = page.getByLabel(/The text as it was written/)
  await expect(text).toHaveValue(good)
  await text.fill(good + '# mine\n')
  const { version } = await (await page.request.get(url)).json()
  await page.request.put(`${url}/text`, { data: { base: version, edit: 'journey-other', text: good + '# theirs\n' } })
  const theirs = page.getByLabel('The text of the other page')
  await expect(theirs).toHaveValue(/# theirs/)
  await expect(text).toHaveValue(/# mine/)
  await axeEverywhere(page, () => expect(theirs).toBeVisible())
  expect(await (await page.request.get(`${url}/text`)).text()).toContain('# theirs')
  await page.getByRole('button', { name: 'Go on with this one' }).click()
  await expect(text).toHaveValue(/# theirs/)
  await page.reload()
  await expect(page.getByLabel('What was written here before')).toHaveValue(/# mine/)
  await text.fill(good + '# theirs\n# mine\n')
  await page.getByRole('button', { name: 'Put this text in' }).click()
  await expect(page.getByRole('status').filter({ hasText: 'Put in.' })).toBeVisible()
  expect(await (await page.request.get(`${url}/text`)).text()).toBe(good + '# theirs\n# mine\n')
  await page.getByRole('button', { name: 'Let it go' }).click()
  await expect(page.getByLabel('What was written here before')).toHaveCount(0)
})

test('what an edit changed is told, and undone after a restart', async ({ page, bench, allow }) => {
  allow(/ERR_CONNECTION_REFUSED|ERR_INCOMPLETE|ERR_EMPTY_RESPONSE|Failed to load resource|net::ERR/)
  const id = await bench.piece('record')
  await page.goto(`${bench.url}/piece/${id}/history`)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Nothing was changed since it was begun.')
  await page.request.patch(`${bench.url}/api/docs/${id}`, { data: { base: 1, edit: 'journey-first', changes: [{ path: 'case.width', do: 'set', value: '1520' }] } })
  await expect(page.getByText('case.width 1500 → 1520 mm')).toBeVisible()
  await page.getByRole('link', { name: /numbers and \d+ papers changed/ }).click(carefully)
  await expect(page.getByRole('heading', { level: 1 })).toContainText(/\d+ numbers and \d+ papers changed/, carefully)
  await expect(page.getByRole('row', { name: 'case width 1500 1520' })).toBeVisible()
  const part = page.getByRole('region', { name: 'Desk' }).locator('details', { hasText: 'part D top rail' })
  await expect(part).toContainText('1340 mm')
  await expect(part).toContainText('outside width 1500 mm → 1520 mm')
  await axeEverywhere(page, () => expect(page.getByRole('heading', { level: 1 })).toContainText('papers changed', carefully))

  await bench.restart('SIGKILL')
  await page.goto(`${bench.url}/piece/${id}/history`)
  await expect(page.getByText('case.width 1500 → 1520 mm')).toBeVisible()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.getByRole('listitem').filter({ hasText: 'put in with the demo pieces' })).toContainText('stands')
  await page.getByRole('button', { name: 'Redo' }).click()
  await expect(page.getByRole('listitem').filter({ hasText: '1500 → 1520' })).toContainText('stands')

  // Back to the first as a new one.
  await page.getByRole('button', { name: 'Look at it (1)' }).click()
  await axeEverywhere(page, () => expect(page.getByRole('button', { name: 'Go back to this one' })).toBeVisible())
  await page.getByRole('button', { name: 'Go back to this one' }).click()
  await expect(page.getByText('back to number 1')).toBeVisible()
  expect(await (await page.request.get(`${bench.url}/api/docs/${id}/text`)).text()).toContain('width: 1500')
})

test('two pages change one piece: the second sees both and chooses, across a reload', async ({ page, bench, another, allow }) => {
  allow(/409|api\/events|Failed to load resource|net::ERR/)
  const id = await bench.piece('record')
  const second = await another()
  await second.route('**/api/events', (r) => r.abort()) // it does not hear of the first
  await second.goto(bench.url)
  const card = second.getByRole('article', { name: 'Low record cabinet', exact: true })
  await expect(card.getByLabel('To make')).toHaveValue('1')

  await page.goto(bench.url)
  await page.getByRole('article', { name: 'Low record cabinet', exact: true }).getByLabel('To make').fill('2')
  await page.getByRole('article', { name: 'Low record cabinet', exact: true }).getByLabel('To make').press('Enter')
  await expect.poll(async () => (await (await page.request.get(`${bench.url}/api/docs/${id}/text`)).text()), carefully).toMatch(/count: 2/)

  await card.getByLabel('To make').fill('5')
  await card.getByLabel('To make').press('Enter')
  await expect(card.getByText('changed on another page')).toBeVisible()
  // Whatever the first page does, what the second keeps is its own.
  await expect(page.getByRole('article', { name: 'Low record cabinet', exact: true }).getByLabel('To make')).toHaveValue('2')
  await page.getByRole('article', { name: 'Low record cabinet', exact: true }).getByLabel('To make').fill('3')
  await page.getByRole('article', { name: 'Low record cabinet', exact: true }).getByLabel('To make').press('Enter')
  await expect.poll(async () => (await (await page.request.get(`${bench.url}/api/docs/${id}/text`)).text()), carefully).toMatch(/count: 3/)
  await second.reload()
  await second.goto(`${bench.url}/piece/${id}/history`)
  const choose = second.getByRole('region', { name: /changed on another page/ })
  await expect(choose.getByRole('radio', { name: 'Yours 5' })).toBeVisible(carefully)
  await expect(choose.getByRole('radio', { name: 'The other page 3' })).toBeVisible()
  await expect(choose.getByRole('button', { name: 'Put in what I chose' })).toBeDisabled()
  await axeEverywhere(second, () => expect(choose).toBeVisible())
  await choose.getByRole('radio', { name: 'Yours 5' }).check()
  await choose.getByRole('button', { name: 'Put in what I chose' }).click()
  await expect(choose).toHaveCount(0)
  await expect.poll(async () => (await (await second.request.get(`${bench.url}/api/docs/${id}/text`)).text()), carefully).toMatch(/count: 5/)
  await expect(second.getByText('count 3 → 5')).toBeVisible()

  // What a page could not send before it was closed goes out from the next.
  const third = await another()
  await third.goto(`${bench.url}/piece/${id}/history`)
  await expect(third.getByText('count 3 → 5')).toBeVisible(carefully)
  await third.evaluate((doc) => {
    const edit = { edit: 'left-behind-1', base: 0, head: 1, changes: [{ path: 'count', do: 'set', value: '7' }] }
    localStorage.setItem(`edits:${doc}:closed`, JSON.stringify({ queue: [edit] }))
  }, id)
  await third.reload()
  await expect(third.getByRole('radio', { name: 'Yours 7' })).toBeVisible(carefully)
})

test('a piece brought in with its shop is made in it, whichever file comes first', async ({ page, bench, allow }) => {
  const piece = 'format: 1\nname: Shelf box\nunits: mm\nmaterials: {case: fir-21}\ncase: {kind: carcass, width: 600, height: 400, depth: 250}\n'
  const shop = 'format: 1\nname: Fir shop\nunits: mm\nsaws:\n  table: {kind: table, kerf: 3, depth: 80}\npanels:\n  fir-21: {kind: softwood-ply, thickness: 21, sheets: [{length: 2440, width: 1220}]}\n'
  const files = [['box.yaml', piece], ['box.shop.yaml', shop]].map(([name, text]) => ({ name: name!, mimeType: 'text/yaml', buffer: Buffer.from(text!) }))
  await page.goto(bench.url)
  await page.getByLabel('Files of pieces').setInputFiles(files)
  await expect(page.getByText('box.yaml is brought in as Shelf box.')).toBeVisible()
  const card = page.getByRole('article', { name: 'Shelf box' })
  await expect(card).toContainText('600 × 250 × 400 mm', carefully)
  const all = (await (await page.request.get(`${bench.url}/api/shops`)).json()) as { id: string; name: string }[]
  expect(all.map((s) => s.name).sort()).toEqual(['Demo shop, inches', 'Demo shop, metric', 'Demo shop, mixed units', 'Fir shop'])

  // In a shop that has not its stock the desk says which shop it is, and takes another.
  allow(/422/)
  const id = await bench.piece('shelf box')
  const other = all.find((s) => s.name === 'Demo shop, inches')!.id
  await page.request.post(`${bench.url}/api/pieces/${id}/shop`, { headers: { Origin: bench.url }, data: { shop: other } })
  await page.goto(`${bench.url}/piece/${id}/desk`)
  await expect(page.getByText(/the shop has no panel or wood of that key/).first()).toBeVisible()
  await axeEverywhere(page, () => expect(page.getByLabel('This piece is made in')).toHaveValue(other))
  await page.getByLabel('This piece is made in').selectOption({ label: 'Fir shop' })
  await expect(page.getByRole('heading', { level: 1 })).toContainText('600 wide', carefully)
  await expect(page.getByLabel('This piece is made in')).toHaveCount(0)
  await page.getByRole('link', { name: 'Shop', exact: true }).click()
  await expect(page.getByText('Fir shop').first()).toBeVisible()
})
