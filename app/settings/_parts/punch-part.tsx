'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { ISO_PUNCH, isInsideIsoHole, isInsideIsoLength, judgePunch } from '#shared/isolation/holes.ts'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

interface Punch {
  plateMicrometres: number[]
  lengthMm: number | null
}

const NEXT_SIZE = 300
const STEP = 10

/** What the clinic's own punch cuts, held against the standard. Every hole is drawn by these figures. */
export function PunchPart() {
  const { world } = useWorld()
  const performing = usePerform()
  const isolation = world.policySet[0]?.isolation
  const [draft, setDraft] = useState<Punch | null>(null)
  const [measured, setMeasured] = useState(false)
  if (!isolation) return null
  const { plateMicrometres, punchLengthMm = null } = isolation
  const punch = draft ?? { plateMicrometres, lengthMm: punchLengthMm }
  const plate = punch.plateMicrometres
  const set = (some: Partial<Punch>) => setDraft({ ...punch, ...some })
  const isOutside = judgePunch(punch).length > 0
  return (
    <section aria-labelledby="punch" className={styles.part}>
      <h2 id="punch">Our punch</h2>
      <p>
        Measure what it cuts, size 1 first. <SourceWords source={ISO_PUNCH.source} />: six or eight holes of{' '}
        {ISO_PUNCH.leastMm} to {ISO_PUNCH.mostMm} mm, length {ISO_PUNCH.lengthMm} ±{' '}
        {ISO_PUNCH.lengthToleranceMm} mm.
      </p>
      <ol className={styles.list}>
        {plate.map((micrometres, index) => (
          <li key={index} className={styles.line}>
            <Hole size={index + 1} micrometres={micrometres} />
            <MillimetreField
              label={`Size ${index + 1}, mm`}
              mm={micrometres / 1000}
              onMm={(mm) =>
                set({
                  plateMicrometres: plate.map((each, at) =>
                    at === index && mm !== null ? Math.round(mm * 1000) : each,
                  ),
                })
              }
            />
          </li>
        ))}
      </ol>
      <div className={styles.choices}>
        <Button
          onPress={() => set({ plateMicrometres: [...plate, (plate.at(-1) ?? 0) + NEXT_SIZE] })}
          isDisabled={plate.length >= 12}
        >
          One size more
        </Button>
        <Button onPress={() => set({ plateMicrometres: plate.slice(0, -1) })} isDisabled={plate.length <= 1}>
          One size less
        </Button>
      </div>
      <MillimetreField
        label="Length of the punch, mm"
        mm={punch.lengthMm}
        onMm={(lengthMm) => set({ lengthMm })}
        hint={
          punch.lengthMm === null
            ? 'Not measured.'
            : isInsideIsoLength(punch.lengthMm)
              ? 'Inside the standard.'
              : 'Outside the standard.'
        }
      />
      {isOutside ? (
        <Button aria-pressed={measured} onPress={() => setMeasured(!measured)}>
          Measured again: it is so
          <small>a figure lies outside the standard; a slip would make every drawn hole wrong</small>
        </Button>
      ) : null}
      <ActButton
        kind="punch.set"
        input={{ ...punch, measured }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={draft === null}
        done="The punch is kept; plans to come are drawn by it."
        onDone={() => {
          setDraft(null)
          setMeasured(false)
        }}
      >
        Keep the punch
        <small>{draft === null ? 'as it stands' : `${plate.length} sizes, not kept yet`}</small>
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

/** A hole ten times its size, and whether the standard knows it. */
function Hole({ size, micrometres }: { size: number; micrometres: number }) {
  const mm = micrometres / 1000
  return (
    <span>
      <svg viewBox="-2 -2 4 4" width="40" height="40" aria-hidden="true">
        <circle r={Math.min(1.9, mm / 2)} fill="none" stroke="currentColor" strokeWidth="0.12" />
      </svg>{' '}
      <strong>Size {size}</strong>{' '}
      <span className={styles.small}>
        {isInsideIsoHole(mm) ? 'inside the standard' : 'outside the standard'}
      </span>
    </span>
  )
}

interface MillimetreProps {
  label: string
  mm: number | null
  hint?: string
  onMm: (mm: number | null) => void
}

/** Millimetres to a hundredth; what is none is told and not taken over. */
function MillimetreField({ label, mm, hint, onMm }: MillimetreProps) {
  const [text, setText] = useState(mm === null ? '' : `${mm}`)
  const read = (typed: string): number | null => {
    const value = Number(typed.replace(',', '.'))
    return typed.trim() === '' || !Number.isFinite(value) || value < 0.1 || value > 400 ? null : value
  }
  const isWrong = text.trim() !== '' && read(text) === null
  return (
    <Field
      label={label}
      value={text}
      inputMode="decimal"
      {...(hint ? { hint } : {})}
      wrong={isWrong ? 'Millimetres, for instance 1.76.' : null}
      onChange={(typed) => {
        setText(typed)
        const value = read(typed)
        if (value !== null || typed.trim() === '') {
          onMm(value === null ? null : (Math.round((value * 1000) / STEP) * STEP) / 1000)
        }
      }}
    />
  )
}
