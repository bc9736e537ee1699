import { randomUUID } from 'node:crypto'
import { must } from '#shared/base/assert.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import { openBrowser, scriptOf } from './browser.ts'
import { type BenchClinic, signIn } from './clinic.ts'
import { atMost, p50, p95, type Reading } from './figures.ts'
import type { Stand } from './stand.ts'

const TURNS = 40
const WARM_UP = 6
/** One molar, dammed for both: alone, and with the teeth beside it. */
const KINDS = ['root-canal', 'direct-composite'] as const

/** An appointment with one line of work whose sheet is drawn, and that work. */
async function findDammed(clinic: BenchClinic): Promise<{ appointment: Appointment; workId: string }> {
  const [appointments, plans, work] = [
    await clinic.read('appointment'),
    await clinic.read('plan'),
    await clinic.read('work'),
  ]
  for (const appointment of appointments) {
    const lines = work.filter(({ appointmentId }) => appointmentId === appointment.id)
    const plan = plans.find(({ appointmentId }) => appointmentId === appointment.id)
    const [only] = lines
    const isDammed = plan?.agreed.open.length === 0 && plan.agreed.sheets.length > 0
    if (isDammed && lines.length === 1 && only) return { appointment, workId: only.id }
  }
  throw new Error('The day holds no appointment with a dam.')
}

/** Another procedure on the plan's own page: from the asking to the new sheet painted, through server, commit and stream. */
export async function measurePlanOnScreen(stand: Stand): Promise<Reading[]> {
  const { clinic } = await stand.day()
  const { address } = await stand.product()
  const { appointment, workId } = await findDammed(clinic)
  const dentist = must(appointment.dentistId, 'the day has dentists')
  const [name = '', value = ''] = (await signIn(clinic, dentist)).split('=')
  const browser = await openBrowser()
  try {
    const context = await browser.newContext()
    await context.addCookies([{ name, value, url: address }])
    const page = await context.newPage()
    await page.addInitScript(await scriptOf('plan-page.ts'))
    // Its stream stays open, so the network never falls idle: what is drawn is waited for.
    await page.goto(`${address}/appointments/${appointment.id}`)
    await page.locator('svg[role="img"]').first().waitFor()
    const took: number[] = []
    for (let turn = -WARM_UP; turn < TURNS; turn += 1) {
      const kind = must(KINDS[Math.abs(turn) % KINDS.length], 'a kind')
      const teeth = ['46']
      const input = {
        appointmentId: appointment.id,
        workId,
        kind,
        teeth,
        surfaces: kind === 'direct-composite' ? { 46: ['M', 'O'] } : {},
        text: '',
        settles: true,
      }
      const command = { id: randomUUID(), kind: 'work.name', input, sawRevision: 0, madeAt: Date.now() }
      const ms = await page.evaluate((sent) => window.changePlan(sent), command)
      if (turn >= 0) took.push(ms)
    }
    return [
      atMost(
        {
          figure: 'the plan of a changed procedure painted on screen, p95',
          unit: 'ms',
          ours: p95(took),
          behind: { 'p50, ms': p50(took), samples: took.length },
        },
        100,
      ),
    ]
  } finally {
    await browser.close()
  }
}
