import type { Page } from '@playwright/test'
import type { World } from '#shared/facts.ts'
import { tickAllLines } from './acts.ts'
import { expect, test } from './clinic.ts'

test.use({ story: 'sets' })

/** A query as the screens ask it, in the name of whoever looks at the page. */
const ask = <T>(page: Page, path: string, input?: object): Promise<T> =>
  page.evaluate(
    async ([path, input]) => {
      const asked = input === undefined ? '' : `?input=${encodeURIComponent(JSON.stringify(input))}`
      return (await (await fetch(`/api/trpc/${path}${asked}`)).json()).result.data
    },
    [path, input] as const,
  )

/** A command as a screen would send it. */
const send = (page: Page, kind: string, input: object): Promise<{ refused: boolean }> =>
  page.evaluate(
    async ([kind, input]) => {
      const me = (await (await fetch('/api/trpc/me')).json()).result.data
      const answer = await fetch('/api/trpc/perform', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ id: crypto.randomUUID(), kind, input, sawRevision: 0, madeAt: me.at }),
      })
      return (await answer.json()).result.data
    },
    [kind, input] as const,
  )

/** The keys of a hand scanner that plays keyboard, wherever the focus stands. */
const scan = (page: Page, code: string): Promise<void> =>
  page.evaluate((text) => {
    const press = (key: string) =>
      (document.activeElement ?? document.body).dispatchEvent(
        new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }),
      )
    for (const key of text) press(key)
    press('Enter')
  }, code)

const shelfOf = (page: Page) =>
  page
    .getByRole('table')
    .getByRole('row', { name: /^Dam set/ })
    .getByRole('cell')

test('a shortage of the afternoon stands on board and day in the morning, in words each may read, and goes when it is mended', async ({
  person,
}) => {
  const { page } = await person('Bea Tornqvist')
  const desk = await person('Noor Kallas')
  await page.goto('/board')
  await desk.page.goto('/day')
  const atChair = page.getByRole('region', { name: 'Sets run short' })
  const atDesk = desk.page.getByRole('region', { name: 'Sets run short' })
  await expect(atChair).toContainText(
    /14:40 Operatory \d+ 1 dam set short: borrow, move the visit to \d\d:\d\d/,
  )
  await expect(atDesk).toContainText(/14:40 Operatory \d+ This appointment may have to move/)
  await expect(atDesk).not.toContainText(/dam|set short/)
  const dentist = await person('Dr Ilan Feher')
  await dentist.page.goto('/board')
  await expect(dentist.page.getByRole('button', { name: 'Freeze board' })).toBeVisible()
  await expect(dentist.page.getByRole('region', { name: 'Sets run short' })).toHaveCount(0)
  // The whole way back measured anew, and shorter: enough are back by then. Nobody reloads.
  const lead = await person('Wiktor Zielak')
  const turnaround = { soak: 2, clean: 6, dry: 2, pack: 2, cycle: 20, cool: 3 }
  expect((await send(lead.page, 'turnaround.set', { turnaround })).refused).toBe(false)
  await expect(atChair).toHaveCount(0, { timeout: 3_000 })
  await expect(atDesk).toHaveCount(0, { timeout: 3_000 })
  const asBefore = { soak: 10, clean: 12, dry: 5, pack: 4, cycle: 36, cool: 8 }
  expect((await send(lead.page, 'turnaround.set', { turnaround: asBefore })).refused).toBe(false)
  await expect(atChair).toHaveCount(1, { timeout: 3_000 })
})

test('a set goes to another site by two scans, and on its way it is stock of neither', async ({ person }) => {
  test.slow()
  const manager = await person('Ingrid Vasarely')
  const site = { siteId: null, name: 'Millbrook', zone: 'Europe/Dublin', opensAt: '08:00', closesAt: '17:00' }
  const added = await send(manager.page, 'site.set', { ...site, assistantPlaces: 'allowed' })
  expect(added.refused).toBe(false)

  const lead = await person('Wiktor Zielak')
  const { page } = lead
  const [code = ''] = await ask<string[]>(page, 'packs.onShelf', { kind: 'dam-set' })
  await page.goto('/sterilising')
  const here = Number(await shelfOf(page).first().textContent())
  await page.getByRole('link', { name: 'Send sets, or scan them in' }).click()
  await page.getByRole('button', { name: 'Goes to Millbrook' }).click()
  await scan(page, code)
  const going = page.getByRole('region', { name: /^On their way/ })
  await expect(going.getByRole('listitem')).toContainText(`pack ${code}`)
  await expect(going.getByRole('listitem')).toContainText('to Millbrook')

  await page.goto('/sterilising')
  await expect(shelfOf(page).first()).toHaveText(`${here - 1}`)
  await expect(shelfOf(page).last()).toHaveText('1')
  await page.getByRole('combobox', { name: /^Site/ }).selectOption('Millbrook')
  await expect(shelfOf(page).first()).toHaveText('0')

  await page.goto('/trays/sets')
  await expect(page.getByRole('button', { name: /^Has arrived here/ })).toHaveAttribute(
    'aria-pressed',
    'true',
  )
  await scan(page, code)
  await expect(page.getByText('None is on its way.')).toBeVisible()
  // Scanned again, and not as an echo of the first, it is said to be here already, and nothing is changed.
  await page.waitForTimeout(400)
  await scan(page, code)
  await expect(page.getByText('is at this site already')).toBeVisible()
  await page.goto('/sterilising')
  await expect(shelfOf(page).first()).toHaveText('1')
})

test('what a tray takes is told by its lot, and leaves the shelf when the tray is opened', async ({
  person,
}) => {
  test.slow()
  const { page } = await person('Bea Tornqvist')
  const gloves = async (): Promise<number> => {
    const { world } = await ask<{ world: World }>(page, 'stock.window')
    return world.stockLine.find(({ lot }) => lot === 'L104')?.count ?? Number.NaN
  }
  await page.goto('/trays')
  const waiting = page.getByRole('listitem').filter({ hasText: 'Check-up' }).filter({ hasText: 'waiting' })
  await waiting.first().getByRole('button', { name: 'Claim' }).click()
  const yours = page.getByRole('region', { name: /^Yours/ })
  await yours.getByRole('link', { name: 'Open' }).click()
  await expect(page.getByRole('button', { name: /^There: nitrile gloves, lot L104/ })).toBeVisible()
  const before = await gloves()
  await tickAllLines(page)
  await expect(page.getByText('lot L104')).toBeVisible()
  await page.getByRole('button', { name: /^Laid out/ }).click()
  await page.getByRole('button', { name: /^Checked/ }).click()
  expect(await gloves()).toBe(before)
  // Someone who counts elsewhere sees it fall without touching anything.
  const counting = await person('Wiktor Zielak')
  await counting.page.goto('/trays/stock')
  const counted = counting.page.getByRole('group', { name: 'nitrile gloves, lot L104' }).getByLabel('Left')
  await expect(counted).toHaveValue(`${before}`)
  await page.getByRole('button', { name: 'Sound, both marks changed' }).click()
  await page.getByRole('button', { name: /^Opened/ }).click()
  await expect(page.getByText('Count back from the chair')).toBeVisible()
  expect(await gloves()).toBe(before - 1)
  await expect(counted).toHaveValue(`${before - 1}`)

  await page.getByRole('button', { name: 'Something is wrong: suction tip' }).click()
  await page.getByRole('button', { name: 'debris on opening' }).click()
  await expect(page.getByText('Does not count: debris on opening')).toBeVisible()
  const lead = await person('Wiktor Zielak')
  await lead.page.goto('/sterilising')
  const faults = lead.page.getByRole('region', { name: 'Faults found on trays' })
  await expect(faults.getByRole('row', { name: /suction tip debris on opening 1$/ })).toBeVisible()

  await page.goto('/trays/stock')
  const toOrder = page.getByRole('region', { name: /^To be ordered/ })
  await expect(toOrder.getByRole('listitem')).toContainText('occlusion paper')
  const lot = page.getByRole('group', { name: 'occlusion paper, lot P015' })
  await lot.getByLabel('Left').fill('90')
  await lot.getByRole('button', { name: /^Counted/ }).click()
  await expect(toOrder.getByText('Nothing is down to its reorder level.')).toBeVisible()
})

test('how long a set is away is measured here, and a steriliser that is down gives nothing back', async ({
  person,
}) => {
  const { page } = await person('Wiktor Zielak')
  await page.goto('/sterilising')
  const sets = page.getByRole('region', { name: 'Sets today' })
  await expect(sets.getByText('back after 75 minutes, as measured here').first()).toBeVisible()
  await sets.getByText('How long a set is away').click()
  await sets.getByLabel('Cycle, minutes').fill('40')
  await expect(sets.getByText('79 minutes together')).toBeVisible()
  await sets.getByRole('button', { name: /^Keep these minutes/ }).click()
  await expect(sets.getByText('back after 79 minutes, as measured here').first()).toBeVisible()
  await sets.getByRole('button', { name: /^Take them back/ }).click()
  await expect(sets.getByText('back after 60 minutes: not measured here').first()).toBeVisible()

  const steriliser = page.getByRole('region', { name: 'Steam 1' })
  await steriliser.getByRole('button', { name: 'Take out of service' }).click()
  await page.getByRole('button', { name: 'Its door seal leaks' }).click()
  await expect(sets.getByText('No steriliser serves at this site.')).toBeVisible()
  const exams = sets.getByRole('listitem').filter({ hasText: 'Examination set' }).first()
  await expect(exams).toContainText(/(\d+) sterile on the shelfcovers the next \1 appointment/)
  await expect(exams).not.toContainText('Move')
})

test('[tray/recheck] another dentist comes: the tray shows the difference alone, and what is new on it', async ({
  person,
}) => {
  test.slow()
  const manager = await person('Ingrid Vasarely')
  const assistant = await person('Hamid Saleh')
  const { page } = assistant
  await page.goto('/trays')
  await page.getByText('Show them').click()
  const composite = page.getByRole('link', { name: /Dr Corrigan.*Composite/ }).last()
  await composite.click()
  await expect(page.getByRole('heading', { name: /^Tray for/ })).toBeVisible()
  await page.getByRole('button', { name: /^Claim/ }).click()
  await page.getByRole('button', { name: /^There: napkin|^There: dam napkin/ }).click()
  await page.getByRole('button', { name: /^Laid out/ }).click()
  await expect(page.getByRole('button', { name: /^Checked/ })).toBeVisible()

  const members = await ask<{ id: string; shortName: string }[]>(manager.page, 'clinic.members')
  const nambiar = members.find(({ shortName }) => shortName === 'Dr Nambiar')?.id
  const appointmentId = page.url().split('/').at(-1)
  const moved = await send(manager.page, 'appointment.change', { appointmentId, dentistId: nambiar })
  expect(moved.refused).toBe(false)
  await expect(
    page.getByText('Re-check the tray: + anatomical wedges, - finishing discs and strips.'),
  ).toBeVisible()
  const wedges = page.getByRole('listitem').filter({ hasText: 'anatomical wedges' }).last()
  await expect(wedges).toContainText('new on this tray')
  // What was ticked before stays ticked.
  await expect(page.getByRole('listitem').filter({ hasText: 'dam napkin' })).toContainText('Not there')
})
