import { describe, expect, test } from 'vitest'
import type { BreathingReason } from '#shared/isolation/findings.ts'
import { readNotes } from '#shared/isolation/notes.ts'

/** Practitioner case 56 as clinics write it: READ for the cases, COMMON for the wording. */
const BREATHING: [BreathingReason | null, string[]][] = [
  [
    'nose',
    [
      'blocked nose today',
      'nose blocked',
      'can’t breathe through his nose',
      "can't breathe thro nose",
      'trouble breathing through the nose',
      'unable to breathe nasally',
      'bunged up',
      'nose is streaming',
      'runny nose',
      'hay fever, worse this week',
      'hayfever',
      'deviated septum',
      'nasal polyps',
      'mouth breather',
      'large adenoids',
      'heavy cold',
      'no asthma, blocked nose',
    ],
  ],
  ['asthma', ['asthma', 'mild asthmatic', 'asthma - not controlled', 'no eczema; asthma since childhood']],
  [
    'lungs',
    ['COPD', 'emphysema', 'blue inhaler before exercise', 'wheezy today', 'short of breath lying back'],
  ],
  [
    'panic',
    [
      'panics with dam',
      'claustrophobic',
      'hates the rubber dam',
      'couldn’t tolerate the dam last time',
      'does not tolerate rubber dam',
      'anxious about the sheet',
      'felt smothered under it',
    ],
  ],
  [
    null,
    [
      'no asthma',
      'asthma: no',
      'nil asthma',
      'asthma - none',
      'denies asthma or hay fever',
      'not claustrophobic',
      'breathes well through the nose',
      'tolerates the dam well',
      'cold test positive 36',
      'cold sensitivity 36',
      'sinus tract at 36',
      'maxillary sinus close to 16',
      'pulp polyp 36',
      'hates needles',
    ],
  ],
]

describe('what notes say of breathing', () => {
  test.each(BREATHING.flatMap(([why, notes]) => notes.map((note) => [note, why] as const)))(
    '“%s”: %s',
    (note, why) => expect(readNotes([note]).breathing).toBe(why),
  )

  test('a denial after a dash counts only where it ends there', () => {
    expect(readNotes(['epilepsy - none']).epilepsy).toBe(false)
    expect(readNotes(['epilepsy - no fit for 2 years']).epilepsy).toBe(true)
    expect(readNotes(['braces - no complaints']).wire).toBe(true)
  })

  test('one telling that is not denied is enough', () => {
    expect(readNotes(['no gagging before; gags today']).gag).toBe(true)
    expect(readNotes(['no gagging']).gag).toBe(false)
  })
})
