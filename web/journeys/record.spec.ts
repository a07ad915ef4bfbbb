import { expect, test } from './bench'

// Once case and blanks are off the panel, only the blanks' last cuts are left
// at the saw; counted as parts they are gone from there.
test('blanks off the saw are not laid out again', async ({ page, bench }) => {
  const id = await bench.piece('record')
  const get = async <T>(path: string) => (await (await fetch(`${bench.url}/api${path}`)).json()) as T
  const record = async () => await get<{ parts: { letter: string; sizes: string; name: string }[]; blanks: { letter: string; cut: number }[] }>(`/pieces/${id}/record`)
  const runs = async () => (await get<{ runs: { title: string }[] }>(`/pieces/${id}/saw`)).runs.map((r) => r.title)
  const panel = 'White oak veneered plywood, 18 mm'
  expect(await runs()).toContain(panel)

  await page.goto(`${bench.url}/piece/${id}/record`)
  await page.getByRole('button', { name: 'All of blank M' }).click()
  await expect(page.getByText('4 blanks to be cut to measure')).toBeVisible()
  for (const letter of ['A', 'G', 'Q']) {
    await page.getByRole('button', { name: `All of ${letter}`, exact: true }).click()
    await expect(page.getByRole('button', { name: `All of ${letter}`, exact: true })).toBeDisabled()
  }
  await expect.poll(runs).not.toContain(panel)
  expect(await runs()).toContain(`${panel}: blanks to the measured openings`)
  expect((await record()).blanks).toMatchObject([{ letter: 'M', cut: 4 }])

  await page.getByRole('button', { name: 'All of M', exact: true }).click()
  for (let n = 4; n > 0; n--) await page.getByRole('button', { name: 'One blank M less' }).click()
  await expect.poll(runs).not.toContain(`${panel}: blanks to the measured openings`)
})
