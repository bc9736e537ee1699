'use client'
import { Button } from '#app/_ui/button.tsx'
import type { PlacingPick } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_PLACING, PLACING_OPTIONS } from '#shared/isolation/placing-policy.ts'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

const KEY_WORDS: Record<keyof PlacingPick, string> = {
  grade: 'Grade of the sheet, without a retractor',
  sequence: 'What goes on first, where the clamp leaves it open',
  frame: 'The frame',
  flossCm: 'Length of the floss tie',
  flossPath: 'Path of the floss tie',
  lowerFrontMm: 'Lower front teeth from the bottom edge, on a 150 mm sheet',
}
const KEYS = Object.keys(KEY_WORDS) as (keyof PlacingPick)[]

interface PicksProps {
  picked: PlacingPick | null
  onPicked: (picked: PlacingPick) => void
}

/** Where authorities differ on placing: every option beside its source. */
export function PlacingPicks({ picked, onPicked }: PicksProps) {
  const placing = picked ?? DEFAULT_PLACING.value
  return (
    <div className={styles.wide}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">As published</th>
          </tr>
        </thead>
        <tbody>
          {KEYS.map((key) => (
            <tr key={key}>
              <th scope="row">{KEY_WORDS[key]}</th>
              <td>
                <div className={styles.pick}>
                  {PLACING_OPTIONS[key].map(({ value: { pick, words }, source }) => (
                    <p key={pick} className={styles.choices}>
                      <Button
                        size="small"
                        aria-pressed={(placing[key] ?? DEFAULT_PLACING.value[key]) === pick}
                        onPress={() => onPicked({ ...placing, [key]: pick })}
                      >
                        {words}
                      </Button>
                      <span className={styles.small}>
                        <SourceWords source={source} />
                      </span>
                    </p>
                  ))}
                </div>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
