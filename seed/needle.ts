import type { PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { labelOf } from '#shared/anaesthesia/cartridge.ts'
import { gumPlaces } from '#shared/anaesthesia/numbness.ts'
import { microlitres } from '#shared/base/amount.ts'
import type { AppointmentFacts } from '#shared/readiness/day-index.ts'
import { expectsInjection } from '#shared/readiness/gates.ts'
import { clampedTeeth, testedTeeth, workedTeeth } from '#shared/readiness/judges.ts'
import { archOf, positionOf, sideOf, type Tooth } from '#shared/teeth/tooth.ts'
import { type Act, inChair, ofIt, where } from './where.ts'

/** One cartridge of lidocaine 2 % with epinephrine 1 : 100,000, where this tooth needs it. */
const cartridgeFor = (tooth: Tooth): PlannedDose => ({
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: microlitres(1700),
  technique: archOf(tooth) === 'lower' && positionOf(tooth) >= 4 ? 'block' : 'infiltration',
  tooth,
  side: sideOf(tooth),
  tenthsOfCartridge: 10,
})

const firstTooth = (facts: AppointmentFacts): Tooth | undefined => workedTeeth(facts)[0]
const isUndecided = ({ anaesthetic }: AppointmentFacts): boolean =>
  (anaesthetic?.intent.kind ?? 'undecided') === 'undecided'

/** The dentist says ahead what will be injected, or that nothing will. */
export const planNeedle: Act = where(
  (facts) => isUndecided(facts) && firstTooth(facts) !== undefined,
  (facts) => {
    const tooth = firstTooth(facts)
    if (tooth !== undefined && expectsInjection(facts)) {
      return ofIt('anaesthetic.plan', { planned: [cartridgeFor(tooth)] })(facts)
    }
    return ofIt('anaesthetic.none-by-intent', { reason: 'nothing is drilled', topicalAtClamp: true })(facts)
  },
)

const isBeforeNeedle = (facts: AppointmentFacts): boolean =>
  inChair(facts) && expectsInjection(facts) && facts.doses.length === 0
/** Far enough ahead that nothing drawn up on the invented day is past it. */
const EXPIRES = '2027-12-31'

/** What the label says is read aloud by whoever assists, and answered by whoever treats. */
export const readLabel: Act = where(
  isBeforeNeedle,
  (facts) =>
    facts.anaesthetic?.planned.flatMap((dose) =>
      ofIt('cartridge.read', { label: labelOf(dose), expires: EXPIRES })(facts),
    ) ?? [],
)
export const answerLabel: Act = where(isBeforeNeedle, (facts) => {
  const read = facts.anaesthetic?.readings?.at(-1)
  return read === undefined || read.answered !== null
    ? []
    : ofIt('cartridge.answer', { readAt: read.read.at })(facts)
})

export const injection: Act = where(
  isBeforeNeedle,
  (facts) => facts.anaesthetic?.planned.flatMap((dose) => ofIt('dose.record', { dose })(facts)) ?? [],
)

/** Gum on both sides of each clamp, then the tooth itself. */
export const numbness: Act = where(
  (facts) => inChair(facts) && facts.doses.length > 0,
  (facts) => [
    ...gumPlaces(clampedTeeth(facts)).flatMap((place) =>
      ofIt('numbness.record', { place, answer: 'numb', method: 'probe' })(facts),
    ),
    ...testedTeeth(facts).flatMap((tooth) =>
      ofIt('numbness.record', { place: { kind: 'tooth', tooth }, answer: 'numb', method: 'cold' })(facts),
    ),
  ],
)

export const aftercare: Act = where(
  (facts) => inChair(facts) && facts.doses.length > 0,
  (facts) => ofIt('aftercare.give', { to: facts.patient?.guardian ? 'carer' : 'patient' })(facts),
)
