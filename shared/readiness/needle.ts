import type { PlannedDose } from '../anaesthesia/anaesthetic.ts'
import { judgeDose, meantOf } from '../anaesthesia/judge-dose.ts'
import { judgePlaces } from '../anaesthesia/place.ts'
import type { Finding } from '../finding.ts'
import { likenessOf } from '../schedule/identity.ts'
import { findIdentityFault } from '../schedule/seat.ts'
import { alertsFor } from './around.ts'
import { shutBy } from './gate.ts'
import { doseSightOf, judgeOpen, readBackMissing, type Sight } from './judges.ts'
import { isOverridden } from './override.ts'
import { judgeWord } from './word.ts'

/**
 * What keeps this very needle back, in a sight that stands as if it were in: all that shuts the gate, and, whatever the
 * stage, who it is, tooth and side, the word, the doses and the place. A needle after the start is as final as the first.
 */
export function judgeNeedle(sight: Sight, given: PlannedDose): Finding[] {
  const { facts, day, now } = sight
  const shut = shutBy(judgeOpen(sight), { facts, gate: 'inject' })
  const known = new Set<string>(shut.map(({ rule }) => rule))
  const doses = doseSightOf(facts)
  const anew: Finding[] = [
    ...findIdentityFault(facts, likenessOf(facts.patient, alertsFor(day, facts.appointment))),
    ...readBackMissing(sight),
    ...judgeWord(facts, now),
    ...judgeDose(doses).filter(({ rule }) => rule !== 'dose/in-elsewhere'),
    ...judgePlaces([given], meantOf(doses)),
  ].filter((finding) => finding.level !== 'note' && !known.has(finding.rule) && !isOverridden(finding, facts))
  return [...shut, ...anew]
}
