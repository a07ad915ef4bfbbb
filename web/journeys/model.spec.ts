import { axeEverywhere, expect, type Page, test } from './bench'

// Drawn in software, a picture takes its time; a small window takes less.
test.use({ viewport: { width: 1000, height: 640 } })
test.setTimeout(180_000)
test.afterEach(async ({ page }) => { await page.goto('about:blank') }) // the page lets go of the program before it ends

const space = (page: Page) => page.locator('.host')

async function open(page: Page, url: string, id: string) {
  // Once the layouts are settled nothing on the page moves by itself.
  await expect.poll(async () => ((await (await fetch(`${url}/api/pieces/${id}/scene`)).json()) as { settled: boolean }).settled, { timeout: 60_000 }).toBe(true)
  await page.goto(`${url}/piece/${id}/desk`)
  await page.getByRole('group', { name: 'View', exact: true }).getByRole('button', { name: 'In space' }).click()
  await expect(space(page)).toHaveAttribute('data-ready', 'true', { timeout: 30_000 })
}

/** What is drawn just now, as a PNG. */
async function picture(page: Page): Promise<string> {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))
  await page.locator('.host').evaluate((e) => e.scrollIntoView({ block: 'end' }))
  const clip = (await page.locator('.host').boundingBox())!
  return (await page.screenshot({ clip })).toString('base64')
}

/** The share of the points that are clearly another colour; a hair's breadth of an edge does not count. */
function apart(page: Page, a: string, b: string): Promise<number> {
  return page.evaluate(async ([one, two]) => {
    const points = async (png: string) => {
      const bytes = Uint8Array.from(atob(png), (c) => c.charCodeAt(0))
      const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
      const ground = new OffscreenCanvas(400, 300).getContext('2d')!
      ground.drawImage(image, 0, 0, 400, 300)
      return ground.getImageData(0, 0, 400, 300).data
    }
    const [p, q] = await Promise.all([points(one!), points(two!)])
    let differ = 0
    for (let i = 0; i < p.length; i += 4) if (Math.abs(p[i]! - q[i]!) + Math.abs(p[i + 1]! - q[i + 1]!) + Math.abs(p[i + 2]! - q[i + 2]!) > 90) differ++
    return differ / (400 * 300)
  }, [a, b])
}
const alike = 0.004

const slide = (page: Page, name: string, value: number) =>
  page.getByRole('slider', { name }).evaluate((e, v) => {
    ;(e as HTMLInputElement).value = String(v)
    e.dispatchEvent(new Event('input', { bubbles: true }))
  }, value)

test('a shell closes along its kerfs, comes apart and opens', async ({ page, bench }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page, bench.url, await bench.piece('record'))
  const host = space(page)
  // Every part of the plan stands in the view, at every one of its places.
  const scene = (await (await fetch(`${bench.url}/api/pieces/${await bench.piece('record')}/scene`)).json()) as { bodies: { spots: unknown[] }[] }
  await expect(host).toHaveAttribute('data-parts', String(scene.bodies.reduce((n, b) => n + b.spots.length, 0)))
  await expect(page.getByRole('button', { name: /^width, 1500 mm/ })).toBeVisible()
  const bent = await picture(page)
  expect(await apart(page, bent, await picture(page))).toBeLessThan(alike) // nothing moves by itself

  const seen = [bent]
  const fresh = async (what: string) => {
    const p = await picture(page)
    for (const before of seen) expect(await apart(page, before, p), what).toBeGreaterThan(alike)
    seen.push(p)
  }
  await slide(page, 'Bend the shell', 0.5)
  await expect(host).toHaveAttribute('data-bend', '0.5')
  await fresh('half bent')
  await page.getByRole('button', { name: 'Flat', exact: true }).click()
  await expect(host).toHaveAttribute('data-bend', '0')
  await fresh('flat')
  await page.getByRole('button', { name: 'Bent', exact: true }).click()
  await expect(host).toHaveAttribute('data-bend', '1')
  await expect.poll(async () => apart(page, bent, await picture(page)), { timeout: 30_000 }).toBeLessThan(alike)

  await page.getByRole('button', { name: 'Apart', exact: true }).click()
  await expect(host).toHaveAttribute('data-apart', '1')
  await fresh('apart')
  await page.getByRole('button', { name: 'Together', exact: true }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await expect(host).toHaveAttribute('data-open', '1')
  await fresh('drawers open')
  await page.getByRole('button', { name: 'Shut', exact: true }).click()

  await page.getByRole('combobox', { name: 'Section' }).selectOption({ label: 'front to back' })
  await expect(host).toHaveAttribute('data-section', 'y')
  await fresh('cut open')
  await page.getByRole('spinbutton', { name: /Place of the section/ }).fill('60')
  await page.keyboard.press('Enter')
  await fresh('cut elsewhere')
  await page.getByRole('combobox', { name: 'Section' }).selectOption({ label: 'none' })
  await expect.poll(async () => apart(page, bent, await picture(page)), { timeout: 30_000 }).toBeLessThan(alike)
})

test('the picture comes back when the screen has taken it away', async ({ page, bench }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page, bench.url, await bench.piece('clinic'))
  const before = await picture(page)
  const lose = await page.locator('.host canvas').evaluateHandle((c) => (c as HTMLCanvasElement).getContext('webgl2')!.getExtension('WEBGL_lose_context')!)
  await lose.evaluate((l) => l.loseContext())
  await expect(page.getByText('The screen took the picture away.')).toBeVisible()
  await lose.evaluate((l) => l.restoreContext())
  await expect(page.getByText('The screen took the picture away.')).toHaveCount(0)
  await expect.poll(async () => apart(page, before, await picture(page)), { timeout: 30_000 }).toBeLessThan(alike)
})

test('a part is picked with the mouse and from the list, and the view is turned by keys', async ({ page, bench }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page, bench.url, await bench.piece('record'))
  const host = space(page)
  await page.getByText('Parts, 19 letters').click()
  const list = page.locator('.model .parts')
  await list.getByRole('button', { name: /drawer front/ }).click()
  await expect(host).toHaveAttribute('data-picked', 'M')
  const card = page.getByRole('complementary', { name: 'Picked part' })
  await expect(card).toContainText('460 mm')
  await card.getByText('why').first().click()
  await expect(card).toContainText('gap')
  await card.getByRole('button', { name: /Let go/ }).click()
  await expect(host).toHaveAttribute('data-picked', '')

  // The middle of the front view is the shelf's room: what is clicked there is picked.
  await page.getByRole('group', { name: 'Views' }).getByRole('button', { name: 'Front' }).click()
  const box = (await page.locator('.host canvas').boundingBox())!
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2)
  await expect(host).not.toHaveAttribute('data-picked', '')
  await page.locator('.host canvas').focus()
  await page.keyboard.press('Escape')
  await expect(host).toHaveAttribute('data-picked', '')
  const before = await picture(page)
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowUp')
  await page.keyboard.press('+')
  expect(await apart(page, before, await picture(page))).toBeGreaterThan(alike)
})

test('a size is typed over in the view, and the view stays where it was', async ({ page, bench }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  const id = await bench.piece('record')
  await open(page, bench.url, id)
  const host = space(page)
  const was = await host.getAttribute('data-revision')
  await page.getByRole('button', { name: /^width, 1500 mm/ }).click()
  await page.getByRole('textbox', { name: 'width', exact: true }).fill('160 cm')
  await page.keyboard.press('Enter')
  await expect(host).not.toHaveAttribute('data-revision', was ?? '')
  await expect(page.getByRole('button', { name: /^width, 1600 mm/ })).toBeVisible()
})

test('where nothing can be drawn in space, the piece is shown drawn', async ({ page, bench, allow }) => {
  allow(/WebGL/)
  await page.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = () => null
  })
  const id = await bench.piece('clinic')
  await page.goto(`${bench.url}/piece/${id}/desk`)
  await page.getByRole('group', { name: 'View', exact: true }).getByRole('button', { name: 'In space' }).click()
  await expect(page.getByText('This browser cannot draw in space here')).toBeVisible()
  await expect(page.locator('.model .flat svg')).toBeVisible()
})

test('the view in space is for all', async ({ page, bench }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page, bench.url, await bench.piece('clinic'))
  await axeEverywhere(page, async () => {
    const picture = page.getByRole('group', { name: 'Show' }).getByRole('button', { name: 'Picture' })
    if (await picture.isVisible()) await picture.click()
    await expect(space(page)).toHaveAttribute('data-ready', 'true')
  })
})
