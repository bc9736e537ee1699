import { describe, expect, test } from 'vitest'
import type { Instant } from '#shared/base/moment.ts'
import type { ClinicId, MemberId, MouthChartId, PatientId } from '#shared/ids.ts'
import { judgeWork, needsTooth, type WorkAround } from '#shared/procedures/judge-work.ts'
import type { ToothMention, Work } from '#shared/procedures/work.ts'
import type { MouthChart, ToothCondition } from '#shared/teeth/mouth-chart.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { say } from '#shared/words/en.ts'
import { work } from '#tests/shared/readiness/scene.ts'

const chart = (teeth: Partial<Record<Tooth, ToothCondition[]>>): MouthChart => {
  const by = 'x' as MemberId
  const at = 0 as Instant
  return {
    clinicId: 'x' as ClinicId,
    id: 'x' as MouthChartId,
    patientId: 'x' as PatientId,
    charted: { by, at },
    teeth: Object.fromEntries(
      Object.entries(teeth).map(([tooth, conditions]) => [tooth, { conditions, by, at }]),
    ),
    measure: null,
    clampSites: null,
  }
}
const adult: WorkAround = { chart: chart({}), ageYears: 34, sideConfirmed: false }
const judged = (more: Partial<Work>, around: Partial<WorkAround> = {}) =>
  judgeWork(work(more), { ...adult, ...around }).filter(({ level }) => level !== 'note')
const rules = (more: Partial<Work>, around: Partial<WorkAround> = {}) =>
  judged(more, around).map(({ rule }) => rule)
const mention = (more: Partial<ToothMention>): ToothMention => ({
  source: 'booking',
  text: '31',
  notation: 'ask',
  candidates: ['31', '47'],
  mirrored: false,
  ...more,
})

test('clear work on a tooth that stands leaves nothing open', () => expect(judged({})).toEqual([]))

describe('what and where', () => {
  test('[work/undetermined] work that is not named asks, and is told in its own words', () => {
    const [found] = judged({ kind: 'undetermined', text: 'broken tooth UR', teeth: [] })
    expect(found && say(found)).toContain('broken tooth UR')
  })
  test('[work/no-tooth] work that needs a tooth and names none asks; a check-up does not', () => {
    expect(rules({ teeth: [] })).toEqual(['work/no-tooth'])
    expect(rules({ kind: 'extraction', teeth: [] })).toEqual(['work/no-tooth'])
    expect(rules({ kind: 'exam', teeth: [] })).toEqual([])
    expect(needsTooth('direct-composite')).toBe(true)
  })
  test('[tooth/ambiguous] a number of two systems asks with both', () => {
    const [found] = judged({ teeth: [], mentions: [mention({})] })
    expect(found).toMatchObject({ rule: 'tooth/ambiguous', candidates: ['31', '47'] })
    expect(found && say(found)).toContain('lower right second molar')
  })
  test('[tooth/unread] a number that is no tooth asks beside one that is, for work on teeth alone', () => {
    const unread = mention({ text: '49', candidates: [], unread: true })
    expect(rules({ teeth: ['46'], mentions: [unread] })).toEqual(['tooth/unread'])
    expect(rules({ teeth: ['46'], mentions: [{ ...unread, unread: false }] })).toEqual([])
    expect(rules({ teeth: [], mentions: [unread] })).toEqual(['work/no-tooth'])
    expect(rules({ kind: 'exam', teeth: ['46'], mentions: [unread] })).toEqual([])
    const [found] = judged({ text: 'comp 46, 49', teeth: ['46'], mentions: [unread] })
    expect(found && say(found)).toContain('“49” in “comp 46, 49”')
  })
  test('[tooth/ambiguous] a booking’s number that the work has not taken asks, beside a clear one', () =>
    expect(
      rules({ teeth: ['46'], mentions: [mention({ text: '19', notation: 'iso', candidates: ['36'] })] }),
    ).toEqual(['tooth/ambiguous']))
  test('[tooth/words-contradict] words against the number ask with every candidate', () => {
    const contradicted = mention({ text: '14', notation: 'iso', candidates: ['14', '26', '24'] })
    expect(rules({ teeth: [], mentions: [contradicted] })).toEqual(['tooth/words-contradict'])
  })
  test('a cleared mention asks no more', () =>
    expect(rules({ teeth: ['47'], mentions: [mention({ candidates: ['47'] })] })).toEqual([]))
})

describe('what the sources say', () => {
  const consent = mention({ source: 'consent', text: 'LL8', candidates: ['38'] })
  const image = mention({ source: 'image', text: 'LL8', candidates: ['38'] })
  test('[tooth/sources-disagree] one against two is settled by nobody but the dentist', () => {
    const [found] = judged(
      { kind: 'extraction', teeth: ['48'], mentions: [consent, image] },
      { chart: chart({ '48': ['present'], '38': ['present'] }) },
    )
    expect(found).toMatchObject({
      rule: 'tooth/sources-disagree',
      said: [{ source: 'booking' }, { source: 'consent' }, { source: 'image' }],
    })
  })
  test('[tooth/sources-disagree] two other sources disagree where the booking names no tooth', () =>
    expect(
      rules({
        kind: 'exam',
        teeth: [],
        mentions: [consent, mention({ source: 'referral', candidates: ['48'] })],
      }),
    ).toContain('tooth/sources-disagree'))
  test('[tooth/sources-disagree] a referral that names fewer teeth than are booked disagrees; an image need not show all', () => {
    const named = (source: 'referral' | 'image', ...teeth: ('46' | '47')[]) =>
      rules({
        kind: 'direct-composite',
        teeth: ['46', '47'],
        mentions: teeth.map((tooth) => mention({ source, text: tooth, candidates: [tooth] })),
      })
    expect(named('referral', '46')).toContain('tooth/sources-disagree')
    expect(named('referral', '46', '47')).not.toContain('tooth/sources-disagree')
    expect(named('image', '46')).not.toContain('tooth/sources-disagree')
  })
  test('[tooth/image-mirrored] a mirrored image asks for the side on the patient, and never sets one', () => {
    const mirrored = mention({ source: 'image', text: 'panoramic 36', candidates: ['36'], mirrored: true })
    expect(rules({ mentions: [mirrored] })).toEqual(['tooth/image-mirrored'])
    expect(rules({ mentions: [mirrored] }, { sideConfirmed: true })).toEqual([])
  })
  test('[tooth/referral-missing] a patient’s words stand in for no referral', () => {
    const statement = mention({ source: 'patient', text: 'the last one on the top left', candidates: [] })
    expect(rules({ teeth: [], mentions: [statement] })).toEqual(['tooth/referral-missing'])
    expect(rules({ teeth: ['27'], mentions: [statement] })).toEqual([])
  })
})

describe('whether the tooth can be there', () => {
  test('[tooth/not-standing] a tooth charted as missing asks; an implant there does not', () => {
    expect(rules({}, { chart: chart({ '46': ['missing'] }) })).toEqual(['tooth/not-standing'])
    expect(rules({ kind: 'implant' }, { chart: chart({ '46': ['missing'] }) })).toEqual([])
  })
  test('[tooth/predecessor-present] a permanent tooth under a charted primary one asks', () => {
    const mouth = chart({ '84': ['present'], '85': ['present'], '46': ['present'] })
    expect(rules({ teeth: ['45'], kind: 'direct-composite' }, { chart: mouth, ageYears: 10 })).toEqual([
      'tooth/predecessor-present',
    ])
    expect(rules({ teeth: ['85'], kind: 'direct-composite' }, { chart: mouth, ageYears: 10 })).toEqual([])
  })
  test('[tooth/implausible-at-age] a primary code in a grown-up and a second molar at six ask; a chart answers', () => {
    expect(rules({ teeth: ['85'] })).toEqual(['tooth/implausible-at-age'])
    expect(rules({ teeth: ['47'] }, { ageYears: 6 })).toEqual(['tooth/implausible-at-age'])
    expect(rules({ teeth: ['85'] }, { chart: chart({ '85': ['present'] }) })).toEqual([])
    expect(rules({ teeth: ['85'] }, { ageYears: null })).toEqual([])
  })
  test('[tooth/which-molar] two molars present and the third not spoken of asks which is absent', () => {
    expect(rules({ teeth: ['47'] }, { chart: chart({ '47': ['present'], '48': ['present'] }) })).toEqual([
      'tooth/which-molar',
    ])
    expect(
      rules({ teeth: ['47'] }, { chart: chart({ '46': ['missing'], '47': ['present'], '48': ['present'] }) }),
    ).toEqual([])
  })
  test('[tooth/first-standing-molar] a gap in front is said with the molars that stand', () => {
    const found = judgeWork(work({ teeth: ['47'] }), {
      ...adult,
      chart: chart({ '46': ['missing'], '47': ['present'], '48': ['present'] }),
    }).find(({ rule }) => rule === 'tooth/first-standing-molar')
    expect(found).toMatchObject({ missing: ['46'], standing: ['47', '48'], level: 'note' })
    expect(found && say(found)).toContain('first standing molar')
  })
  test('a full, charted mouth gives nothing above a note', () => {
    for (const tooth of ['11', '46', '37', '24'] as const) expect(judged({ teeth: [tooth] })).toEqual([])
  })
})
