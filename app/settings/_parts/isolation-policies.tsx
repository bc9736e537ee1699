'use client'
import { useState } from 'react'
import { Button } from '#app/_ui/button.tsx'
import { Field, Pick } from '#app/_ui/field.tsx'
import type { Source } from '#shared/base/source.ts'
import { ANCHOR_HOLE_SOURCES, SCHEMES } from '#shared/isolation/holes.ts'
import {
  ANCHOR_HOLES,
  FIELD_POLICY_IDS,
  type FieldPolicyId,
  HOLE_SCHEMES,
  SHEET_MATERIALS,
} from '#shared/isolation/isolation-facts.ts'
import { FIELD_POLICIES } from '#shared/isolation/policy.ts'
import { FIELD_POLICY_NAMES } from '#shared/isolation/policy-names.ts'
import { FIELD_CLASSES, type FieldClass } from '#shared/people/policy-set.ts'
import type { Picks, PicksProps } from './policies-part.tsx'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

const CLASS_WORDS: Record<FieldClass, string> = {
  'root-canal': 'Root canal work',
  'posterior-small': 'Small back filling',
  posterior: 'Back filling with a side',
  anterior: 'Front filling',
  cervical: 'Filling at the gum',
  sealant: 'Sealant',
  'primary-minimal': 'Work on primary teeth',
  'bonded-posterior': 'Bonded back restoration',
  veneer: 'Veneer',
  'crown-preparation': 'Crown preparation',
  bleaching: 'Bleaching in the chair',
}

/** How far a field reaches, where holes go and how large they are. */
export function IsolationPolicies({ picks, onPicks }: PicksProps) {
  const { isolation } = picks
  const set = (some: Partial<Picks['isolation']>) =>
    onPicks({ ...picks, isolation: { ...isolation, ...some } })
  return (
    <section aria-labelledby="isolation" className={styles.part}>
      <h2 id="isolation">The dam</h2>
      <h3>How far the field reaches</h3>
      <div className={styles.fields}>
        {FIELD_CLASSES.map((of) => (
          <div key={of} className={styles.pick}>
            <Pick
              label={CLASS_WORDS[of]}
              value={isolation.field[of]}
              options={FIELD_POLICY_IDS.map((value) => ({ value, label: FIELD_POLICY_NAMES[value] }))}
              onPick={(policy) => set({ field: { ...isolation.field, [of]: policy } })}
            />
            <p className={styles.small}>
              <SourceList sources={sourcesOf(isolation.field[of])} />
            </p>
          </div>
        ))}
      </div>
      <FieldsSideBySide />
      <h3>How large the holes are</h3>
      <SchemesSideBySide picked={isolation.holeScheme} onPicked={(holeScheme) => set({ holeScheme })} />
      <div className={styles.fields}>
        <div className={styles.pick}>
          <Pick
            label="The hole of the clamped tooth"
            value={isolation.anchorHole}
            options={ANCHOR_HOLES.map((value) => ({ value, label: ANCHOR_HOLE_SOURCES[value].value }))}
            onPick={(anchorHole) => set({ anchorHole })}
          />
          <p className={styles.small}>
            <SourceWords source={ANCHOR_HOLE_SOURCES[isolation.anchorHole].source} />
          </p>
        </div>
        <Pick
          label="Third molars in the field"
          value={isolation.includeThirdMolar}
          options={[
            { value: 'never', label: 'never' },
            { value: 'distal-surface-only', label: 'only for a distal surface of the second' },
            { value: 'always', label: 'always where they stand' },
          ]}
          onPick={(includeThirdMolar) => set({ includeThirdMolar })}
        />
        <Pick
          label="Sheet, where no allergy decides"
          value={isolation.sheetMaterial}
          options={SHEET_MATERIALS.map((value) => ({ value, label: value }))}
          onPick={(sheetMaterial) => set({ sheetMaterial })}
        />
        <Plate value={isolation.plateMicrometres} onValue={(plateMicrometres) => set({ plateMicrometres })} />
      </div>
      <Button
        aria-pressed={isolation.untiedClampAllowed}
        onPress={() => set({ untiedClampAllowed: !isolation.untiedClampAllowed })}
      >
        A clamp may go on untied
        <small>a clamp that is not tied can be swallowed; a case is published</small>
      </Button>
    </section>
  )
}

/** Diameters of the clinic's own punch, smallest first. */
function Plate({ value, onValue }: { value: number[]; onValue: (value: number[]) => void }) {
  const [text, setText] = useState(value.join(' '))
  const read = (typed: string): number[] | null => {
    const sizes = typed.trim().split(/\s+/).map(Number)
    return sizes.every((size) => Number.isInteger(size) && size >= 100 && size <= 10_000) ? sizes : null
  }
  return (
    <Field
      label="Your punch plate, micrometres, size 1 first"
      value={text}
      onChange={(typed) => {
        setText(typed)
        const sizes = read(typed)
        if (sizes) onValue(sizes)
      }}
      wrong={read(text) ? null : 'Whole micrometres between 100 and 10 000, with spaces between.'}
    />
  )
}

function sourcesOf(policy: FieldPolicyId): Source[] {
  const once = new Map(
    FIELD_POLICIES[policy].rows.map(({ source }) => [`${source.where} ${source.mark}`, source]),
  )
  return [...once.values()]
}

function SourceList({ sources }: { sources: Source[] }) {
  return sources.map((source, index) => (
    <span key={source.where}>
      {index > 0 ? '; ' : ''}
      <SourceWords source={source} />
    </span>
  ))
}

function FieldsSideBySide() {
  return (
    <details>
      <summary className={styles.more}>All field policies side by side, with their sources</summary>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Policy</th>
            <th scope="col">Where it stands</th>
          </tr>
        </thead>
        <tbody>
          {FIELD_POLICY_IDS.map((policy) => (
            <tr key={policy}>
              <th scope="row">{FIELD_POLICY_NAMES[policy]}</th>
              <td>
                <SourceList sources={sourcesOf(policy)} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

type Scheme = Picks['isolation']['holeScheme']
const HOLE_CLASSES = Object.keys(SCHEMES.S5.value.sizes) as (keyof typeof SCHEMES.S5.value.sizes)[]

function SchemesSideBySide({ picked, onPicked }: { picked: Scheme; onPicked: (scheme: Scheme) => void }) {
  return (
    <div className={styles.wide}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Scheme</th>
            {HOLE_CLASSES.map((each) => (
              <th key={each} scope="col">
                {each.replace('-', ' ')}
              </th>
            ))}
            <th scope="col">largest</th>
            <th scope="col">Where it stands</th>
          </tr>
        </thead>
        <tbody>
          {HOLE_SCHEMES.map((scheme) => (
            <tr key={scheme} data-picked={scheme === picked || undefined}>
              <th scope="row">
                <Button size="small" aria-pressed={scheme === picked} onPress={() => onPicked(scheme)}>
                  {SCHEMES[scheme].value.name}
                </Button>
              </th>
              {HOLE_CLASSES.map((each) => (
                <td key={each}>{SCHEMES[scheme].value.sizes[each]}</td>
              ))}
              <td>{SCHEMES[scheme].value.largest}</td>
              <td>
                <SourceWords source={SCHEMES[scheme].source} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
