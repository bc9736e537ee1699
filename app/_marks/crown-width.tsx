'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { whenWords } from '#app/_ui/time-words.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { spanWidth } from '#shared/isolation/arch.ts'
import { mouthOf } from '#shared/teeth/mouth.ts'
import type { MouthChart } from '#shared/teeth/mouth-chart.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { archOf, type Tooth } from '#shared/teeth/tooth.ts'
import styles from './mouth-chart.module.css'

interface WidthProps {
  appointmentId: AppointmentId
  tooth: Tooth
  chart: MouthChart | null
  ageYears: number | null
  worked: readonly Tooth[]
  notation: Notation
  zone: Zone
  nameOf: (id: MemberId | null) => string
  performing: Performing
}

const STEP_TENTHS = 5
const ALONE = 'alone'

/** One crown, or the row from it to another, measured by touch from the table's own figure: drawings are scaled by it. */
export function CrownWidth({ tooth, performing, ...props }: WidthProps) {
  const measured = props.chart?.measure ?? null
  const row = mouthOf(props.chart, props).standingRow(archOf(tooth))
  const isIt = measured?.tooth === tooth
  const [to, setTo] = useState<Tooth | null>(isIt ? (measured.to ?? null) : null)
  const tableOf = (end: Tooth | null) => Math.round((spanWidth(row, { tooth, to: end }) ?? 0) * 10)
  const [tenths, setTenths] = useState(isIt ? measured.tenthsOfMm : tableOf(to))
  const named = (each: Tooth) => toothIn(each, props.notation)
  const what = to === null ? named(tooth) : `${named(tooth)} to ${named(to)}`
  if (!row.includes(tooth)) return <p className={styles.measure}>{measureWords(measured, props)}</p>
  return (
    <details>
      <summary className={styles.measure}>{measureWords(measured, props)}</summary>
      <div className={styles.acts}>
        <Pick
          label="Measured along the arch, outer contact to outer contact"
          value={to ?? ALONE}
          options={[
            { value: ALONE, label: `${named(tooth)} alone` },
            ...row
              .filter((each) => each !== tooth)
              .map((each) => ({ value: each, label: `${named(tooth)} to ${named(each)}` })),
          ]}
          onPick={(end) => {
            const next = end === ALONE ? null : end
            setTo(next)
            setTenths(tableOf(next))
          }}
        />
        <Button aria-label="Half a millimetre less" onPress={() => setTenths(tenths - STEP_TENTHS)}>
          −
        </Button>
        <output aria-live="polite">{tenths / 10} mm</output>
        <Button aria-label="Half a millimetre more" onPress={() => setTenths(tenths + STEP_TENTHS)}>
          +
        </Button>
        <ActButton
          kind="mouth.measure"
          input={{ appointmentId: props.appointmentId, tooth, to, tenthsOfMm: tenths }}
          performing={performing}
          done="The width is kept; the sheet is drawn to it."
        >
          {what} measures {tenths / 10} mm
          <small>the table gives {tableOf(to) / 10} mm</small>
        </ActButton>
        {measured ? (
          <ActButton
            kind="mouth.measure"
            input={{ appointmentId: props.appointmentId, tooth: measured.tooth, to: null, tenthsOfMm: null }}
            performing={performing}
            done="The sheet is drawn to the table again."
          >
            Draw by the table again
          </ActButton>
        ) : null}
      </div>
    </details>
  )
}

function measureWords(
  measured: MouthChart['measure'],
  { notation, zone, nameOf }: Pick<WidthProps, 'notation' | 'zone' | 'nameOf'>,
): string {
  if (measured === null)
    return 'Sheets are drawn to the table of crown widths; measure a crown or a row to scale them'
  const { tooth, to, tenthsOfMm, at, by } = measured
  const what = to ? `${toothIn(tooth, notation)} to ${toothIn(to, notation)}` : toothIn(tooth, notation)
  return `Sheets are scaled by ${what}, measured ${tenthsOfMm / 10} mm, ${whenWords(at, zone)}, ${nameOf(by)}`
}
