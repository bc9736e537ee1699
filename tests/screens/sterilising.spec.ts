import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Page } from '@playwright/test'
import type { DaySnapshot } from '#server/trpc/router.ts'
import type { RecallPreview } from '#server/trpc/sterility-router.ts'
import type { World } from '#shared/facts.ts'
import { expect, test } from './clinic.ts'

test.use({ story: 'sterilising' })

/** A query as the screens ask it, in the name of whoever looks at the page. */
const ask = <T>(page: Page, path: string, input?: object): Promise<T> =>
  page.evaluate(
    async ([path, input]) => {
      const asked = input === undefined ? '' : `?input=${encodeURIComponent(JSON.stringify(input))}`
      const answer = await fetch(`/api/trpc/${path}${asked}`)
      return (await answer.json()).result.data
    },
    [path, input] as const,
  )

interface Me {
  sites: { site: { id: string }; today: string }[]
}

async function worldOf(page: Page): Promise<World> {
  const [here] = (await ask<Me>(page, 'me')).sites
  const window = { siteId: here?.site.id, day: here?.today }
  return (await ask<{ world: World }>(page, 'sterility.window', window)).world
}

/** The appointment next in an operatory whose tray nobody has claimed yet and that wants an examination set. */
async function waitingTray(page: Page): Promise<{ appointmentId: string; operatory: string }> {
  const [here] = (await ask<Me>(page, 'me')).sites
  const snapshot = await ask<DaySnapshot>(page, 'board.day', { siteId: here?.site.id, day: here?.today })
  if (snapshot.kind !== 'facts') throw new Error('whoever looks may hold facts')
  const world = await worldOf(page)
  const now = snapshot.at
  for (const operatory of world.operatory) {
    const next = world.appointment
      .filter((each) => each.operatoryId === operatory.id && each.start > now && each.status === 'booked')
      .sort((a, b) => a.start - b.start)[0]
    const tray = world.tray.find((each) => each.appointmentId === next?.id)
    const wants = world.trayLine.some(
      (line) => line.trayId === tray?.id && line.packKind === KIND && line.packId === null,
    )
    if (next && tray?.life.kind === 'needed' && wants)
      return { appointmentId: next.id, operatory: operatory.name }
  }
  throw new Error('the seeded morning has a tray that waits for an examination set')
}

const KIND = 'examination-set'

/** The keys of a hand scanner that plays keyboard: one after another, then Enter, wherever the focus stands. */
const scanByWedge = (page: Page, code: string): Promise<void> =>
  page.evaluate((text) => {
    const press = (key: string) =>
      (document.activeElement ?? document.body).dispatchEvent(
        new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }),
      )
    for (const key of text) press(key)
    press('Enter')
  }, code)

/** The label as a camera would see it: held askew before a grey wall, with noise; one frame of a Y4M video. */
async function photographLabel(page: Page, code: string): Promise<{ video: Buffer; png: Buffer }> {
  const label = page.getByRole('listitem').filter({ has: page.getByLabel(`Code of pack ${code}`) })
  const png = await label.screenshot({ scale: 'css' })
  const luma = await page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
    const canvas = new OffscreenCanvas(1280, 720)
    const context = canvas.getContext('2d')
    if (!context) throw new Error('no canvas')
    context.fillStyle = '#8a8a8a'
    context.fillRect(0, 0, 1280, 720)
    context.setTransform(2.6, 0.35, -0.3, 2.5, 330, 40)
    context.drawImage(bitmap, 0, 0)
    const { data } = context.getImageData(0, 0, 1280, 720)
    let random = 7
    let text = ''
    for (let at = 0; at < data.length; at += 4) {
      random = (random * 16_807) % 2_147_483_647
      const grey = Math.round((data[at] ?? 0) * 0.75 + 20 + (random % 21) - 10)
      text += String.fromCharCode(Math.max(0, Math.min(255, grey)))
    }
    return btoa(text)
  }, png.toString('base64'))
  const grey = Buffer.alloc((1280 * 720) / 2, 128)
  const frame = Buffer.concat([Buffer.from('FRAME\n'), Buffer.from(luma, 'base64'), grey])
  const head = Buffer.from('YUV4MPEG2 W1280 H720 F10:1 Ip A1:1 C420jpeg\n')
  return { png, video: Buffer.concat([head, ...Array.from({ length: 10 }, () => frame)]) }
}

async function openLabels(page: Page, code: string): Promise<void> {
  const world = await worldOf(page)
  const loadId = world.pack.find((pack) => pack.code === code)?.loadId
  await page.goto(`/sterilising/labels/${loadId}`)
  await expect(page.getByLabel(`Code of pack ${code}`)).toBeVisible()
}

async function claim(page: Page, appointmentId: string): Promise<void> {
  await page.goto(`/trays/${appointmentId}`)
  await expect(async () => {
    await page.getByRole('button', { name: 'Claim', exact: true }).click({ timeout: 2_000 })
    await expect(page.getByRole('button', { name: 'Let go' })).toBeVisible({ timeout: 3_000 })
  }).toPass()
}

test('a pack is scanned by a hand scanner wherever the focus stands, and by a camera from the label that was printed', async ({
  person,
  clinic,
}) => {
  test.slow()
  const lead = await person('Wiktor Zielak')
  const { appointmentId } = await waitingTray(lead.page)
  const [first = '', second = ''] = await ask<string[]>(lead.page, 'packs.onShelf', { kind: KIND })
  await openLabels(lead.page, second)
  const { video, png } = await photographLabel(lead.page, second)

  const { page } = await person('Bea Tornqvist')
  await claim(page, appointmentId)
  // The focus stands on a button: the scanner's Enter must not press it.
  await page.getByRole('button', { name: 'Let go' }).focus()
  await scanByWedge(page, first)
  await expect(page.getByText('scan its pack')).toHaveCount(0)
  await expect(page.getByRole('button', { name: 'Let go' })).toBeVisible()
  expect((await worldOf(lead.page)).pack.find(({ code }) => code === first)?.life.kind).toBe('reserved')

  await page
    .getByRole('button', { name: /^Not there/ })
    .first()
    .click()
  await expect(page.getByText('scan its pack')).toHaveCount(1)

  const folder = mkdtempSync(join(tmpdir(), 'label-'))
  const file = join(folder, 'label.y4m')
  writeFileSync(file, video)
  const camera = await chromium.launch({
    ...(process.env.CHROMIUM ? { executablePath: process.env.CHROMIUM } : {}),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${file}`,
    ],
  })
  try {
    const context = await camera.newContext({
      baseURL: clinic.address,
      storageState: await page.context().storageState(),
    })
    const tablet = await context.newPage()
    const elsewhere: string[] = []
    tablet.on('request', (request) => {
      if (!request.url().startsWith(clinic.address) && !/^(blob|data):/.test(request.url()))
        elsewhere.push(request.url())
    })
    await tablet.goto(`/trays/${appointmentId}`)
    await tablet.getByRole('button', { name: 'Scan by camera' }).click()
    await expect(tablet.getByText('scan its pack')).toHaveCount(0, { timeout: 20_000 })
    expect(elsewhere, 'nothing is fetched from elsewhere').toEqual([])
  } finally {
    await camera.close()
    rmSync(folder, { recursive: true })
  }
  expect((await worldOf(lead.page)).pack.find(({ code }) => code === second)?.life.kind).toBe('reserved')

  // The same label as a photograph, where a browser gives no camera.
  await lead.page.goto('/sterilising')
  await lead.page.getByRole('button', { name: 'Scan by camera' }).click()
  await lead.page
    .getByLabel('Take or choose a photograph')
    .setInputFiles({ name: 'label.png', mimeType: 'image/png', buffer: png })
  await expect(lead.page.getByRole('list', { name: 'Looked up' })).toContainText(second)
})

test('a positive spore test puts the tray on hold on every board within a second and names what to take instead', async ({
  person,
}) => {
  test.slow()
  const { page } = await person('Wiktor Zielak')
  await page.goto('/sterilising')
  const steriliser = page.getByRole('region', { name: 'Steam 1' })
  await steriliser.getByRole('button', { name: 'Place one' }).click()
  await steriliser.getByRole('button', { name: 'No growth, control grew' }).click()
  await expect(steriliser.getByText(/Last negative: 24 Nov/)).toBeVisible()
  await expect(steriliser.getByText('a spore test is due')).toHaveCount(0)

  const [spare = ''] = await ask<string[]>(page, 'packs.onShelf', { kind: KIND })
  await page.getByText(/^On the shelf, sterile/).click()
  await page.getByRole('button', { name: `To be reprocessed: ${spare}` }).click()
  await expect(page.getByRole('button', { name: `To be reprocessed: ${spare}` })).toHaveCount(0)

  await steriliser.getByLabel('Load number').fill('K-7')
  await steriliser.getByRole('button', { name: 'Start a load' }).click()
  const load = page.getByRole('region', { name: 'Load K-7' })
  await load.getByRole('button', { name: 'Chemical indicator is in' }).click()
  await steriliser.getByRole('button', { name: 'Place in load K-7' }).click()
  await load.getByText(/^Wrap a set into it/).click()
  await load.getByLabel('Kind').selectOption(KIND)
  await load
    .getByRole('button', { name: /^examination-set/ })
    .first()
    .click()
  await expect(load.getByRole('link', { name: 'Labels' })).toBeVisible()

  // Too short for the table: it is told and not released.
  await load.getByLabel(/Temperature/).fill('132')
  await load.getByLabel(/For how long/).fill('14:59')
  await load.getByRole('button', { name: 'Changed', exact: true }).click()
  await load.getByRole('button', { name: /^Ended/ }).click()
  await expect(load.getByText(/at least 900 s are listed/)).toBeVisible()
  await load.getByRole('button', { name: /^Release/ }).click()
  await expect(page.getByText('Not done. Nothing was changed.')).toBeVisible()
  await load.getByRole('button', { name: 'Load failed' }).click()
  await page.getByRole('button', { name: 'The cycle was aborted' }).click()
  await expect(load).toHaveCount(0)

  await page.getByText(/^Held: 1/).waitFor()
  await page
    .getByRole('button', { name: /^To be reprocessed/ })
    .first()
    .click()
  await steriliser.getByLabel('Load number').fill('K-8')
  await steriliser.getByRole('button', { name: 'Start a load' }).click()
  const again = page.getByRole('region', { name: 'Load K-8' })
  await again.getByRole('button', { name: 'Chemical indicator is in' }).click()
  await again.getByText(/^Wrap a set into it/).click()
  await again.getByLabel('Kind').selectOption(KIND)
  await again
    .getByRole('button', { name: /^examination-set/ })
    .first()
    .click()
  await again.getByLabel(/Temperature/).fill('134.0')
  await again.getByLabel(/For how long/).fill('15:30')
  await again.getByRole('button', { name: /^Ended/ }).click()
  await again.getByRole('button', { name: 'Changed', exact: true }).click()
  await again.getByRole('button', { name: /^Release/ }).click()
  await expect(again).toHaveCount(0)

  const world = await worldOf(page)
  const made = world.load.find(({ number }) => number === 'K-8')
  const code = world.pack.find((pack) => pack.loadId === made?.id)?.code ?? ''
  const { appointmentId } = await waitingTray(page)
  const assistant = await person('Bea Tornqvist')
  await claim(assistant.page, appointmentId)
  await assistant.page.getByLabel('Scan a pack').fill(code)
  await assistant.page.keyboard.press('Enter')
  await expect(assistant.page.getByText('scan its pack')).toHaveCount(0)

  const dentist = await person('Dr Ilan Feher')
  const boards = [assistant.page, dentist.page]
  for (const board of boards) await board.goto('/board')
  const seen = boards.map((board) =>
    board.evaluate(
      () =>
        new Promise<{ at: number; text: string }>((resolve) => {
          const look = () => {
            const text = /The tray is held: [^.]*\. Claim it and take \S+ in its place\./.exec(
              document.body.textContent ?? '',
            )
            if (text) resolve({ at: Date.now(), text: text[0] })
            return text !== null
          }
          if (!look())
            new MutationObserver(look).observe(document.body, {
              childList: true,
              subtree: true,
              characterData: true,
            })
        }),
    ),
  )
  await steriliser.getByRole('button', { name: 'Growth', exact: true }).click()
  await expect(page.getByRole('dialog')).toContainText('1 tray')
  const began = Date.now()
  await page.getByRole('button', { name: 'Yes, it is positive' }).click()
  for (const { at, text } of await Promise.all(seen)) {
    expect(at - began).toBeLessThan(1_000)
    const instead = /take (\S+) in/.exec(text)?.[1] ?? ''
    const replacement = (await worldOf(page)).pack.find((pack) => pack.code === instead)
    expect(replacement).toMatchObject({ kind: KIND, life: { kind: 'shelf' } })
    expect(replacement?.loadId).not.toBe(made?.id)
  }
  await expect(steriliser.getByText('until the repeated spore test passes')).toBeVisible()

  // Where its packs went, exactly, to print and as a file.
  const preview = await ask<RecallPreview>(page, 'sterility.recall', { kind: 'load', loadId: made?.id })
  expect(preview.told.packs.map((pack) => pack.code)).toEqual([code])
  await page.goto(`/sterilising/recall?kind=load&loadId=${made?.id}`)
  await expect(page.getByRole('heading', { name: 'Recall from load K-8' })).toBeVisible()
  await expect(page.getByRole('cell', { name: code })).toBeVisible()
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'As a file' }).click(),
  ])
  expect(file.suggestedFilename()).toBe('recall.csv')
})
