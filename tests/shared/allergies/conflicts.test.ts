import { describe, expect, it } from 'vitest'
import { judgeAllergies } from '#shared/allergies/conflicts.ts'
import { judgeLatexRoom } from '#shared/allergies/latex.ts'
import type { AllergySight } from '#shared/allergies/sight.ts'
import { RULES } from '#shared/rules.ts'
import {
  allergy,
  askedOn,
  askedToday,
  LATEX_TRAY,
  NON_LATEX,
  record,
  said,
  sight,
  trayOfKits,
  trayOfLines,
} from '../../support/allergy-facts.ts'
import { at } from '../../support/tray-clinic.ts'

const rules = (more: Partial<AllergySight>) => judgeAllergies(sight(more)).map(({ rule }) => rule)
const find = (more: Partial<AllergySight>, rule: string) =>
  judgeAllergies(sight(more)).find((finding) => finding.rule === rule)
const known = { state: 'none-known', asked: askedToday, latex: 'none-known', latexAsked: askedToday } as const

describe('what was asked', () => {
  it('[allergies/ask-at-seating] nothing recorded is later, in one line, while the kit is without latex', () => {
    expect(find({}, 'allergies/ask-at-seating')).toMatchObject({ of: ['latex', 'allergies'], level: 'note' })
    expect(rules({})).toEqual(['allergies/ask-at-seating'])
  })
  it('[latex/not-asked] once seated it is asked in words', () => {
    expect(rules({ stage: 'seated' })).toContain('latex/not-asked')
  })
  it('[latex/not-asked] a clinic that asks first is asked before', () => {
    const { policy } = sight()
    const strict = policy && {
      ...policy,
      allergies: { ...policy.allergies, latexUnknownKit: 'ask-first' as const },
    }
    expect(rules({ policy: strict })).toContain('latex/not-asked')
  })
  it('[latex/not-asked] never closes a gate by itself', () => {
    expect(RULES['latex/not-asked'].gate).toBeNull()
  })
  it('[allergies/not-asked] is due before the needle, and only once seated', () => {
    expect(rules({ stage: 'seated' })).toContain('allergies/not-asked')
    expect(RULES['allergies/not-asked'].gate).toBe('inject')
  })
  it('[allergies/answer-unknown] a patient who does not know leaves it to the dentist', () => {
    const unsure = record({ state: 'asked-unknown', asked: askedToday })
    expect(rules({ stage: 'seated', record: unsure })).toContain('allergies/answer-unknown')
    expect(RULES['allergies/answer-unknown'].next).toBe('dentist')
  })
  it('[allergies/aged-out] a "none" older than the clinic’s months is unknown again', () => {
    const old = record({ ...known, asked: askedOn('2025-11-24') })
    expect(find({ stage: 'seated', record: old }, 'allergies/aged-out')).toMatchObject({
      asked: '2025-11-24',
      months: 12,
    })
    expect(rules({ stage: 'seated', record: record({ ...known, asked: askedOn('2025-11-25') }) })).toEqual([])
  })
  it('"none" without a day or without a policy has no age to trust', () => {
    expect(rules({ stage: 'seated', record: record({ ...known, asked: null }) })).toContain(
      'allergies/not-asked',
    )
    expect(rules({ stage: 'seated', record: record(known), policy: null })).toContain('latex/not-asked')
  })
  it('both answered today leaves nothing open', () => {
    expect(rules({ stage: 'seated', record: record(known) })).toEqual([])
  })
  it('nothing is asked any more once the work is finished', () => {
    expect(rules({ stage: 'finished', tray: LATEX_TRAY })).toEqual([])
  })
})

describe('latex against the tray', () => {
  const confirmed = record({ ...known, state: 'listed', latex: 'confirmed' })
  const suspected = record({ ...known, state: 'listed', latex: 'suspected' })
  it('[latex/conflict] confirmed against a line that contains it is a stop that names the line and a swap', () => {
    expect(find({ record: confirmed, tray: LATEX_TRAY }, 'latex/conflict')).toMatchObject({
      level: 'stop',
      lines: [{ line: 'latex sheet', swap: 'a non-latex sheet' }],
    })
  })
  it('[latex/conflict] stands at every stage until the work is finished', () => {
    for (const stage of ['expected', 'arrived', 'seated', 'injected', 'clamped', 'started'] as const) {
      expect(rules({ record: confirmed, tray: LATEX_TRAY, stage })).toContain('latex/conflict')
    }
  })
  it('[latex/suspected-line] suspected is asked, and nobody is seated to it', () => {
    expect(rules({ record: suspected, tray: LATEX_TRAY })).toContain('latex/suspected-line')
    expect(RULES['latex/suspected-line'].gate).toBe('seat')
  })
  it('[latex/line-unknown] a line that says nothing of latex is asked of its label', () => {
    const silent = trayOfLines({ 'bite block': {} })
    expect(find({ record: confirmed, tray: silent }, 'latex/line-unknown')).toMatchObject({
      lines: ['bite block'],
    })
    expect(rules({ record: suspected, tray: silent })).toContain('latex/line-unknown')
  })
  it('[latex/unasked-line] latex not known and a line that has it: asked from the start, and nobody is seated to it', () => {
    for (const stage of ['expected', 'seated'] as const) {
      expect(find({ tray: LATEX_TRAY, stage }, 'latex/unasked-line')).toMatchObject({
        level: 'ask',
        lines: [{ line: 'latex sheet', swap: 'a non-latex sheet' }],
      })
    }
    expect(RULES['latex/unasked-line'].gate).toBe('seat')
  })
  it.each([
    ['dam-base', 'direct-composite', 'local-anaesthesia'],
    ['dam-base', 'root-canal', 'local-anaesthesia'],
  ] as const)(
    '[latex/unknown-kit] the clinic’s own kits %s and %s ask nothing before the patient is seated',
    (...kits) => {
      const tray = trayOfKits(...kits)
      const asked = (stage: AllergySight['stage'], more: Partial<AllergySight> = {}) =>
        judgeAllergies(sight({ tray, stage, ...more }))
          .filter(({ level }) => level !== 'note')
          .map(({ rule }) => rule)
      expect(asked('expected')).toEqual([])
      expect(asked('arrived')).toEqual([])
      expect(asked('seated')).toContain('latex/unknown-kit')
      // Case 38: a history that goes with latex is treated as latex-safe until asked (READ: CDA, Kean & McNally).
      const history = [{ text: 'spina bifida', by: null, at: at('07:00') }]
      expect(asked('expected', { patient: { ...sight().patient, history } })).toEqual(['latex/unknown-kit'])
      // Who was asked and does not know is not asked again at seating: the label is read.
      const unsure = record({ latex: 'asked-unknown', latexAsked: askedToday })
      expect(asked('expected', { record: unsure })).toEqual(['latex/unknown-kit'])
    },
  )
  it('[latex/related] gutta-percha is told, never blocked', () => {
    expect(rules({ record: confirmed, tray: trayOfKits('root-canal') })).toContain('latex/related')
    const points = trayOfLines({ 'gutta-percha points': { latex: 'contains' } })
    expect(
      judgeAllergies(sight({ record: confirmed, tray: points })).filter(({ level }) => level !== 'note'),
    ).toEqual([])
  })
  it('[latex/confirmed] is told on every tray, and without one', () => {
    expect(rules({ record: confirmed, tray: NON_LATEX })).toEqual(['latex/confirmed'])
    expect(rules({ record: confirmed, tray: null })).toEqual(['latex/confirmed'])
  })
  it('[latex/suspected] is told until it is cleared', () => {
    expect(rules({ record: suspected })).toEqual(['latex/suspected'])
  })
  it('[latex/preference] a wish is a note and nothing else', () => {
    const wish = record({
      ...known,
      allergies: [allergy('latex', { certainty: 'preference', text: 'prefers' })],
    })
    expect(judgeAllergies(sight({ record: wish, tray: LATEX_TRAY }))).toMatchObject([
      { rule: 'latex/preference', level: 'note', lines: ['latex sheet'] },
    ])
  })
})

describe('words and history', () => {
  it('[latex/possible] shows the very words, and is settled by an answer given after them', () => {
    const words = record({ statements: said('sensitive to gloves') })
    expect(find({ record: words }, 'latex/possible')).toMatchObject({
      level: 'ask',
      text: 'sensitive to gloves',
    })
    expect(rules({ record: { ...words, ...known } })).not.toContain('latex/possible')
    const earlier = { ...known.latexAsked, at: at('07:00') }
    expect(rules({ record: { ...words, ...known, latexAsked: earlier } })).toContain('latex/possible')
  })
  it('[latex/said-none] a denial is shown as text and does not answer the question', () => {
    const words = { record: record({ statements: said('NO latex allergy') }), stage: 'seated' } as const
    expect(rules(words)).toContain('latex/said-none')
    expect(rules(words)).toContain('latex/not-asked')
  })
  it.each(['spina bifida', 'surgery x3, catheter', 'multiple operations', 'repeated catheterisation'])(
    '[latex/high-risk] “%s” after the answer makes it unknown again',
    (text) => {
      const history = [{ text, by: null, at: at('08:30') }]
      const patient = { ...sight().patient, history }
      expect(rules({ record: record(known), patient, stage: 'seated' })).toEqual(
        expect.arrayContaining(['latex/high-risk', 'latex/not-asked']),
      )
      const before = [{ text, by: null, at: at('07:00') }]
      expect(rules({ record: record(known), patient: { ...patient, history: before } })).toEqual([])
    },
  )
  it('[latex/food-prompt] foods prompt a question and are no allergy to latex', () => {
    const foods = record({ state: 'listed', allergies: [allergy('latex-foods', { text: 'banana, kiwi' })] })
    expect(find({ record: foods }, 'latex/food-prompt')).toMatchObject({
      level: 'note',
      words: ['banana, kiwi'],
    })
    expect(rules({ record: foods, tray: LATEX_TRAY })).not.toContain('latex/conflict')
  })
  it('[allergy/words] what no rule reads is shown as it is', () => {
    expect(find({ record: record({ statements: said('see letter') }) }, 'allergy/words')).toMatchObject({
      text: 'see letter',
    })
  })
})

/** facts of the families: what each brings on a tray, and how it counts. Sources stand with the families. */
describe('other substances against the tray', () => {
  const listed = (...allergies: Parameters<typeof allergy>[]) =>
    record({ ...known, state: 'listed', allergies: allergies.map((each) => allergy(...each)) })
  const stage = 'arrived'
  it.each([
    ['chlorhexidine', { 'antiseptic rinse': { latex: 'free', chlorhexidine: 'contains' } }],
    ['methacrylates', { 'bonding agent': { latex: 'free', methacrylates: 'contains' } }],
    ['eugenol', { dressing: { latex: 'free', eugenol: 'contains' } }],
    ['hypochlorite', { irrigant: { latex: 'free', hypochlorite: 'contains' } }],
    ['milk-protein', { paste: { latex: 'free', 'milk-protein': 'contains' } }],
    ['sulfites', { cartridge: { latex: 'free', sulfites: 'contains' } }],
  ] as const)('[allergy/conflict] confirmed %s and a line that contains it', (substance, lines) => {
    expect(
      judgeAllergies(sight({ record: listed([substance]), tray: trayOfLines(lines), stage })),
    ).toMatchObject([{ rule: 'allergy/conflict', level: 'stop', substance }])
  })
  it('[allergy/line-unknown] a line that may contain it is asked of its label', () => {
    const tray = trayOfLines({ 'canal sealer': { latex: 'free', formaldehyde: 'unknown' } })
    expect(rules({ record: listed(['formaldehyde']), tray })).toEqual(['allergy/line-unknown'])
  })
  it('[allergy/suspected-item] a suspicion is asked, in the patient’s words', () => {
    const tray = trayOfLines({ rinse: { latex: 'free', chlorhexidine: 'contains' } })
    const suspicion = listed(['chlorhexidine', { certainty: 'suspected', text: 'mouthwash burned' }])
    expect(find({ record: suspicion, tray }, 'allergy/suspected-item')).toMatchObject({
      level: 'ask',
      text: 'mouthwash burned',
    })
  })
  it('[allergy/suspected-item] free text counts as a suspicion where a line bears on it', () => {
    const tray = trayOfLines({ rinse: { latex: 'free', chlorhexidine: 'contains' } })
    const words = record({
      ...known,
      asked: { ...askedToday, at: at('07:00') },
      statements: said('chlorhexidene rash'),
    })
    expect(rules({ record: words, tray })).toEqual(['allergy/suspected-item'])
  })
  it('[allergy/caution] nickel in steel is told; a severe reaction before makes it a stop', () => {
    const tray = trayOfLines({ clamp: { latex: 'free', nickel: 'contains' } })
    expect(rules({ record: listed(['nickel']), tray })).toEqual(['allergy/caution'])
    expect(rules({ record: listed(['nickel', { severity: 'severe' }]), tray })).toEqual(['allergy/conflict'])
  })
  it('[allergy/rubber-chemicals] nothing is swapped by itself: synthetic sheets and gloves have them too', () => {
    const tray = trayOfKits('dam-base')
    const finding = find({ record: listed(['rubber-chemicals']), tray }, 'allergy/rubber-chemicals')
    expect(finding).toMatchObject({ level: 'ask', swap: '' })
    expect(RULES['allergy/rubber-chemicals'].next).toBe('dentist')
  })
  it('[allergy/vasoconstrictor] epinephrine is asked about, not taken as said', () => {
    const tray = trayOfLines({ cartridge: { latex: 'free', vasoconstrictors: 'contains' } })
    const finding = find(
      { record: listed(['vasoconstrictors', { text: 'adrenaline' }]), tray },
      'allergy/vasoconstrictor',
    )
    expect(finding).toMatchObject({ level: 'ask', text: 'adrenaline' })
  })
  it('sulfonamides bear on no tray line', () => {
    expect(
      rules({ record: listed(['sulfonamides']), tray: trayOfKits('root-canal', 'local-anaesthesia') }),
    ).toEqual([])
  })
  it.each(['past', 'refuted', 'preference'] as const)('a %s entry is held against nothing', (certainty) => {
    const tray = trayOfLines({ rinse: { latex: 'free', chlorhexidine: 'contains' } })
    expect(
      rules({ record: { ...listed(['chlorhexidine', { certainty }]), state: 'none-known' }, tray }),
    ).toEqual([])
  })
  it('the gravest stands first', () => {
    const tray = trayOfLines({
      clamp: { latex: 'free', nickel: 'contains' },
      rinse: { latex: 'free', chlorhexidine: 'contains' },
    })
    const levels = judgeAllergies(sight({ record: listed(['nickel'], ['chlorhexidine']), tray })).map(
      ({ level }) => level,
    )
    expect(levels).toEqual(['stop', 'note'])
  })
})

describe('the room', () => {
  const room = { latexSafe: false, latexUsed: true, isFirst: false, about: 'appointment:1' } as const
  it('[latex/room] [latex/wipe-down] a latex-safe room or the first slot is offered, and the room gets its task', () => {
    expect(judgeLatexRoom({ ...room, latex: 'confirmed' }).map(({ rule }) => rule)).toEqual([
      'latex/room',
      'latex/wipe-down',
    ])
    expect(judgeLatexRoom({ ...room, latex: 'confirmed', isFirst: true, latexUsed: false })).toEqual([])
    expect(judgeLatexRoom({ ...room, latex: 'none-known' })).toEqual([])
  })
})
