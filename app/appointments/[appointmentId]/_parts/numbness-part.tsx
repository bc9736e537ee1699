'use client'
import type { Seen } from '#app/_live/seen.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { NUMBNESS_ANSWERS, type Numbness, type NumbnessPlace } from '#shared/anaesthesia/anaesthetic.ts'
import { gumPlaces, latestFor } from '#shared/anaesthesia/numbness.ts'
import { can } from '#shared/people/role.ts'
import { clampedTeeth, seatedAtOf, testedTeeth } from '#shared/readiness/judges.ts'
import { hasReached } from '#shared/schedule/appointment.ts'
import styles from './plan.module.css'

/** Where numbness is tested before the clamp and before the start, each place with its latest answer. */
export function NumbnessPart({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const teeth = testedTeeth(seen.facts).map((tooth): NumbnessPlace => ({ kind: 'tooth', tooth }))
  const places = [...gumPlaces(clampedTeeth(seen.facts)), ...teeth]
  if (places.length === 0) return null
  if (seen.isPutAway)
    return <p className={styles.aside}>Where numbness is tested: once your drawing is kept.</p>
  const intent = seen.facts.anaesthetic?.intent
  return (
    <div className={styles.places}>
      <h3>Numbness, place by place</h3>
      {intent?.kind === 'none' ? (
        <p>
          No injection, by intent: {intent.reason}.
          {intent.topicalAtClamp ? ' Topical where the clamp sits.' : ''}
        </p>
      ) : null}
      {places.map((place) => (
        <Place key={JSON.stringify(place)} place={place} seen={seen} performing={performing} />
      ))}
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

interface PlaceProps {
  place: NumbnessPlace
  seen: Seen
  performing: Performing
}

function Place({ place, seen, performing }: PlaceProps) {
  const latest = latestFor(place, { ...seen.facts, seatedAt: seatedAtOf(seen.facts) })
  const { stage } = seen.readiness.line
  const asked = hasReached(stage, 'seated') && !hasReached(stage, 'finished')
  return (
    <div className={styles.place} data-answer={latest?.answer ?? 'none'}>
      <p>
        <strong>{placeWords(place, seen)}</strong> {latest ? answerWords(latest, seen) : 'not tested yet'}
      </p>
      {asked && can(seen.member.roles, 'numbness:record') ? (
        <div className={styles.choices}>
          {NUMBNESS_ANSWERS.map((answer) => (
            <ActButton
              key={answer}
              kind="numbness.record"
              input={{
                appointmentId: seen.facts.appointment.id,
                place,
                answer,
                method: place.kind === 'gum' ? 'probe' : 'cold',
              }}
              performing={performing}
              done={`${placeWords(place, seen)}: ${ANSWER_WORDS[answer]}.`}
              aria-label={`${placeWords(place, seen)}: ${ANSWER_WORDS[answer]}`}
            >
              {ANSWER_WORDS[answer]}
            </ActButton>
          ))}
        </div>
      ) : null}
    </div>
  )
}

const ANSWER_WORDS: Record<Numbness['answer'], string> = {
  numb: 'Numb',
  felt: 'Felt',
  'not-suitable': 'Cannot be tested',
}

function placeWords(place: NumbnessPlace, { notation }: Seen): string {
  const tooth = toothIn(place.tooth, notation)
  return place.kind === 'gum' ? `Gum at ${tooth}, ${place.side} side` : `Tooth ${tooth}, cold`
}

const answerWords = ({ answer, at, by }: Numbness, { zone, nameOf }: Seen): string =>
  `${ANSWER_WORDS[answer].toLowerCase()}, ${timeOf(at, zone)}, ${nameOf(by)}`
