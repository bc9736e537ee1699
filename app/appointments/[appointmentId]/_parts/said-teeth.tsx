'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { Button } from '#app/_ui/button.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { choicesAmong, mouthSeen } from './look-alikes.ts'
import styles from './plan.module.css'

export interface SaidTeethProps {
  seen: Seen
  planned: readonly Tooth[]
  said: readonly Tooth[]
  onSaid: (teeth: Tooth[]) => void
}

/** The teeth that were said aloud, found by touch among those that look like them. None is chosen beforehand. */
export function SaidTeeth({ seen, planned, said, onSaid }: SaidTeethProps) {
  const touch = (tooth: Tooth) =>
    onSaid(said.includes(tooth) ? said.filter((each) => each !== tooth) : [...said, tooth])
  return (
    <fieldset className={styles.said}>
      <legend>Touch what was said aloud</legend>
      {choicesAmong(planned, mouthSeen(seen)).map((tooth) => (
        <Button
          key={tooth}
          onPress={() => touch(tooth)}
          aria-pressed={said.includes(tooth)}
          aria-label={`${toothIn(tooth, seen.notation)}, ${nameTooth(tooth)}`}
        >
          {toothIn(tooth, seen.notation)}
        </Button>
      ))}
    </fieldset>
  )
}

/** What was said, kept until the plan moves on. */
export function useSaidTeeth(planNumber: number): [Tooth[], (teeth: Tooth[]) => void] {
  const [said, setSaid] = useState<{ planNumber: number; teeth: Tooth[] }>({ planNumber, teeth: [] })
  const teeth = said.planNumber === planNumber ? said.teeth : []
  return [teeth, (next) => setSaid({ planNumber, teeth: next })]
}
