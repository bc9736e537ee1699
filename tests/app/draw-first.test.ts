import { beforeAll, expect, test } from 'vitest'
import { type Seen, seeAppointment } from '#app/_live/seen.ts'
import { shownBoard } from '#app/_live/shown.ts'
import { queueOf } from '#app/trays/_parts/queue.ts'
import { DEMO_DAY } from '#seed/clinic.ts'
import { dayScript, INVENTED_FOUNDER, performInMemory, seedInventedClinic } from '#seed/run.ts'
import { momentOf, type Telling, tell } from '#seed/telling.ts'
import { must } from '#shared/base/assert.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { Agreed } from '#shared/isolation/isolation-facts.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { putAwayOnBoard } from '#shared/readiness/teaching.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { say } from '#shared/words/en.ts'

/** Every sentence the plan, tray and guide page of an appointment may take from what it holds. */
const saidOn = ({ readiness: { line, open }, facts, trayLines, isolation }: Seen): string[] => [
  ...open.map(say),
  ...[line.missing, ...line.planks.map(({ finding }) => finding)].flatMap((each) =>
    each ? [say(each)] : [],
  ),
  ...trayLines.map(({ name }) => name),
  facts.tray?.firstMissing ?? '',
  ...(isolation?.sheets.flatMap(({ field }) => field) ?? []),
]

interface Looking {
  appointment: Appointment
  member: World['member'][number]
  now: Instant
}

/** What the board and the queue of trays say of an appointment to whoever looks. */
function saidOfDay(world: World, { appointment: { id, siteId, day }, member, now }: Looking): string[] {
  const index = indexDay(world)
  const asked = { siteId, day, now, me: member.id }
  const { lanes, unplaced } = shownBoard(putAwayOnBoard(boardFor(world, asked), index, member.id))
  const lines = [...lanes.flatMap((lane) => (lane.now ? [lane.now, ...lane.next] : lane.next)), ...unplaced]
  const queued = queueOf(world, asked).find(({ facts }) => facts.appointment.id === id)
  return [
    ...lines.filter(({ appointmentId }) => appointmentId === id).map(({ says }) => says),
    queued?.tray.firstMissing ?? '',
  ]
}

/** The world as it would be if this student were to do that appointment, and draws first. */
function asStudents(
  world: World,
  appointment: Appointment,
): { world: World; student: World['member'][number] } {
  const student = {
    ...must(
      world.member.find(({ roles }) => roles.includes('student')),
      'a student learns here',
    ),
    drawsFirst: true,
  }
  const theirs = { ...appointment, studentId: student.id }
  return {
    student,
    world: {
      ...world,
      member: world.member.map((each) => (each.id === student.id ? student : each)),
      appointment: world.appointment.map((each) => (each.id === appointment.id ? theirs : each)),
    },
  }
}

const CLAMP_FORM =
  '(?:winged|wingless|serrated|extended|double-bow|retractor|primary molar|guard)[ a-z]* clamp|clamp that is not metal'

/** Words that give the plan away: a clamp's family, where the gum is tested, and each tooth beside those worked on. */
function given(agreed: Agreed): RegExp {
  const worked = new Set<Tooth>(agreed.work.flatMap(({ teeth }) => teeth))
  const named = agreed.sheets.flatMap(({ field, clamps }) => [...field, ...clamps.map(({ tooth }) => tooth)])
  const teeth = named
    .filter((tooth) => !worked.has(tooth))
    .map((tooth) => `(?:at|for|tooth|on|to) ${tooth}\\b`)
  return new RegExp([CLAMP_FORM, 'gum at', ...teeth].join('|'))
}

interface Look {
  of: string
  plain: string[]
  ofDay: string[]
  student: string[]
  isPutAway: boolean
}
const looks: Look[] = []

function lookAt(world: World, appointment: Appointment, now: Instant): Look[] {
  const plan = world.plan.find(({ appointmentId }) => appointmentId === appointment.id)
  if (!plan || plan.agreed.sheets.length === 0) return []
  const theirs = asStudents(world, appointment)
  const asked = { appointmentId: appointment.id, now }
  const seen = seeAppointment(theirs.world, { ...asked, member: theirs.student })
  const other = must(
    world.member.find(({ roles }) => roles.includes('assistant')),
    'someone assists here',
  )
  const others = seeAppointment(theirs.world, { ...asked, member: other })
  if (!seen || !others) return []
  const gives = given(plan.agreed)
  const looking = { appointment, now }
  return [
    {
      of: `${appointment.id} at ${now}`,
      isPutAway: seen.isPutAway,
      student: [...saidOn(seen), ...saidOfDay(theirs.world, { ...looking, member: theirs.student })].filter(
        (text) => gives.test(text),
      ),
      plain: saidOn(others).filter((text) => gives.test(text)),
      ofDay: saidOfDay(theirs.world, { ...looking, member: other }).filter((text) => gives.test(text)),
    },
  ]
}

beforeAll(async () => {
  const perform = performInMemory()
  const telling: Telling = await seedInventedClinic(perform, INVENTED_FOUNDER)
  let last = ''
  for (const step of dayScript) {
    if (step.time.slice(0, 4) !== last) {
      const now = momentOf(DEMO_DAY, step.time)
      const ofDay = telling.world.appointment.filter(({ day }) => day === DEMO_DAY)
      looks.push(...ofDay.flatMap((appointment) => lookAt(telling.world, appointment, now)))
    }
    last = step.time.slice(0, 4)
    await tell(telling, step, perform)
  }
}, 120_000)

test('before a student has drawn, nothing on their page, the board or the queue names anchor, field or clamp, at any time of the day', () => {
  expect(looks.filter(({ isPutAway }) => isPutAway).length).toBe(looks.length)
  expect(looks.filter(({ student }) => student.length > 0)).toEqual([])
})

test('the same words stand on every other screen, so that there was something to put away', () => {
  expect(looks.length).toBeGreaterThan(500)
  const told = looks.flatMap(({ plain }) => plain)
  expect(told.some((text) => text.includes('gum at'))).toBe(true)
  expect(told.some((text) => text.includes('clamp'))).toBe(true)
  const ofDay = looks.flatMap((look) => look.ofDay)
  expect(ofDay.some((text) => text.includes('gum at'))).toBe(true)
  expect(ofDay.some((text) => text.includes('clamp'))).toBe(true)
})
