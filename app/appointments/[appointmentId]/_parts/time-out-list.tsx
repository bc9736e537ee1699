import type { Seen } from '#app/_live/seen.ts'
import { allergyWords } from '#app/_ui/allergy-words.ts'
import { Row, Rows } from '#app/_ui/card.tsx'
import { otherNotation, toothIn, wordsFor } from '#app/_ui/teeth-words.ts'
import { bornWords } from '#app/_ui/time-words.ts'
import { workWords } from '#app/_ui/work-words.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { sideOf } from '#shared/teeth/tooth.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'
import { sayCaution } from '#shared/words/en/plan.ts'
import { STATE_WORDS } from '#shared/words/en/trays.ts'
import { lookAlikesOf, mouthSeen } from './look-alikes.ts'
import { amountWords } from './solutions.ts'

/** What the team reads aloud just before the start. It is as long when the day runs late. */
export function TimeOutList({ seen }: { seen: Seen }) {
  const { facts, isolation, notation } = seen
  const teeth = workedTeeth(facts)
  const cautions = isolation?.cautions ?? []
  return (
    <Rows>
      <Row term="Patient">
        {facts.patient?.given} {facts.patient?.family}, {bornWords(facts.patient?.born ?? null)}
      </Row>
      <Row term="Work">{facts.work.map(workWords).join('; ')}</Row>
      <Row term="Tooth">
        <strong>{teeth.map((tooth) => toothIn(tooth, notation)).join(' ')}</strong> ·{' '}
        {otherNotation(teeth, notation)} · {wordsFor(teeth)}
      </Row>
      <Row term="Side">
        {[...new Set(teeth.map(sideOf))].map((side) => `the patient’s ${side}`).join(' and ')}
      </Row>
      <Row term="Not to touch">
        {lookAlikesOf(teeth, mouthSeen(seen))
          .map((tooth) => toothIn(tooth, notation))
          .join(', ')}
      </Row>
      <Row term="Allergies">{allergyWords(seen)}</Row>
      <Row term="Anaesthetic">{anaestheticWords(seen)}</Row>
      <Row term="Packs">{packWords(seen)}</Row>
      {cautions.length > 0 ? (
        <Row term="Cautions">
          {cautions.map((caution) => (
            <div key={caution}>{sayCaution(caution)}</div>
          ))}
        </Row>
      ) : null}
    </Rows>
  )
}

function anaestheticWords({ facts: { doses, anaesthetic } }: Seen): string {
  if (doses.length > 0) {
    return doses.map((dose) => `${amountWords(dose)} ${sayLabel(dose)}, the ${dose.side} side`).join('; ')
  }
  return anaesthetic?.intent.kind === 'none'
    ? `no injection, by intent: ${anaesthetic.intent.reason}`
    : 'nothing is recorded as given'
}

/** Packs on the tray, and how the tray stands. */
function packWords({ facts: { tray }, trayLines }: Seen): string {
  if (tray === null) return 'no tray'
  const packs = trayLines.filter(({ packId }) => packId !== null).length
  return `${packs} ${packs === 1 ? 'pack' : 'packs'} on the tray, ${STATE_WORDS[tray.life.kind].toLowerCase()}`
}
