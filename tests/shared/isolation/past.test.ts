import { describe, expect, test } from 'vitest'
import { type Day, type Instant, instant } from '#shared/base/moment.ts'
import type { AppointmentId, AsPlacedId, ClinicId, MemberId } from '#shared/ids.ts'
import { judgePast, type PastPlacing } from '#shared/isolation/past.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'

type Gum = PastPlacing['outcome']['gum']
const at = (day: number): Instant => instant(Date.UTC(2026, 10, day))
const placed = (day: number, tooth: Tooth, gum: Gum): PastPlacing => ({
  clinicId: 'c' as ClinicId,
  id: `p${day}` as AsPlacedId,
  appointmentId: `a${day}` as AppointmentId,
  planNumber: 1,
  field: [tooth],
  clamps: [{ tooth, family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
  minutes: 4,
  outcome: { leak: false, tear: false, retries: 0, gum },
  by: 'm' as MemberId,
  at: at(day),
  day: `2026-11-${String(day).padStart(2, '0')}` as Day,
})

/** The gum is looked at after the clamp comes off (Cervenka, J Endod 2023, READ); what was seen is told next time. */
describe('[anchor/gum-before] what an earlier clamp left behind', () => {
  test('[anchor/gum-before] is told where a clamp is to sit again, with its day', () => {
    expect(judgePast([placed(10, '46', 'injured')], ['46'])).toMatchObject([
      { rule: 'anchor/gum-before', level: 'note', tooth: '46', day: '2026-11-10', gum: 'injured' },
    ])
  })
  test.each<[Gum, number]>([
    ['sound', 0],
    ['not-looked', 0],
    ['marked', 1],
    ['injured', 1],
  ])('a gum %s gives %i note', (gum, notes) => {
    expect(judgePast([placed(10, '46', gum)], ['46'])).toHaveLength(notes)
  })
  test('nothing is told of another tooth', () => {
    expect(judgePast([placed(10, '46', 'injured')], ['36', '47'])).toEqual([])
  })
  test('the last time it was looked at counts, in whatever order they are given', () => {
    const [older, newer] = [placed(3, '46', 'injured'), placed(10, '46', 'sound')]
    expect(judgePast([older, newer], ['46'])).toEqual([])
    expect(judgePast([newer, older], ['46'])).toEqual([])
  })
  test('a gum that nobody looked at does not heal the one before it', () => {
    expect(judgePast([placed(3, '46', 'marked'), placed(10, '46', 'not-looked')], ['46'])).toHaveLength(1)
  })
})
