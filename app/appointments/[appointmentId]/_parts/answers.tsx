'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import type { Finding } from '#shared/finding.ts'
import { answersOf, isAnsweredRule } from '#shared/isolation/questions.ts'
import { can } from '#shared/people/role.ts'
import type { ProcedureKind, Work } from '#shared/procedures/work.ts'
import { shownMouth, shownWork } from '#shared/readiness/shown.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { ActProps } from './act-props.ts'
import styles from './plan.module.css'
import { TakeOrSuggest } from './take-or-suggest.tsx'
import { WhoFirst } from './who-first.tsx'

/** What may be answered to an open question here, by touch, by those who may answer it. */
export function Answers({ finding, seen }: { finding: Finding; seen: Seen }) {
  const performing = usePerform()
  const { roles } = seen.member
  const appointmentId = seen.facts.appointment.id
  const choices = isAnsweredRule(finding.rule) && can(roles, 'plan:choose') ? answersOf(finding.rule) : []
  const uncharted = UNCHARTED.includes(finding.rule) && can(roles, 'patient:chart')
  const which = can(roles, 'plan:choose') && isWhichTooth(finding) ? seen.facts.work.flatMap(namedWork) : []
  const added = finding.rule === 'appointment/not-accepted' && can(roles, 'patient:identify')
  if (choices.length === 0 && !uncharted && !added && which.length === 0) return null
  return (
    <div className={styles.act}>
      <div className={styles.choices}>
        {choices.map((answer) => (
          <ActButton
            key={answer}
            kind="isolation.answer"
            input={{ appointmentId, rule: finding.rule, about: finding.about, answer }}
            performing={performing}
            done="Answered."
          >
            {ANSWER_WORDS[answer] ?? answer.replaceAll('-', ' ')}
          </ActButton>
        ))}
        {uncharted ? (
          <ActButton
            kind="mouth.stand-as-drawn"
            input={{ appointmentId, saw: shownMouth(seen.facts.chart) }}
            performing={performing}
            done="The mouth is charted."
          >
            Teeth counted: all stand as drawn
          </ActButton>
        ) : null}
      </div>
      {added ? <TakeOrSuggest appointment={seen.facts.appointment} performing={performing} /> : null}
      {which.length > 0 ? <WhichTooth which={which} seen={seen} performing={performing} /> : null}
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

/** The tooth by touch. Where one was named before and someone sits in the chair, who it is comes first. */
function WhichTooth({ which, seen, performing }: ActProps & { which: readonly NamedWork[] }) {
  const appointmentId = seen.facts.appointment.id
  const choices = (
    <div className={styles.choices}>
      {which.flatMap(({ work, kind }) =>
        candidatesOf(work).map((tooth) => (
          <ActButton
            key={`${work.id} ${tooth}`}
            kind="work.name"
            input={{
              appointmentId,
              workId: work.id,
              kind,
              teeth: [tooth],
              surfaces: {},
              text: '',
              settles: true,
              saw: shownWork([work]),
            }}
            performing={performing}
            done="The tooth is named."
          >
            {toothIn(tooth, seen.notation)}
            <small>{nameTooth(tooth)}</small>
          </ActButton>
        )),
      )}
    </div>
  )
  return which.every(({ work }) => work.teeth.length === 0) ? (
    choices
  ) : (
    <WhoFirst seen={seen}>{choices}</WhoFirst>
  )
}

const UNCHARTED: readonly string[] = ['mouth/not-charted', 'plan/uncharted']

const candidatesOf = (work: Work) => [...new Set(work.mentions.flatMap((mention) => mention.candidates))]

const isWhichTooth = ({ rule, level }: Finding): boolean => rule.startsWith('tooth/') && level === 'ask'

interface NamedWork {
  work: Work
  kind: ProcedureKind
}

/** A line of work whose kind is known and whose mentions leave a choice of teeth. */
const namedWork = (work: Work): NamedWork[] =>
  work.kind === 'undetermined' || candidatesOf(work).length < 2 ? [] : [{ work, kind: work.kind }]

const ANSWER_WORDS: Record<string, string> = {
  'as-drawn': 'As drawn',
  'no-dam': 'Not with a dam',
  slit: 'One slit over both',
  'wire-off': 'Wire taken off first',
  'one-hole': 'One hole for both',
  passes: 'Floss passes after all',
  accept: 'Clamp it as planned',
  move: 'Clamp its neighbour',
  'no-clamp': 'Hold it without a clamp',
  'extended-jaw': 'Clamp with an extended jaw',
  'wingless-low': 'Wingless clamp, low',
  'build-up-first': 'Build it up first',
  band: 'Band it first',
  'clamp-neighbour': 'Clamp its neighbour',
  'fold-edge': 'Fold the sheet’s upper edge',
  'trim-edge': 'Trim the sheet’s upper edge',
  defer: 'Another day',
}
