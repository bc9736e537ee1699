import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ALLERGY_STATES, type AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { ALLERGY_COMMANDS } from '#shared/allergies/commands.ts'
import { judgeAllergies } from '#shared/allergies/conflicts.ts'
import { addAllergy, isLive, lowersLatex } from '#shared/allergies/record.ts'
import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { allergy } from '../../support/allergy-facts.ts'
import {
  at,
  bareClinic,
  book,
  decideOn,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
} from '../../support/tray-clinic.ts'

const { ana, dentist, desk } = PEOPLE
const patientWorld = () => {
  const { world } = book(bareClinic())
  return { world, patientId: world.patient[0]?.id }
}
const recordOf = (world: World): AllergyRecord | undefined => world.allergyRecord[0]
const answer = (world: World, input: object) =>
  performed(ALLERGY_COMMANDS['allergies.record'], {
    world,
    input: { patientId: world.patient[0]?.id, state: null, latex: null, ...input },
    by: ana,
  })

describe('allergies.record', () => {
  it('"none" of allergies leaves latex not asked', () => {
    const { world } = patientWorld()
    expect(recordOf(answer(world, { state: 'none-known' }))).toMatchObject({
      state: 'none-known',
      latex: 'not-asked',
      latexAsked: null,
      asked: { by: ana.id, at: at('08:40'), day: '2026-11-24' },
    })
  })
  it('latex answered keeps who and when, beside the rest', () => {
    const { world } = patientWorld()
    expect(recordOf(answer(world, { latex: 'confirmed' }))).toMatchObject({
      state: 'listed',
      latex: 'confirmed',
      latexAsked: { by: ana.id },
      allergies: [{ substance: 'latex', certainty: 'confirmed' }],
    })
  })
  // IPS, absent or unknown allergies (READ): never asked, asked and unknown, none, a list: four states, kept apart.
  it('[allergies/not-asked] one allergy told, or latex answered alone, is no answer about the others', () => {
    const { world, patientId } = patientWorld()
    const alone = [
      answer(world, { latex: 'confirmed' }),
      answer(world, { allergies: [{ substance: 'chlorhexidine', certainty: 'confirmed', text: 'rash' }] }),
      performed(ALLERGY_COMMANDS['reaction.record'], {
        world,
        input: { patientId, text: 'itchy lips under dam' },
        by: ana,
      }),
    ]
    const open = (each: World): string[] => {
      const patient = must(each.patient[0], 'a patient is booked')
      const sight = {
        record: recordOf(each) ?? null,
        patient,
        tray: null,
        stage: 'seated',
        policy: null,
      } as const
      return judgeAllergies({ ...sight, today: '2026-11-24' as Day }).map(({ rule }) => rule)
    }
    for (const each of alone) {
      expect(recordOf(each)).toMatchObject({ state: 'listed', asked: null })
      expect(open(each)).toContain('allergies/not-asked')
      const whole = answer(each, { state: 'listed' })
      expect(recordOf(whole)).toMatchObject({ state: 'listed', asked: { by: ana.id } })
      expect(open(whole)).not.toContain('allergies/not-asked')
    }
  })
  it('"only those listed" beside an empty list is asked, and not known', () => {
    const { world } = patientWorld()
    expect(recordOf(answer(world, { state: 'listed' }))).toMatchObject({ state: 'asked-unknown' })
  })
  it('[allergies/would-lower] an answer does not undo a suspicion', () => {
    const { world, patientId } = patientWorld()
    const suspected = answer(world, { latex: 'suspected' })
    const decision = decideOn(ALLERGY_COMMANDS['allergies.record'], {
      world: suspected,
      input: { patientId, state: 'none-known', latex: 'none-known' },
      by: ana,
    })
    expect(reasonsOf(decision)).toEqual(['allergies/would-lower'])
  })
  it('[allergies/none-but-listed] "none" does not stand beside a listed allergy', () => {
    const { world, patientId } = patientWorld()
    const listed = answer(world, {
      state: 'listed',
      allergies: [{ substance: 'chlorhexidine', certainty: 'confirmed', text: 'rinse' }],
    })
    const decision = decideOn(ALLERGY_COMMANDS['allergies.record'], {
      world: listed,
      input: { patientId, state: 'none-known', latex: null },
      by: ana,
    })
    expect(reasonsOf(decision)).toEqual(['allergies/none-but-listed'])
  })
  it('[allergies/contradicts-record] the desk is told that an answer contradicts the record, never what stands there', () => {
    const { world, patientId } = patientWorld()
    const listed = answer(world, {
      latex: 'suspected',
      allergies: [{ substance: 'chlorhexidine', certainty: 'confirmed', text: 'rinse' }],
    })
    for (const input of [{ state: 'none-known' }, { latex: 'none-known' }]) {
      const decision = decideOn(ALLERGY_COMMANDS['allergies.record'], {
        world: listed,
        input: { patientId, state: null, latex: null, ...input },
        by: desk,
      })
      expect(reasonsOf(decision)).toEqual(['allergies/contradicts-record'])
      expect(JSON.stringify(decision)).not.toMatch(/latex|chlorhexidine/)
    }
  })
  it('[allergies/patient-unknown] nothing is recorded for nobody', () => {
    const input = { patientId: nextId(), state: 'none-known', latex: null }
    const decision = decideOn(ALLERGY_COMMANDS['allergies.record'], { world: bareClinic(), input, by: ana })
    expect(reasonsOf(decision)).toEqual(['allergies/patient-unknown'])
  })
})

describe('allergies.clear', () => {
  it('a clinician clears a suspicion; the entry stays, refuted', () => {
    const { world, patientId } = patientWorld()
    const suspected = answer(world, { latex: 'suspected' })
    const cleared = performed(ALLERGY_COMMANDS['allergies.clear'], {
      world: suspected,
      input: { patientId, substance: 'latex', reason: 'tested negative' },
      by: dentist,
    })
    expect(recordOf(cleared)).toMatchObject({
      state: 'not-asked',
      asked: null,
      latex: 'none-known',
      allergies: [{ substance: 'latex', certainty: 'refuted' }],
    })
    expect(ALLERGY_COMMANDS['allergies.clear'].needs).toBe('word:give')
  })
  it('[allergies/nothing-to-clear] what is not listed is not cleared', () => {
    const { world, patientId } = patientWorld()
    const decision = decideOn(ALLERGY_COMMANDS['allergies.clear'], {
      world,
      input: { patientId, substance: 'latex', reason: 'r' },
      by: dentist,
    })
    expect(reasonsOf(decision)).toEqual(['allergies/nothing-to-clear'])
  })
})

describe('reaction.record', () => {
  it('words nobody can read are kept and change no state', () => {
    const { world, patientId } = patientWorld()
    const after = performed(ALLERGY_COMMANDS['reaction.record'], {
      world,
      input: { patientId, text: 'felt odd' },
      by: ana,
    })
    expect(recordOf(after)).toMatchObject({ state: 'not-asked', statements: [{ text: 'felt odd' }] })
  })
})

it('a suspicion or a certainty of latex is never lowered, whatever is answered', () => {
  const latex = fc.constantFrom('not-asked', 'asked-unknown', 'none-known', 'suspected', 'confirmed')
  fc.assert(
    fc.property(latex, latex, (from, to) => {
      const grave = from === 'suspected' || from === 'confirmed'
      expect(lowersLatex(from as AllergyRecord['latex'], to as AllergyRecord['latex'])).toBe(
        grave && to !== 'confirmed' && to !== from,
      )
    }),
  )
  expect(ALLERGY_STATES).toHaveLength(4)
})

it('adding an answer never makes one already there weaker, and the order does not matter', () => {
  const certainties = fc.constantFrom('suspected', 'confirmed', 'preference', 'past')
  const one = fc.record({
    certainty: certainties,
    severity: fc.constantFrom('unknown', 'mild', 'moderate', 'severe'),
  })
  fc.assert(
    fc.property(one, one, (a, b) => {
      const first = allergy('eugenol', a as Partial<Parameters<typeof addAllergy>[1]>)
      const second = allergy('eugenol', b as Partial<Parameters<typeof addAllergy>[1]>)
      const [ab] = addAllergy([first], second)
      const [ba] = addAllergy([second], first)
      expect([ab?.certainty, ab?.severity]).toEqual([ba?.certainty, ba?.severity])
      if (isLive(first) || isLive(second)) expect(ab && isLive(ab)).toBe(true)
    }),
  )
})
