'use client'
import Link from 'next/link'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { turnaroundWords } from '#app/sterilising/_parts/turnaround-form.tsx'
import { turnaroundOf } from '#shared/sterility/turnaround.ts'
import { NumberField } from './number-field.tsx'
import type { Picks, PicksProps } from './picks.ts'
import styles from './settings.module.css'

type PackAge = Picks['sterility']['packAge']
const PACK_DAYS = 180

/** Times, allergies, packs and the word: common practice without a published figure, each for the clinic to set. */
export function OtherPolicies({ picks, onPicks }: PicksProps) {
  const { allergies, trays, sterility, schedule, word } = picks
  const age = sterility.packAge
  const setAge = (packAge: PackAge) => onPicks({ ...picks, sterility: { ...sterility, packAge } })
  const ages: Record<PackAge['kind'], PackAge> = {
    'event-related': { kind: 'event-related' },
    dated: { kind: 'dated', days: age.kind === 'dated' ? age.days : PACK_DAYS },
    unset: { kind: 'unset' },
  }
  return (
    <section aria-labelledby="other" className={styles.part}>
      <h2 id="other">Allergies, trays, packs, times and the word</h2>
      <p className={styles.small}>Common practice without a published figure: measure your own.</p>
      <p>
        {turnaroundWords(turnaroundOf({ sterility }))}{' '}
        <Link href="/sterilising#sets" prefetch={false}>
          Its steps are entered where they are measured
        </Link>
        .
      </p>
      <div className={styles.fields}>
        <NumberField
          label="“No allergies known” stands for, months"
          value={allergies.noneKnownMonths}
          onValue={(noneKnownMonths) => onPicks({ ...picks, allergies: { ...allergies, noneKnownMonths } })}
        />
        <Pick
          label="Kit while latex is not known"
          value={allergies.latexUnknownKit}
          options={[
            { value: 'non-latex', label: 'without latex' },
            { value: 'ask-first', label: 'ask first' },
          ]}
          onPick={(latexUnknownKit) => onPicks({ ...picks, allergies: { ...allergies, latexUnknownKit } })}
        />
        <Pick
          label="How long a pack stays sterile"
          value={age.kind}
          options={[
            { value: 'event-related', label: 'until something happens to it' },
            { value: 'dated', label: 'so many days' },
            { value: 'unset', label: 'not decided: ask' },
          ]}
          onPick={(kind) => setAge(ages[kind])}
        />
        {age.kind === 'dated' ? (
          <NumberField label="Days" value={age.days} onValue={(days) => setAge({ kind: 'dated', days })} />
        ) : null}
        <Pick
          label="After a failed spore test"
          value={sterility.sporeFailure}
          options={[
            { value: 'hold', label: 'packs are held' },
            { value: 'warn', label: 'packs carry a warning' },
          ]}
          onPick={(sporeFailure) => onPicks({ ...picks, sterility: { ...sterility, sporeFailure } })}
        />
        <NumberField
          label="A claim nobody touches goes back after, minutes"
          value={trays.claimQuietMinutes}
          onValue={(claimQuietMinutes) => onPicks({ ...picks, trays: { ...trays, claimQuietMinutes } })}
        />
        <NumberField
          label="Laying out a tray takes, minutes"
          value={trays.layOutMinutes}
          onValue={(layOutMinutes) => onPicks({ ...picks, trays: { ...trays, layOutMinutes } })}
        />
        <NumberField
          label="Turning a room over takes, minutes"
          value={schedule.turnoverMinutes}
          onValue={(turnoverMinutes) => onPicks({ ...picks, schedule: { ...schedule, turnoverMinutes } })}
        />
        <NumberField
          label="Late is shown after, minutes"
          value={schedule.lateAmberMinutes}
          onValue={(lateAmberMinutes) => onPicks({ ...picks, schedule: { ...schedule, lateAmberMinutes } })}
        />
        <NumberField
          label="The desk is asked after, minutes"
          value={schedule.latePromptMinutes}
          onValue={(latePromptMinutes) => onPicks({ ...picks, schedule: { ...schedule, latePromptMinutes } })}
        />
        <NumberField
          label="The dentist’s word stands for, minutes"
          value={word.liveMinutes}
          onValue={(liveMinutes) => onPicks({ ...picks, word: { ...word, liveMinutes } })}
        />
      </div>
      <Button
        aria-pressed={word.twoStepForStudents}
        onPress={() => onPicks({ ...picks, word: { ...word, twoStepForStudents: !word.twoStepForStudents } })}
      >
        A student proposes, the instructor agrees
        <small>two steps, never the same person</small>
      </Button>
    </section>
  )
}
