'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { type InputOf, type Outcome, type Performing, usePerform } from '#app/_live/use-perform.ts'
import { SheetDrawing } from '#app/_marks/sheet-drawing.tsx'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { Why } from '#app/_ui/why.tsx'
import { STEPS } from '#shared/isolation/steps.ts'
import { recountOf } from '#shared/readiness/judges.ts'
import { shownWork } from '#shared/readiness/shown.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayStep } from '#shared/words/en/plan.ts'
import { FramePicture } from './frame-picture.tsx'
import styles from './guide.module.css'
import { type GuideStep, isCarrying, isDone, isTicked, minutesOf, showsSheet, tickOf } from './guide-steps.ts'
import type { Ticks } from './use-ticks.ts'

export interface StepNowProps {
  now: GuideStep
  steps: readonly GuideStep[]
  kept: Ticks
  seen: Seen
}

/** One step, large: read it, do it, touch it. */
export function StepNow({ now, steps, kept, seen }: StepNowProps) {
  const { step, sheet } = now
  const at = steps.indexOf(now)
  const before = steps[at - 1]
  const named = (tooth: Tooth): string => toothIn(tooth, seen.notation)
  return (
    <section className={styles.now} aria-label={`Step ${at + 1} of ${steps.length}`}>
      <div className={styles.says}>
        <p className={styles.count}>
          Step {at + 1} of {steps.length}
          <Sitting {...{ now, steps, seen }} />
          <Begun seen={seen} kept={kept} />
        </p>
        <h2 className={styles.step}>{sayStep(step, named)}</h2>
        <Why rule={step.name} source={STEPS[step.name]} />
        <DoneButton {...{ now, steps, kept, seen }} />
        {before && kept.mayTick ? (
          <Button size="small" onPress={() => kept.untick(before)} isDisabled={kept.busy}>
            One step back
          </Button>
        ) : null}
      </div>
      <div className={styles.picture}>
        {step.name === 'frame' ? <FramePicture /> : null}
        {showsSheet(now) ? <SheetDrawing sheet={sheet} view="facing" notation={seen.notation} /> : null}
      </div>
      <ol className={styles.all} aria-label="All steps">
        {steps.map((each) => (
          <li
            key={each.key}
            data-done={isTicked(each, kept.ticks)}
            aria-current={each === now ? 'step' : undefined}
          >
            {sayStep(each.step, named)}
            <small>{tickedAt(each, kept, seen)}</small>
          </li>
        ))}
      </ol>
    </section>
  )
}

function Sitting({ now, steps, seen }: Pick<StepNowProps, 'now' | 'steps' | 'seen'>) {
  const sheets = Math.max(...steps.map(({ number }) => number))
  if (sheets < 2) return null
  const teeth = now.sheet.field.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  return (
    <span>
      {' '}
      · sheet {now.number} of {sheets}: {teeth}
    </span>
  )
}

function Begun({ seen, kept }: Pick<StepNowProps, 'seen' | 'kept'>) {
  const first = kept.ticks[0]
  if (!first) return null
  return (
    <span>
      {' '}
      · begun {timeOf(first.at, seen.zone)}, {minutesOf([first, { at: seen.now }])} min
    </span>
  )
}

const tickedAt = (step: GuideStep, { ticks }: Ticks, { zone, nameOf }: Seen): string => {
  const tick = tickOf(step, ticks)
  return tick ? `${timeOf(tick.at, zone)}, ${nameOf(tick.by)}` : ''
}

/**
 * Ticks the step. Where the step is a gate or a count of the house, its command is sent with the same touch, and a
 * refusal leaves the step open.
 */
function DoneButton({ now, steps, kept, seen }: StepNowProps) {
  const performing = usePerform()
  const [waits, setWaits] = useState(false)
  if (!kept.mayTick) return <p className={styles.count}>Who places the dam ticks this step.</p>
  const command = commandOf({ now, steps, kept, seen })
  const touch = async () => {
    setWaits(true)
    const came = command && (await send(performing, command))
    if (command === null || came?.kind === 'done') await kept.tick(now)
    setWaits(false)
  }
  return (
    <>
      <Button size="main" tone="ink" onPress={touch} isDisabled={waits || performing.busy || kept.busy}>
        Done
        {command ? <small>{command.words}</small> : null}
      </Button>
      <OutcomeBox outcome={performing.outcome ?? kept.outcome} />
    </>
  )
}

type Sent =
  | { kind: 'visit.clamp'; input: InputOf<'visit.clamp'>; words: string }
  | { kind: 'teeth.recount'; input: InputOf<'teeth.recount'>; words: string }

const send = ({ perform }: Performing, command: Sent): Promise<Outcome | null> =>
  command.kind === 'visit.clamp'
    ? perform(command.kind, command.input, 'The clamp is on.')
    : perform(command.kind, command.input, 'Teeth counted.')

/** What a step tells the house beside being ticked; null where it tells nothing, or it is told already. */
function commandOf({ now, steps, kept, seen }: StepNowProps): Sent | null {
  const { stage } = seen.readiness.line
  const appointmentId = seen.facts.appointment.id
  const counted = recountOf(seen.facts)
  const saw = shownWork(seen.facts.work)
  const inChair = stage === 'seated' || stage === 'injected'
  if (isCarrying(now) && inChair) {
    const tied = isDone('tie-floss', steps, kept.ticks)
    return { kind: 'visit.clamp', input: { appointmentId, tied }, words: 'and the clamp is recorded as on' }
  }
  if (now.step.name === 'tooth-aloud' && inChair && counted.before === null) {
    return {
      kind: 'teeth.recount',
      input: { appointmentId, when: 'before', saw },
      words: 'and the teeth are recorded as counted',
    }
  }
  if (now.step.name === 'recount-through' && stage === 'clamped' && counted.through === null) {
    return {
      kind: 'teeth.recount',
      input: { appointmentId, when: 'through', saw },
      words: 'and the count through the sheet is recorded',
    }
  }
  return null
}
