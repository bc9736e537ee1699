import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { seeAppointment } from '#app/_live/seen.ts'
import { KIND_GROUPS, kindsNamed } from '#app/appointments/[appointmentId]/_parts/kind-groups.ts'
import {
  choicesAmong,
  lookAlikesOf,
  otherSideOf,
} from '#app/appointments/[appointmentId]/_parts/look-alikes.ts'
import { amountWords, SOLUTIONS } from '#app/appointments/[appointmentId]/_parts/solutions.ts'
import { partOf, queueOf } from '#app/trays/_parts/queue.ts'
import { latestFor } from '#shared/anaesthesia/numbness.ts'
import { microlitres } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import { addMinutes } from '#shared/base/moment.ts'
import { PROCEDURE_KINDS } from '#shared/procedures/work.ts'
import { PLANK_STATES } from '#shared/readiness/board-types.ts'
import { mouthFrom, mouthOf } from '#shared/teeth/mouth.ts'
import { TEETH } from '#shared/teeth/tooth.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'
import { AT, DAY, tellClinic } from './told-world.ts'

describe('teeth that could be taken for one another', () => {
  const grown = mouthOf(null, { ageYears: 34 })
  /** Practitioner case 8: ten years old, 84, 85 and 46 charted. */
  const mixed = mouthOf(null, { ageYears: 10, worked: ['85', '46'] })
  test('neighbours first, then the same tooth of the other side', () => {
    expect(lookAlikesOf(['46'], grown)).toEqual(['47', '45', '36'])
  })
  test('in a mixed mouth the neighbour is the one that stands there, of whichever set', () => {
    expect(lookAlikesOf(['85'], mixed)).toContain('46')
    expect(lookAlikesOf(['46'], mixed)).toContain('85')
    expect(choicesAmong(['46'], mixed)).toEqual(['46', '85', '36'])
  })
  test('what stands behind a gap is the neighbour', () => {
    const gap = mouthFrom({ '46': ['missing'] }, { ageYears: 34 })
    expect(lookAlikesOf(['47'], gap)).toEqual(['45', '37'])
  })
  test('none of the teeth themselves', () => {
    expect(lookAlikesOf(['16', '17'], grown)).not.toContain('16')
  })
  test('law: the other side of the other side is the tooth itself', () => {
    for (const tooth of TEETH) expect(otherSideOf(otherSideOf(tooth))).toBe(tooth)
  })
  test('the right tooth is always among the choices, and never alone', () => {
    for (const tooth of TEETH) {
      expect(choicesAmong([tooth], mixed)).toContain(tooth)
      expect(choicesAmong([tooth], mixed).length).toBeGreaterThan(1)
    }
  })
})

describe('naming the work', () => {
  test('every kind of work stands in exactly one group', () => {
    const grouped = KIND_GROUPS.flatMap(({ kinds }) => kinds)
    expect([...grouped].sort()).toEqual([...PROCEDURE_KINDS].sort())
  })
  test('typed words narrow the kinds, in whatever case; none typed leaves all', () => {
    expect(kindsNamed('Root dressing').flatMap(({ kinds }) => kinds)).toEqual(['root-canal-dressing'])
    expect(kindsNamed('')).toEqual(KIND_GROUPS)
    expect(kindsNamed('zzz')).toEqual([])
  })
})

describe('the queue of trays', () => {
  const asked = (minutes: number) => {
    const teller = tellClinic()
    const site = must(teller.world().site[0], 'one site')
    const me = teller.member('M. Silva').id
    return { teller, at: { siteId: site.id, day: DAY, now: addMinutes(AT, minutes), me } }
  }
  test('stands by the time each must be begun, not by operatory', () => {
    const { teller, at } = asked(0)
    const queue = queueOf(teller.world(), at)
    expect(queue.map(({ facts }) => facts.patient?.family)).toEqual(['Moran', 'Keane', 'Abara', 'Castle'])
    expect(queue.map(({ startBy }) => startBy)).toEqual([...queue.map(({ startBy }) => startBy)].sort())
  })
  test('a claimed tray is in hand, and to be begun again once its claim has gone quiet', () => {
    const { teller, at } = asked(2)
    const [first] = queueOf(teller.world(), at)
    const trayId = must(first, 'a tray waits').tray.id
    teller.tell('tray.claim', { trayId }, 'M. Silva', 1)
    const part = (minutes: number, by: string) => {
      const now = addMinutes(AT, minutes)
      const queued = queueOf(teller.world(), { ...at, now }).find(({ tray }) => tray.id === trayId)
      return partOf(must(queued, 'it stays in the queue'), { me: teller.member(by).id, now })
    }
    expect(part(2, 'M. Silva')).toBe('yours')
    expect(part(2, 'P. Okafor')).toBe('in-hand')
    expect(part(600, 'P. Okafor')).toBe('begin')
  })
  test('what need not be begun within the hour waits folded', () => {
    const { teller, at } = asked(0)
    const parts = queueOf(teller.world(), at).map((queued) => partOf(queued, at))
    expect(parts).toEqual(['begin', 'begin', 'later', 'later'])
  })
  test('the second to claim is refused', () => {
    const { teller, at } = asked(0)
    const trayId = must(queueOf(teller.world(), at)[0], 'a tray waits').tray.id
    teller.tell('tray.claim', { trayId }, 'M. Silva', 1)
    expect(teller.refused('tray.claim', { trayId }, 'P. Okafor', 1)).toEqual(['tray/claimed-by-other'])
  })
})

describe('an appointment as its page sees it', () => {
  const teller = tellClinic()
  const seen = seeAppointment(teller.world(), {
    appointmentId: teller.appointmentOf('Castle'),
    member: teller.member('Dr Farrow'),
    now: AT,
  })
  test('its plan is laid out with the very field that is stored as agreed', () => {
    const stored = seen?.facts.plan?.agreed.sheets.map(({ field }) => field)
    expect(seen?.isolation?.sheets.map(({ field }) => field)).toEqual(stored)
    expect(stored).toEqual([['36']])
  })
  test('its tray comes with its lines in order', () => {
    const positions = seen?.trayLines.map(({ position }) => position) ?? []
    expect(positions.length).toBeGreaterThan(5)
    expect(positions).toEqual([...positions].sort((a, b) => a - b))
  })
  test('one that the window does not hold is not there', () => {
    const member = teller.member('Dr Farrow')
    const appointmentId = '00000000-0000-4000-8000-00000000dead' as never
    expect(seeAppointment(teller.world(), { appointmentId, member, now: AT })).toBeNull()
  })
})

describe('numbness at a place', () => {
  const place = { kind: 'gum', tooth: '47', side: 'cheek' } as const
  const answer = (minutes: number, said: string, at = place) =>
    ({ place: at, answer: said, at: addMinutes(AT, minutes) }) as never
  test('the latest answer counts', () => {
    const facts = { numbness: [answer(5, 'felt'), answer(9, 'numb')], doses: [], seatedAt: null }
    expect(latestFor(place, facts)?.answer).toBe('numb')
  })
  test('an answer from before the last injection says nothing any more', () => {
    const facts = {
      numbness: [answer(5, 'numb')],
      doses: [{ at: addMinutes(AT, 7) } as never],
      seatedAt: null,
    }
    expect(latestFor(place, facts)).toBeNull()
  })
  test('the other side of the same gum is another place', () => {
    const other = { kind: 'gum', tooth: '47', side: 'tongue' } as const
    expect(
      latestFor(place, { numbness: [answer(5, 'numb', other as never)], doses: [], seatedAt: null }),
    ).toBeNull()
  })
})

test('a solution and an amount are said in full', () => {
  expect(SOLUTIONS.map(sayLabel)[1]).toBe('lidocaine 2 %, epinephrine 1 : 100 000')
  const dose = { ...SOLUTIONS[4], cartridge: microlitres(1700), tenthsOfCartridge: 15 }
  expect(amountWords(dose as never)).toBe('1.5 cartridges of 1.7 mL')
})

test('every state of a plank has a style of its own in the one file that paints states', () => {
  const css = readFileSync(new URL('../../app/_ui/mark.module.css', import.meta.url), 'utf8')
  for (const state of PLANK_STATES) expect(css).toContain(`[data-state="${state}"]`)
})

test('nothing flashes: no stylesheet of the house animates', () => {
  const app = new URL('../../app/', import.meta.url)
  const sheets = readdirSync(app, { recursive: true, encoding: 'utf8' }).filter((path) =>
    path.endsWith('.css'),
  )
  expect(sheets.length).toBeGreaterThan(10)
  for (const path of sheets) {
    expect(readFileSync(new URL(path, app), 'utf8'), path).not.toMatch(/animation|@keyframes/)
  }
})
