'use client'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import {
  type Agent,
  INJECTED_AGENTS,
  LIMIT_PROFILE_IDS,
  type LimitProfileId,
} from '#shared/anaesthesia/anaesthetic.ts'
import { ADULT_WEIGHT_MONTHS, WEIGHT_MONTHS } from '#shared/anaesthesia/judge-dose.ts'
import { LIMIT_PROFILES, type Limit } from '#shared/anaesthesia/limits.ts'
import { NumberField } from './number-field.tsx'
import type { Picks, PicksProps } from './picks.ts'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

const NANOGRAMS = 1_000_000

/** Which printed maxima a dose is checked against. They are kept apart and never merged. */
export function DosePolicies({ picks, onPicks }: PicksProps) {
  const { anaesthesia } = picks
  const set = (some: Partial<Picks['anaesthesia']>) =>
    onPicks({ ...picks, anaesthesia: { ...anaesthesia, ...some } })
  const noBlocks = anaesthesia.notForBlocks ?? []
  const profiles = LIMIT_PROFILE_IDS.map((value) => ({ value, label: value }))
  return (
    <section aria-labelledby="dose" className={styles.part}>
      <h2 id="dose">Anaesthesia</h2>
      <p className={styles.small}>
        A dose is checked against one named profile. What the profile does not say cannot be checked: the
        dentist decides.
      </p>
      <div className={styles.fields}>
        <Pick
          label="Adults, from 18"
          value={anaesthesia.adultProfile}
          options={profiles}
          onPick={(adultProfile) => set({ adultProfile })}
        />
        <Pick
          label="Children"
          value={anaesthesia.childProfile}
          options={profiles}
          onPick={(childProfile) => set({ childProfile })}
        />
        <Pick
          label="Two agents together"
          value={anaesthesia.combine}
          options={[
            { value: 'lower-of-two', label: 'all counts towards the lower limit' },
            { value: 'fractions', label: 'shares of each limit add up to one' },
          ]}
          onPick={(combine) => set({ combine })}
        />
        <NumberField
          label="Check numbness again after, minutes"
          hint="Where the window ends earlier, that counts."
          value={anaesthesia.recheckMinutes}
          onValue={(recheckMinutes) => set({ recheckMinutes })}
        />
        <NumberField
          label="Weigh children and the light again after, months"
          hint="Under 18 years or under 50 kg."
          value={anaesthesia.weightMonths ?? WEIGHT_MONTHS}
          onValue={(weightMonths) => set({ weightMonths })}
        />
        <NumberField
          label="Weigh everyone else again after, months"
          hint="Until then the last weight counts for the check."
          value={anaesthesia.adultWeightMonths ?? ADULT_WEIGHT_MONTHS}
          onValue={(adultWeightMonths) => set({ adultWeightMonths })}
        />
      </div>
      <fieldset className={styles.fields}>
        <legend>Not for blocks here, by the house’s own rule</legend>
        {INJECTED_AGENTS.map((agent) => (
          <Button
            key={agent}
            aria-pressed={noBlocks.includes(agent)}
            onPress={() =>
              set({
                notForBlocks: noBlocks.includes(agent)
                  ? noBlocks.filter((each) => each !== agent)
                  : [...noBlocks, agent],
              })
            }
          >
            {agent}
          </Button>
        ))}
      </fieldset>
      <div className={styles.wide}>
        {INJECTED_AGENTS.map((agent) => (
          <AgentTable
            key={agent}
            agent={agent}
            picked={[anaesthesia.adultProfile, anaesthesia.childProfile]}
          />
        ))}
      </div>
    </section>
  )
}

/** What each profile prints of one agent. */
function AgentTable({ agent, picked }: { agent: Agent; picked: LimitProfileId[] }) {
  const printed = LIMIT_PROFILE_IDS.flatMap((profile) =>
    LIMIT_PROFILES[profile].filter((row) => row.agent === agent).map((row) => ({ profile, row })),
  )
  return (
    <table className={styles.table}>
      <caption>{agent}</caption>
      <thead>
        <tr>
          <th scope="col">Profile</th>
          <th scope="col">For</th>
          <th scope="col">Maximum</th>
          <th scope="col">Where it stands</th>
        </tr>
      </thead>
      <tbody>
        {printed.map(({ profile, row }) => (
          <tr
            key={`${profile} ${row.vasoconstrictor} ${row.population.from} ${row.source.where}`}
            data-picked={picked.includes(profile) || undefined}
          >
            <th scope="row">{profile}</th>
            <td>{forWords(row)}</td>
            <td>
              {maximumWords(row)}
              {row.confirmed ? '' : ' (not used before a dentist has confirmed it)'}
            </td>
            <td>
              <SourceWords source={row.source} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const SOLUTIONS: Record<Limit['vasoconstrictor'], string> = {
  with: 'with vasoconstrictor',
  without: 'plain',
  either: 'any solution',
}

function forWords({ vasoconstrictor, population: { from, to } }: Limit): string {
  const years = to >= 200 ? (from === 0 ? 'any age' : `from ${from} years`) : `${from} to ${to} years`
  return `${SOLUTIONS[vasoconstrictor]}, ${years}`
}

function maximumWords({ perKilogram, perPound, cap }: Limit): string {
  const parts = [
    perKilogram === null ? null : `${perKilogram / NANOGRAMS} mg/kg`,
    perPound === null ? null : `${perPound / NANOGRAMS} mg/lb`,
    cap === null ? null : `at most ${cap / NANOGRAMS} mg`,
  ]
  return parts.filter(Boolean).join(', ') || 'no figure'
}
