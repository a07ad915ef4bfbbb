import { networkInterfaces } from 'node:os'
import { axeEverywhere, Bench, expect, test, watch } from './bench'

// An address of this machine that is not loopback: what comes to it counts as
// coming from another device.
const own = Object.values(networkInterfaces()).flat().find((a) => a && !a.internal && a.family === 'IPv4')?.address

test.describe('a second device', () => {
  test.skip(!own, 'this machine is in no network')

  test('is let in by the code, works, and is shut out', async ({ page, browser, watched, allow }) => {
    test.slow() // many looks by axe, on two pages
    // A browser that was not told to trust the certificate refuses the worker.
    allow(/SSL certificate error/)
    // What is refused on purpose below stands in the console too.
    allow(/the server responded with a status of (401|403)/)
    const bench = new Bench(['--lan'])
    await bench.start()
    const there = bench.url.replace('http://127.0.0.1', `https://${own}`)
    const context = await browser.newContext({ ignoreHTTPSErrors: true, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
    try {
      const phone = await context.newPage()
      watch(phone, watched.seen, () => watched.allowed)
      const id = await bench.piece('record')

      // Nothing of the maker's is to be had without a code.
      for (const path of ['/api/pieces', `/api/docs/${id}/text`, '/api/events']) {
        expect((await context.request.get(there + path)).status(), path).toBe(401)
      }
      await phone.goto(`${there}/piece/${id}/saw`)
      await expect(phone.getByRole('heading', { name: 'Type the code from the laptop.' })).toBeVisible()
      await axeEverywhere(phone, () => expect(phone.getByLabel('Code, eight digits')).toBeVisible())

      await page.goto(`${bench.url}/devices`)
      await expect(page.getByRole('heading', { level: 1 })).toHaveText('No other device is let in yet.')
      await page.getByRole('button', { name: 'Show a code' }).click()
      const digits = await page.getByTestId('digits').innerText()
      expect(digits).toMatch(/^\d{4} \d{4}$/)
      await axeEverywhere(page, () => expect(page.getByTestId('digits')).toBeVisible())

      const wrong = digits.startsWith('0') ? '1' + digits.slice(1) : '0' + digits.slice(1)
      await phone.getByLabel('Code, eight digits').fill(wrong)
      await phone.getByLabel('What to call this device').fill('Phone at the saw')
      await phone.getByRole('button', { name: 'Let this device in' }).click()
      await expect(phone.getByRole('alert')).toContainText('This code is not right')
      await expect(phone.getByLabel('Code, eight digits')).toBeFocused()

      await phone.getByLabel('Code, eight digits').fill(digits)
      await phone.getByRole('button', { name: 'Let this device in' }).click()
      await expect(phone.getByRole('heading', { name: 'This device is let in as Phone at the saw.' })).toBeVisible()
      await axeEverywhere(phone, () => expect(phone.getByText('To work where the network')).toBeVisible())
      await expect(page.getByRole('status').filter({ hasText: 'Phone at the saw is let in.' })).toBeVisible()

      // It sees a piece, and the laptop sees that it is there.
      await phone.goto(`${there}/piece/${id}/papers`)
      await expect(phone.getByText(/Revision/).first()).toBeVisible()
      await expect(page.getByText('has a page open now; let in')).toBeVisible({ timeout: 15_000 })

      await page.getByRole('button', { name: 'Shut Phone at the saw out' }).click()
      await axeEverywhere(page, () => expect(page.getByRole('button', { name: 'Leave it in' })).toBeVisible())
      await page.getByRole('button', { name: 'Shut Phone at the saw out now' }).click()
      await expect(page.getByText('None at present.')).toBeVisible()
      expect((await context.request.get(`${there}/api/pieces`)).status()).toBe(401)
      await phone.reload()
      await expect(phone.getByRole('heading', { name: 'This device was shut out.' })).toBeVisible()
      await axeEverywhere(phone, () => expect(phone.getByText('show a new code')).toBeVisible())
    } finally {
      await context.close()
      await bench.end()
    }
  })

  test('finds the code in the address of the picture, and its page takes it out of there', async ({ page, browser, watched, allow }) => {
    allow(/SSL certificate error/)
    const bench = new Bench(['--lan'])
    await bench.start()
    const context = await browser.newContext({ ignoreHTTPSErrors: true, viewport: { width: 390, height: 844 } })
    try {
      await page.goto(`${bench.url}/devices`)
      await page.getByRole('button', { name: 'Show a code' }).click()
      const digits = await page.getByTestId('digits').innerText()
      const phone = await context.newPage()
      watch(phone, watched.seen, () => watched.allowed)
      await phone.goto(`${bench.url.replace('http://127.0.0.1', `https://${own}`)}/join#${digits.replace(' ', '')}`)
      await expect(phone.getByLabel('Code, eight digits')).toHaveValue(digits)
      expect(new URL(phone.url()).hash).toBe('')
      await phone.keyboard.press('Tab')
      await phone.getByRole('button', { name: 'Let this device in' }).press('Enter')
      await expect(phone.getByRole('heading', { name: /^This device is let in as/ })).toBeVisible()
      await phone.getByRole('link', { name: 'Go to the pieces' }).click()
      await expect(phone).toHaveURL(/\/$/)
    } finally {
      await context.close()
      await bench.end()
    }
  })

  test('does not reach a program that was started for this machine alone', async ({ page, bench, request }) => {
    await page.goto(`${bench.url}/devices`)
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Only this machine can reach the workbench.')
    await axeEverywhere(page, () => expect(page.getByText('casewright serve --lan')).toBeVisible())
    await expect(request.get(bench.url.replace('127.0.0.1', own!), { timeout: 3000 })).rejects.toThrow()
  })
})
