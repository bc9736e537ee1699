import type { ZodType } from 'zod'
import type { Day, Instant } from './base/moment.ts'
import type { Result } from './base/result.ts'
import type { Change } from './change.ts'
import type { World } from './facts.ts'
import type { Finding } from './finding.ts'
import type {
  AppointmentId,
  ClinicId,
  CommandId,
  ImportBatchId,
  ImportProblemId,
  ImportSourceId,
  IncidentId,
  LoadId,
  MemberId,
  OperatoryId,
  PackId,
  PatientId,
  SteriliserId,
  TrayId,
} from './ids.ts'
import type { Member } from './people/clinic.ts'
import type { Permission } from './people/role.ts'

/**
 * What a command must be decided on. The clinic, its sites, policies, operatories, members and kits are always
 * read. An appointment comes with all that hangs on it: patient, chart, allergies, work, choice, plan, words,
 * visit, occupancy, anaesthetic, doses, numbness, trays and their lines, packs of those lines, incidents.
 */
export interface Reach {
  appointments?: AppointmentId[]
  /** With their appointments from today on that are not over. */
  patients?: PatientId[]
  /** Who comes on these days, at all sites: appointments, patients, visits, rosters, and how every operatory stands. */
  days?: Day[]
  /** The same of the day on which each of these appointments is, wherever that is. */
  daysOf?: AppointmentId[]
  /** These days with all that hangs on each of their appointments. */
  wholeDays?: Day[]
  /** Every appointment from today on that is not over: what a changed policy may re-plan. */
  upcoming?: true
  operatories?: OperatoryId[]
  trays?: TrayId[]
  packs?: PackId[]
  /** Every pack, with its load. */
  allPacks?: true
  /** Every instrument set. */
  sets?: true
  loads?: LoadId[]
  sterilisers?: SteriliserId[]
  stock?: true
  incidents?: IncidentId[]
  /**
   * A source with its batches, problems and every appointment it gave us, by external id. By its name where it was not
   * known yet: another run may have made it meanwhile.
   */
  source?: ({ id: ImportSourceId } | { name: string }) & { externalIds: string[] }
  batches?: ImportBatchId[]
  problems?: ImportProblemId[]
  /** The clinic's own words for kinds of work. */
  ownWords?: true
  /** Every source that has brought a file or is to. */
  sources?: true
  /** Calendars that are fetched by themselves. */
  calendars?: true
  /** Patients that an import may mean. */
  patientsNamed?: { family: string; born: Day | null }[]
  patientsIdentified?: { system: string; value: string }[]
  /** The journal entry to undo. */
  journal?: number
}

/** A past entry of the journal, as far as undoing needs it. */
export interface JournalEntry {
  revision: number
  kind: string
  change: Change
  before: Change
}

export interface CommandContext {
  clinicId: ClinicId
  /** The clinic's clock. */
  now: Instant
  today: Day
  by: Member
  station: string
  /** A fresh UUID; the caller says which brand it becomes. */
  newId: <Id>() => Id
  /** Read where `reach` names an entry. */
  journal: JournalEntry | null
}

/** What came of a command: the change and what is to be told of it, or the findings that refuse it. */
export type Decision = Result<{ change: Change; findings: Finding[] }, Finding>

export interface CommandRule<Kind extends string, Input> {
  kind: Kind
  needs: Permission
  /** The outside is parsed once, here. */
  input: ZodType<Input>
  reach: (input: Input) => Reach
  decide: (world: World, input: Input, context: CommandContext) => Decision
}

/** Keeps kind and input type of a command rule for the dictionary. */
export const commandRule = <const Kind extends string, Input>(
  rule: CommandRule<Kind, Input>,
): CommandRule<Kind, Input> => rule

/** A command as it travels and as the journal keeps it. */
export interface Command<Kind extends string = string, Input = unknown> {
  id: CommandId
  kind: Kind
  input: Input
  /** The revision the person saw. */
  sawRevision: number
  /** When it was made on the screen, clinic clock. */
  madeAt: Instant
  by: MemberId
  station: string
}
