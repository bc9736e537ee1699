import type { Incident } from '../schedule/appointment.ts'
import type { AppointmentFacts } from './day-index.ts'

/** What help is called for: one control on every clinical screen. The clinic's own card says what to do. */
export const HELP_KINDS = [
  'lost-clamp',
  'bleach-on-tissue',
  'anaesthetic-reaction',
  'collapse',
  'taste-or-burn',
] as const satisfies readonly Incident['kind'][]
export type HelpKind = (typeof HELP_KINDS)[number]

/** How a call for help ended. */
export const HELP_OUTCOMES = ['found', 'settled', 'referred', 'handed-over'] as const
export type HelpOutcome = (typeof HELP_OUTCOMES)[number]

/** How a call of this kind can end. A lost clamp or fragment is found, or the patient goes to others: never just closed. */
export const outcomesOf = (kind: HelpKind): readonly HelpOutcome[] =>
  kind === 'lost-clamp' ? ['found', 'referred', 'handed-over'] : ['settled', 'referred', 'handed-over']

const KINDS: ReadonlySet<string> = new Set(HELP_KINDS)
export type HelpIncident = Incident & { kind: HelpKind }
export const isHelp = (incident: Incident): incident is HelpIncident => KINDS.has(incident.kind)

/** Calls for help on this appointment that are not closed, drills among them. */
export const findOpenHelp = ({ incidents }: AppointmentFacts): HelpIncident[] =>
  incidents.filter(isHelp).filter(({ life }) => life.kind === 'open')
