'use client'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { ANCHOR_HOLE_SOURCES, SCHEMES } from '#shared/isolation/holes.ts'
import {
  ANCHOR_HOLES,
  FIELD_POLICY_IDS,
  HOLE_SCHEMES,
  SHEET_MATERIALS,
} from '#shared/isolation/isolation-facts.ts'
import { FIELD_POLICY_NAMES } from '#shared/isolation/policy-names.ts'
import { FIELD_CLASSES } from '#shared/people/policy-set.ts'
import { CLASS_WORDS, FieldSources } from './field-words.tsx'
import type { Picks, PicksProps } from './picks.ts'
import { PlacingPicks } from './placing-picks.tsx'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'
import { Spacings } from './spacings.tsx'

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
              <FieldSources policy={isolation.field[of]} />
            </p>
          </div>
        ))}
      </div>
      <Button aria-pressed={isolation.widerEnd} onPress={() => set({ widerEnd: !isolation.widerEnd })}>
        The wider end where a source gives a range
        <small>for instance two distal and four mesial, where one to two and three to four are printed</small>
      </Button>
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
      </div>
      <h3>How far apart the holes are</h3>
      <Spacings picked={isolation.spacing} onPicked={(spacing) => set({ spacing })} />
      <h3>How it is placed</h3>
      <PlacingPicks picked={isolation.placing} onPicked={(placing) => set({ placing })} />
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
                <FieldSources policy={policy} />
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
