import Link from 'next/link'
import { wordsFor } from '#app/_ui/teeth-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { workWords } from '#app/_ui/work-words.ts'
import type { JudgedLine } from '#shared/readiness/board-types.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import styles from './board.module.css'

export interface WorkOfProps {
  line: JudgedLine
  notation: Notation
  linked: boolean
  /** The tooth's words below. */
  words?: boolean
}

/** Who comes for what, on which tooth. */
export function WorkOf({ line, notation, linked, words = false }: WorkOfProps) {
  const inside = <Inside line={line} notation={notation} words={words} />
  if (!linked) return <div className={styles.work}>{inside}</div>
  return (
    <Link href={`/appointments/${line.appointmentId}`} className={styles.work} prefetch={false}>
      {inside}
    </Link>
  )
}

function Inside({ line, notation, words }: Omit<WorkOfProps, 'linked'>) {
  const { patient } = line
  return (
    <>
      <span className={styles.patient}>
        {patient ? `${patient.name}${patient.age === null ? '' : `, ${patient.age}`}` : null}
        {line.nameAlert ? <b> · name alert</b> : null}
      </span>
      {line.work.map((work, index) => (
        <span key={index} className={styles.title}>
          <span>{workWords(work)}</span>
          <ToothFrame teeth={work.teeth} notation={notation} asked={work.asked} />
        </span>
      ))}
      {words ? (
        <span className={styles.teeth}>{wordsFor(line.work.flatMap((work) => work.teeth))}</span>
      ) : null}
    </>
  )
}
