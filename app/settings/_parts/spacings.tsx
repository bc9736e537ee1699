'use client'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { SPACING_MEASURES, type Spacing } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_SPACING, PUBLISHED_SPACINGS } from '#shared/isolation/sheet-policy.ts'
import type { Picks } from './picks.ts'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

type Picked = Picks['isolation']['spacing']
interface SpacingsProps {
  picked: Picked
  onPicked: (picked: Picked) => void
}

/** What is printed on the distance of two holes, each with how it was measured, and the clinic's own limits. */
export function Spacings({ picked, onPicked }: SpacingsProps) {
  const pick = picked ?? DEFAULT_SPACING.value
  const isWanted = (spacing: Spacing | null) => JSON.stringify(spacing) === JSON.stringify(pick.wanted)
  return (
    <>
      <div className={styles.wide}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Wanted between two holes</th>
              <th scope="col">Measured</th>
              <th scope="col">Where it stands</th>
            </tr>
          </thead>
          <tbody>
            {PUBLISHED_SPACINGS.map(({ value: { words, spacing }, source }) => (
              <tr key={words} data-picked={isWanted(spacing) || undefined}>
                <th scope="row">
                  <Button
                    size="small"
                    aria-pressed={isWanted(spacing)}
                    onPress={() => onPicked({ ...pick, wanted: spacing })}
                  >
                    {words}
                  </Button>
                </th>
                <td>{spacing ? MEASURE_WORDS[spacing.measure] : 'crown widths'}</td>
                <td>
                  <SourceWords source={source} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div className={styles.fields}>
        <Limit
          label="Too near, it leaks: under"
          limit={pick.least}
          onLimit={(least) => onPicked({ ...pick, least })}
        />
        <div className={styles.pick}>
          <Pick
            label="Too far, it bunches"
            value={pick.most === null ? 'natural' : 'own'}
            options={[
              { value: 'natural', label: '2.5 mm above the teeth’s own distance' },
              { value: 'own', label: 'above a distance of our own' },
            ]}
            onPick={(which) => onPicked({ ...pick, most: which === 'natural' ? null : FAR })}
          />
          {pick.most ? (
            <Limit label="Too far: over" limit={pick.most} onLimit={(most) => onPicked({ ...pick, most })} />
          ) : null}
        </div>
      </div>
      <p className={styles.small}>
        Too near: <SourceWords source={DEFAULT_SPACING.source} />
      </p>
    </>
  )
}

const MEASURE_WORDS: Record<Spacing['measure'], string> = {
  'edge-to-edge': 'from edge to edge, rubber alone',
  'centre-to-centre': 'from centre to centre',
}
const FAR: Spacing = { measure: 'centre-to-centre', mm: 12 }
const STEP_MM = 0.5
const [LEAST_MM, MOST_MM] = [0.5, 30]

interface LimitProps {
  label: string
  limit: Spacing
  onLimit: (limit: Spacing) => void
}

/** A distance and how it is measured, by touch. */
function Limit({ label, limit, onLimit }: LimitProps) {
  const step = (by: number) => onLimit({ ...limit, mm: Math.min(MOST_MM, Math.max(LEAST_MM, limit.mm + by)) })
  return (
    <fieldset className={styles.pick}>
      <legend>{label}</legend>
      <div className={styles.choices}>
        <Button aria-label={`${label}: half a millimetre less`} onPress={() => step(-STEP_MM)}>
          −
        </Button>
        <output aria-live="polite">{limit.mm} mm</output>
        <Button aria-label={`${label}: half a millimetre more`} onPress={() => step(STEP_MM)}>
          +
        </Button>
      </div>
      <Pick
        label={`${label}, measured`}
        value={limit.measure}
        options={SPACING_MEASURES.map((value) => ({ value, label: MEASURE_WORDS[value] }))}
        onPick={(measure) => onLimit({ ...limit, measure })}
      />
    </fieldset>
  )
}
