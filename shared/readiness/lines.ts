import { memory, read, type Source } from '../base/source.ts'
import type { ClinicLine, LineKind } from '../people/policy-set.ts'
import { hasReached } from '../schedule/appointment.ts'
import type { AppointmentFacts } from './day-index.ts'
import type { ReadinessFinding } from './findings.ts'
import { stageOf } from './gates.ts'

interface Known {
  /** What is asked or measured. */
  asks: string
  /** Words of a history that speak of it. */
  history: RegExp
  /** What is printed, for the clinic to choose from. Authorities differ; none of it is used as it stands. */
  printed: readonly { says: string; source: Source }[]
}

/** What is asked of before a start in most clinics, and what is printed about it. The clinic's own line counts. */
export const LINES: Record<LineKind, Known> = {
  'blood-pressure': {
    asks: 'Blood pressure, seated, arm at heart level',
    history: /\b(?:blood pressure|hypertens\w*|heart|cardi\w*|angina|infarct\w*|stroke)\b/i,
    printed: [
      {
        says: 'elective work put off from 160/100, urgent work from 180/110',
        source: read('trade report of a J Dent Educ study, cited as ADA-related'),
      },
      {
        says: 'no agreed cut-off; an office reading alone seldom puts off work for a patient under care',
        source: read('Yarows, JADA 2020'),
      },
    ],
  },
  anticoagulants: {
    asks: 'Anticoagulant or antiplatelet, and the latest INR where it is warfarin',
    history:
      /\b(?:anticoag\w*|blood thinn\w*|warfarin|apixaban|rivaroxaban|dabigatran|edoxaban|clopidogrel|inr)\b/i,
    printed: [
      {
        says: 'warfarin and antiplatelets generally not altered before dental work; INR up to 3.5',
        source: read('ADA, Oral Anticoagulant topic'),
      },
      { says: 'INR above 3.5: the physician is asked', source: read('P&G CE628') },
    ],
  },
  prophylaxis: {
    asks: 'Antibiotic before the work: asked for, and when it was taken',
    history: /\b(?:endocarditis|prosthetic valve|heart valve|valve repl\w*|congenital heart|transplant)\b/i,
    printed: [
      {
        says: 'only for the highest-risk heart conditions, a single dose 30 to 60 minutes before',
        source: read('AHA 2021, Top Things to Know, 15 Apr 2021'),
      },
      { says: 'up to two hours after, where it was missed', source: memory('AHA 2021') },
    ],
  },
  glucose: {
    asks: 'Blood glucose, and when the patient last ate',
    history: /\b(?:diabet\w*|insulin|metformin|hypogly\w*)\b/i,
    printed: [{ says: '70 to 200 mg/dL to begin with; above, retest or refer', source: read('P&G CE93') }],
  },
}

/** How the dentist settled what they were asked. */
export const SETTLEMENTS = ['go-on', 'not-today'] as const
export type Settlement = (typeof SETTLEMENTS)[number]

export const aboutLine = (kind: LineKind): string => `line:${kind}`

/** The clinic's lines that concern this patient. */
export const linesFor = ({ patient, policy }: AppointmentFacts): ClinicLine[] =>
  (policy?.lines ?? []).filter(
    ({ kind, when }) =>
      when === 'everyone' || patient?.history.some(({ text }) => LINES[kind].history.test(text)),
  )

/** Where a line stands: as it was told, whether the dentist is asked, and what they said. */
export type LineStanding =
  | { kind: 'not-asked' }
  | { kind: 'within'; said: string }
  | { kind: 'for-dentist'; said: string }
  | { kind: 'settled'; said: string; how: Settlement }

const RECORDED = ['line/not-asked', 'line/for-dentist'] as const
export const SETTLED = 'line/not-today'

/** The latest answer counts; one that was told anew is not settled yet. */
export function standingOfLine({ choice }: AppointmentFacts, kind: LineKind): LineStanding {
  const answers = (choice?.answers ?? []).filter(({ about }) => about === aboutLine(kind))
  const told = answers.findLastIndex(({ rule }) => RECORDED.some((each) => each === rule))
  const answer = answers[told]
  if (answer === undefined) return { kind: 'not-asked' }
  const said = answer.answer
  if (answer.rule === 'line/not-asked') return { kind: 'within', said }
  const settled = answers.slice(told + 1).findLast(({ rule }) => rule === SETTLED)?.answer
  const how = SETTLEMENTS.find((each) => each === settled)
  return how ? { kind: 'settled', said, how } : { kind: 'for-dentist', said }
}

/** What of the clinic's lines stands open, from the door to the start. Never a verdict: the dentist is asked. */
export function judgeLines(facts: AppointmentFacts): ReadinessFinding[] {
  const stage = stageOf(facts)
  if (stage === 'expected' || hasReached(stage, 'started')) return []
  return linesFor(facts).flatMap((line) => judgeLine(line, standingOfLine(facts, line.kind)))
}

function judgeLine({ kind, words }: ClinicLine, standing: LineStanding): ReadinessFinding[] {
  const about = aboutLine(kind)
  switch (standing.kind) {
    case 'not-asked':
      return [{ rule: 'line/not-asked', level: 'ask', about, kind, words }]
    case 'within':
      return []
    case 'for-dentist':
      return [{ rule: 'line/for-dentist', level: 'ask', about, kind, words, said: standing.said }]
    case 'settled':
      return standing.how === 'go-on'
        ? []
        : [{ rule: 'line/not-today', level: 'stop', about, kind, said: standing.said }]
  }
}
