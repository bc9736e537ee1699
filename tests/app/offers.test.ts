import { beforeAll, describe, expect, test } from 'vitest'
import { seeAppointment } from '#app/_live/seen.ts'
import { shutAt, shutAtSeat } from '#app/appointments/[appointmentId]/_parts/shut.ts'
import { DEMO_DAY } from '#seed/clinic.ts'
import {
  dayScript,
  decideTold,
  INVENTED_FOUNDER,
  idOf,
  performInMemory,
  seedInventedClinic,
} from '#seed/run.ts'
import { momentOf, type Telling, tell } from '#seed/telling.ts'
import type { Instant } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import { nextGate } from '#shared/readiness/gates.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'

interface Look {
  act: string
  told: string
  offered: string[]
  refused: string[]
}

const rulesOf = (findings: readonly Finding[]): string[] =>
  [...new Set(findings.map(({ rule }) => rule))].sort()

/** What the page of one appointment holds back, beside what the command answers at that moment. */
function lookAt(world: World, appointment: Appointment, now: Instant): Look[] {
  const member = findFact(world, 'member', appointment.dentistId)
  const seen = member && seeAppointment(world, { appointmentId: appointment.id, member, now })
  if (!seen) return []
  const { stage } = seen.readiness.line
  const ask = (kind: string, shut: readonly Finding[]): Look => {
    const told = { kind, input: { appointmentId: appointment.id }, by: member.id, at: now, station: 'test' }
    const decision = decideTold(world, told, () => idOf(`look ${kind} ${appointment.id} ${now}`))
    const refused = decision.ok ? [] : rulesOf(decision.reasons)
    return { act: kind, told: `${appointment.id} at ${now}`, offered: rulesOf(shut), refused }
  }
  if (stage === 'arrived') return [ask('visit.seat', shutAtSeat(seen))]
  if (stage === 'finished') return [ask('visit.leave', shutAt(seen, 'leave'))]
  const isBeforeStart = nextGate(seen.facts) === 'start'
  return isBeforeStart && member.roles.includes('dentist') ? [ask('visit.start', shutAt(seen, 'start'))] : []
}

describe('what the page offers is what the command takes', () => {
  const looks: Look[] = []
  beforeAll(async () => {
    const perform = performInMemory()
    const telling: Telling = await seedInventedClinic(perform, INVENTED_FOUNDER)
    let last = ''
    for (const step of dayScript) {
      if (step.time !== last) {
        const now = momentOf(DEMO_DAY, step.time)
        const open = telling.world.appointment.filter(
          ({ status }) => status === 'arrived' || status === 'checked-in',
        )
        looks.push(...open.flatMap((appointment) => lookAt(telling.world, appointment, now)))
      }
      last = step.time
      await tell(telling, step, perform)
    }
  }, 120_000)

  test.each(['visit.seat', 'visit.start', 'visit.leave'])(
    '%s: held back for just what would refuse it',
    (act) => {
      const those = looks.filter((look) => look.act === act)
      expect(those.filter(({ refused }) => refused.length === 0).length).toBeGreaterThan(5)
      expect(those.filter(({ refused }) => refused.length > 0).length).toBeGreaterThan(5)
      expect(those.filter(({ offered, refused }) => `${offered}` !== `${refused}`)).toEqual([])
    },
  )
})
