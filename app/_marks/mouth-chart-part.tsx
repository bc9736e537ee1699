'use client'
import { useState } from 'react'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { dateWords, whenWords } from '#app/_ui/time-words.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { shownMouth } from '#shared/readiness/shown.ts'
import { type Mouth, mouthOf } from '#shared/teeth/mouth.ts'
import {
  type MouthChart as Chart,
  type ChartEntry,
  type ClampSite,
  TOOTH_CONDITIONS,
} from '#shared/teeth/mouth-chart.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { dentitionOf, type Tooth } from '#shared/teeth/tooth.ts'
import { CrownWidth } from './crown-width.tsx'
import styles from './mouth-chart.module.css'
import { MouthChart } from './mouth-chart.tsx'
import { CONDITION_MARKS, touchCondition } from './mouth-chart-marks.ts'
import { CHART_ROWS } from './mouth-chart-places.ts'

export interface MouthPartProps {
  /** What is charted is charted at a visit. */
  appointmentId: AppointmentId
  chart: Chart | null
  ageYears: number | null
  worked: readonly Tooth[]
  relied: readonly Tooth[]
  notation: Notation
  zone: Zone
  mayChart: boolean
  nameOf: (id: MemberId | null) => string
}

/** A mouth to look at and to chart by touch: choose a tooth, touch what is seen of it. */
export function MouthPart(props: MouthPartProps) {
  const { chart, ageYears, worked, relied } = props
  const performing = usePerform()
  const mouth = mouthOf(chart, { ageYears, worked })
  const [hasPrimary, setHasPrimary] = useState(() => showsPrimary(mouth, chart))
  const [chosen, setChosen] = useState<Tooth>(worked[0] ?? relied[0] ?? '11')
  const rows = CHART_ROWS.filter(
    (row) => hasPrimary || row.some((tooth) => dentitionOf(tooth) === 'permanent'),
  )
  const shown = rows.some((row) => row.includes(chosen)) ? chosen : '11'
  return (
    <div className={styles.whole}>
      <div className={styles.scroll}>
        <MouthChart
          mouth={mouth}
          rows={rows}
          relied={relied}
          notation={props.notation}
          chosen={shown}
          onChoose={setChosen}
        />
      </div>
      <div className={styles.panel}>
        <ChosenTooth tooth={shown} performing={performing} {...props} />
        <OutcomeBox outcome={performing.outcome} />
      </div>
      <div className={styles.acts}>
        <Counted performing={performing} {...props} />
        <Button size="small" onPress={() => setHasPrimary(!hasPrimary)} aria-pressed={hasPrimary}>
          Primary teeth shown
        </Button>
      </div>
      <p className={styles.key}>
        <span>whole line: stands</span>
        <span>dashed: taken as standing, nobody has looked</span>
        <span>dotted: does not stand</span>
        <span>cornered: primary</span>
        <span>heavy and tinted: the plan counts on it</span>
      </p>
    </div>
  )
}

/** Below this age primary teeth are to be looked for (COMMON: the last are shed at about twelve). */
const PRIMARY_UNDER = 14

const showsPrimary = (mouth: Mouth, chart: Chart | null): boolean =>
  (mouth.ageYears !== null && mouth.ageYears < PRIMARY_UNDER) ||
  CHART_ROWS.flat().some(
    (tooth) =>
      dentitionOf(tooth) === 'primary' && (mouth.isStanding(tooth) || chart?.teeth[tooth] !== undefined),
  )

export interface ChosenProps extends MouthPartProps {
  tooth: Tooth
  performing: Performing
}

function ChosenTooth({ tooth, performing, ...props }: ChosenProps) {
  const entry = props.chart?.teeth[tooth] ?? null
  const stood = entry?.conditions ?? []
  return (
    <>
      <h3 className={styles.chosen}>
        {toothIn(tooth, props.notation)}, {nameTooth(tooth)}
      </h3>
      <p className={styles.entry}>{entryWords(entry, props)}</p>
      <ClampSiteLine site={props.chart?.clampSites?.[tooth] ?? null} nameOf={props.nameOf} />
      {props.mayChart ? (
        <fieldset className={styles.conditions} aria-label="What is seen of it">
          {TOOTH_CONDITIONS.map((condition) => (
            <ActButton
              key={condition}
              kind="mouth.chart"
              input={{
                appointmentId: props.appointmentId,
                tooth,
                conditions: touchCondition(stood, condition),
              }}
              performing={performing}
              aria-pressed={stood.includes(condition)}
              done={`${toothIn(tooth, props.notation)} is charted.`}
            >
              <span className={styles.condition}>
                <svg viewBox="0 0 12 12" aria-hidden="true">
                  <path
                    d={CONDITION_MARKS[condition].path}
                    data-solid={CONDITION_MARKS[condition].isSolid}
                    className={styles.mark}
                  />
                </svg>
                {CONDITION_MARKS[condition].words}
              </span>
            </ActButton>
          ))}
        </fieldset>
      ) : null}
      {props.mayChart ? <CrownWidth key={tooth} tooth={tooth} performing={performing} {...props} /> : null}
    </>
  )
}

/** How a clamp left the gum here, the last time that anyone looked. */
function ClampSiteLine({ site, nameOf }: { site: ClampSite | null } & Pick<MouthPartProps, 'nameOf'>) {
  if (site === null) return null
  return (
    <p className={styles.entry}>
      {site.gum === null
        ? `A clamp planned here ${dateWords(site.day)} was not put on`
        : `A clamp sat here ${dateWords(site.day)}: gum ${site.gum}`}
      , {nameOf(site.by)}.
    </p>
  )
}

function entryWords(entry: ChartEntry | null, props: MouthPartProps): string {
  if (entry === null) return 'Nothing is charted of it.'
  const said = entry.conditions.map((condition) => CONDITION_MARKS[condition].words).join(', ')
  return `Charted as ${said}, ${whenWords(entry.at, props.zone)}, ${props.nameOf(entry.by)}.`
}

function Counted({ performing, ...props }: MouthPartProps & { performing: Performing }) {
  const counted = props.chart?.charted ?? null
  return (
    <>
      <p>
        {counted === null
          ? 'Nobody has counted these teeth yet.'
          : `Teeth counted ${whenWords(counted.at, props.zone)}, ${props.nameOf(counted.by)}.`}
      </p>
      {props.mayChart ? (
        <ActButton
          kind="mouth.stand-as-drawn"
          input={{ appointmentId: props.appointmentId, saw: shownMouth(props.chart) }}
          performing={performing}
          tone={counted === null ? 'ink' : 'plain'}
          done="The mouth is charted."
        >
          {counted === null ? 'All standing as drawn' : 'Counted again: all standing as drawn'}
        </ActButton>
      ) : null}
    </>
  )
}
