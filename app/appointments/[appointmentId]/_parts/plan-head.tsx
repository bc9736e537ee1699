import type { Seen } from '#app/_live/seen.ts'
import { bornHere } from '#app/_ui/born-here.ts'
import { operatoryWords } from '#app/_ui/labels.ts'
import { otherNotation, wordsFor } from '#app/_ui/teeth-words.ts'
import { bornWords, timeOf } from '#app/_ui/time-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { workWords } from '#app/_ui/work-words.ts'
import { makePalmer } from '#shared/teeth/notation.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { NEED_WORDS } from './need-words.ts'
import styles from './plan.module.css'

/** Who, which tooth, what: the tooth is the largest thing on the page. */
export function PlanHead({ seen }: { seen: Seen }) {
  const { line } = seen.readiness
  const teeth = line.work.flatMap((work) => work.teeth)
  const asked = teeth.length === 0 ? (line.work.find((work) => work.asked !== null)?.asked ?? null) : null
  return (
    <header className={styles.head}>
      <ToothFrame teeth={teeth} notation={seen.notation} asked={asked} size="page" />
      <div className={styles.what}>
        <h1>
          {teeth.length > 0
            ? wordsFor(teeth)
            : asked === null
              ? 'No tooth named'
              : 'Which tooth is not settled'}
        </h1>
        <p>{[...notations(teeth, seen), ...line.work.map(workWords), ...need(seen)].join(' · ')}</p>
        <p className={styles.booked}>Booked as “{line.work.map((work) => work.text).join('; ')}”</p>
      </div>
      <WhoWhen seen={seen} />
    </header>
  )
}

const notations = (teeth: readonly Tooth[], { notation }: Seen): string[] =>
  teeth.length === 0 ? [] : [otherNotation(teeth, notation), `quadrant ${teeth.map(makePalmer).join(' ')}`]

const need = ({ isolation }: Seen): string[] => (isolation ? [NEED_WORDS[isolation.need.value]] : [])

function WhoWhen({ seen }: { seen: Seen }) {
  const { patient, appointment, operatory, dentist } = seen.facts
  return (
    <div className={styles.who}>
      <p className={styles.patient}>
        {patient ? `${patient.given} ${patient.family}, ${bornHere(seen)}` : 'Patient not known here'}
      </p>
      {seen.alike.map(({ other }) => (
        <p key={other.id} className={styles.alike}>
          Name alert: {other.given} {other.family}, {bornWords(other.born)}, comes today too
        </p>
      ))}
      <p>
        {[
          operatoryWords(operatory?.name),
          timeOf(appointment.start, seen.zone),
          dentist?.shortName ?? 'no dentist yet',
        ].join(' · ')}
      </p>
    </div>
  )
}
