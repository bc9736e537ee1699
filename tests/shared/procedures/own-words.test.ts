import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { Change } from '#shared/change.ts'
import { decide } from '#shared/decide.ts'
import type { MemberId } from '#shared/ids.ts'
import { canTeach, ownWordsIn, plainWords, teachable, wordsOfWork } from '#shared/procedures/own-words.ts'
import { isUnread, recogniseWork } from '#shared/procedures/recognise.ts'
import type { OwnWord, ProcedureKind } from '#shared/procedures/work.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { DAY, DESK, importFile, list, MORNING, row, smallClinic } from '#tests/server/imports/small-clinic.ts'

let made = 0
const newId = <Id>(): Id => `00000077-0000-4000-8000-${String(++made).padStart(12, '0')}` as Id
const taught = (words: string, kind: ProcedureKind): OwnWord => ({
  clinicId: newId(),
  id: newId(),
  words,
  kind,
  by: '' as MemberId,
  at: MORNING,
})
const context = {
  clinicId: must(smallClinic().clinic[0], 'a clinic').id,
  now: MORNING,
  today: DAY,
  by: DESK,
  station: 'test',
  newId,
  journal: null,
}

describe('the clinic’s own words', () => {
  const own = [taught('zirc fit', 'conventional-cementation'), taught('zf', 'exam'), taught('c++', 'veneer')]

  test.each([
    ['zirc fit 36', 'conventional-cementation'],
    ['36 Zirc. Fit', 'conventional-cementation'],
    ['ZIRC-FIT UL6', 'conventional-cementation'],
    ['zf', 'exam'],
    ['C++ 11', 'veneer'],
    // Part of another word is another word.
    ['zirconia fitting', 'undetermined'],
    ['zfx', 'undetermined'],
    // A doubt, a refusal and a second kind of work stay the dentist's.
    ['zirc fit 36?', 'undetermined'],
    ['declined zirc fit', 'undetermined'],
    ['zirc fit 36 and RCT 37', 'undetermined'],
  ])('%s is %s', (text, kind) => {
    expect(recogniseWork(text, 'iso', own).kind).toBe(kind)
  })

  test('count before the words that everybody uses', () => {
    expect(recogniseWork('fs 36', 'iso').kind).toBe('resin-sealant')
    expect(recogniseWork('fs 36', 'iso', [taught('fs', 'glass-ionomer-sealant')]).kind).toBe(
      'glass-ionomer-sealant',
    )
  })

  test.each([
    ['Zirc fit 36 MOD', 'zirc fit'],
    ['UL6 zirc, fit', 'zirc fit'],
    ['36?', ''],
  ])('%s leaves the words “%s” to be taught', (text, words) => {
    expect(wordsOfWork(text, 'iso')).toBe(words)
  })

  test('words that name a kind, or none that could be taught, are not asked', () => {
    expect([isUnread('RCT 36'), isUnread('zirc fit 36'), isUnread('zirc fit 36', own)]).toEqual([
      false,
      true,
      false,
    ])
    expect([canTeach('zf'), canTeach('36'), canTeach('-'), canTeach('x'.repeat(61))]).toEqual([
      true,
      false,
      false,
      false,
    ])
    expect(plainWords('  Zirc.  FIT- ')).toBe('zirc fit')
  })
})

describe('no word stays unanswerable', () => {
  const word = fc.constantFrom(
    'zirc',
    'fit',
    'zf',
    'Zahnfleisch',
    'lining',
    'wkb',
    'declined',
    'appt',
    'no',
    'xyz',
  )
  const place = fc.constantFrom(
    '36',
    'UL6',
    '#14 MO',
    '(46)',
    'upper left 6',
    '16, 17',
    '36 DO',
    'LL E',
    '14-16',
    '2',
  )
  const line = fc
    .array(fc.tuple(word, fc.option(place), fc.constantFrom(' ', ', ', ' - ', '/', ': ', '. ')), {
      minLength: 1,
      maxLength: 6,
    })
    .map((parts) => parts.map(([said, where, mark]) => `${said}${where ? ` ${where}` : ''}${mark}`).join(''))
  test('whatever is asked of a line and taught is read in that line from then on', () => {
    fc.assert(
      fc.property(line, fc.constantFrom(...NOTATIONS), (text, notation) => {
        const asked = teachable(wordsOfWork(text, notation))
        fc.pre(asked !== null && isUnread(text))
        const own = [taught(asked ?? '', 'veneer')]
        expect(ownWordsIn(text, own), `“${asked}” in “${text}”`).toHaveLength(1)
      }),
      { numRuns: 500 },
    )
  })
  test('with its tooth in the middle it is read next time, whichever tooth', () => {
    const own = [taught(wordsOfWork('zirc 36 fit', 'iso'), 'conventional-cementation')]
    for (const text of [
      'zirc 36 fit',
      'Zirc UL6 fit',
      'zirc upper left 6 fit',
      'zirc fit 11',
      'zirc (46 MO) fit',
    ])
      expect(recogniseWork(text, 'iso', own).kind).toBe('conventional-cementation')
    expect(recogniseWork('zirc block fit 36', 'iso', own).kind).toBe('undetermined')
  })
  test('a long line is asked by its first words', () => {
    const words = teachable(
      wordsOfWork('the lab will bring the long awaited piece for Mrs Lind on the morning', 'iso'),
    )
    expect(words).toBe('the lab will bring the long awaited piece for mrs lind on')
    expect([teachable('46'), teachable('x'.repeat(70))]).toEqual([null, null])
  })
  test('work with a word beside it that no rule knows is asked, and once taught is sure', () => {
    expect(recogniseWork('zorb comp 36', 'iso').kind).toBe('undetermined')
    expect(isUnread('zorb comp 36')).toBe(true)
    const own = [taught(wordsOfWork('zorb comp 36', 'iso'), 'direct-composite')]
    expect(recogniseWork('zorb comp 46', 'iso', own).kind).toBe('direct-composite')
    expect(isUnread('zorb comp 46', own)).toBe(false)
  })
})

describe('words.teach', () => {
  const world = importFile(smallClinic(), list(row({ work: 'zirc fit 36' }))).world
  const teach = (words: string, kind: ProcedureKind, on = world) =>
    decide(
      on,
      {
        kind: 'words.teach',
        input: { words, kind, appointmentIds: on.appointment.map(({ id }) => id) },
      },
      context,
    )

  test('reads the lines that waited once more, and the next file at once', () => {
    expect(world.work).toMatchObject([{ kind: 'undetermined', teeth: ['36'] }])
    const decision = teach('Zirc Fit', 'conventional-cementation')
    const put: Change['put'] = decision.ok ? decision.value.change.put : {}
    expect(put.work).toMatchObject([{ text: 'zirc fit 36', kind: 'conventional-cementation', teeth: ['36'] }])
    expect(put.ownWord).toMatchObject([{ words: 'zirc fit', by: DESK.id }])
    const next = importFile(
      { ...smallClinic(), ownWord: put.ownWord ?? [] },
      list(row({ work: 'zirc fit 46' })),
    )
    expect(next.world.work).toMatchObject([{ kind: 'conventional-cementation', teeth: ['46'] }])
  })

  test('leaves alone what a person has named, and teaches a word anew under its own id', () => {
    const named = { ...world, work: world.work.map((work) => ({ ...work, kind: 'veneer' as const })) }
    const known = taught('zirc fit', 'exam')
    const decision = teach('zirc fit', 'veneer', { ...named, ownWord: [known] })
    const put: Change['put'] = decision.ok ? decision.value.change.put : {}
    expect(put.work).toBeUndefined()
    expect(put.ownWord).toMatchObject([{ id: known.id, kind: 'veneer' }])
  })

  test('[work/words-too-few] figures alone are refused', () => {
    expect(teach('46', 'exam')).toMatchObject({ ok: false, reasons: [{ rule: 'work/words-too-few' }] })
  })
})
