import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { and, eq } from 'drizzle-orm'
import { asClinic } from '#db/as-clinic.ts'
import { readReach, readRevision } from '#db/read.ts'
import { account, membership } from '#db/schema/accounts.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { emailOf, FOUNDER } from '#seed/people.ts'
import { type Day, dayOf, type Instant, parseDay } from '#shared/base/moment.ts'
import type { Reach } from '#shared/command.ts'
import type { Finding } from '#shared/finding.ts'
import { type ClinicId, type MemberId, parseId, type SteriliserId } from '#shared/ids.ts'
import type { Site } from '#shared/people/clinic.ts'
import { can } from '#shared/people/role.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { suspectLoads } from '#shared/sterility/recall.ts'
import { say } from '#shared/words/en.ts'
import { readNow } from '../commands/perform.ts'
import type { Environment } from '../environment.ts'
import type { House } from '../house.ts'
import { previewBrought, takeBrought } from '../imports/take.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { boardAnswer } from './board.ts'
import { forecastAnswer, forecastAt, type SiteForecast } from './forecast.ts'
import { importAnswer, isRefusal, parseImportRequest } from './import.ts'
import { findRecallFrom, recallAnswer } from './recall.ts'
import { sitesAsked } from './sites.ts'

/** A verb as the command line asks for it, in this process or through the running server. */
export interface VerbRequest {
  verb: string
  clinic?: string
  as?: string
  day?: string
  site?: string
  preview?: boolean
  source?: string
  load?: string
  steriliser?: string
  pack?: string
  indicator?: string
  mapping: unknown
  file: { name: string; base64: string } | null
}

interface Asking {
  clinicId: ClinicId
  memberId: MemberId
  station: string
}

/** Whether there is a database to ask at all. */
export const isClinicHere = ({ DATABASE_URL, DATA_FOLDER }: Environment): boolean =>
  DATABASE_URL !== undefined || existsSync(join(DATA_FOLDER, 'database'))

/** Findings as the command line prints them. */
export const refusal = (findings: readonly Finding[]): VerbAnswer => ({
  body: { refused: true, findings: findings.map((finding) => ({ ...finding, text: say(finding) })) },
  exit: 1,
})

/** Whoever is named by `--as`, in the clinic named by `--clinic`; in the invented clinic, its manager. */
async function findAsking(house: House, request: VerbRequest): Promise<Asking | VerbAnswer> {
  const clinics = await house.clinics()
  const clinicId = request.clinic === undefined ? clinics[0] : parseId<ClinicId>(request.clinic)
  if (!clinicId || !clinics.includes(clinicId)) {
    return badUsage(
      'There is no such clinic here, so nothing was asked. Name one with --clinic, or start Weirboard once to make the invented one.',
    )
  }
  const invented = await house.isInvented(clinicId)
  const email = request.as ?? (invented ? emailOf(FOUNDER) : undefined)
  if (email === undefined || (!invented && request.clinic === undefined)) {
    return badUsage(
      'In a real clinic what is done is kept under a person’s name. Give --clinic ID and --as EMAIL.',
    )
  }
  const [found] = await house.database.db
    .select({ memberId: membership.memberId })
    .from(membership)
    .innerJoin(account, eq(account.id, membership.accountId))
    .where(and(eq(account.email, email.toLowerCase()), eq(membership.clinicId, clinicId)))
  if (!found)
    return badUsage(
      `Nobody signs in as ${email} in this clinic, so nothing was asked. Name someone with --as EMAIL.`,
    )
  return { clinicId, memberId: found.memberId as MemberId, station: 'command line' }
}

const isAnswer = (value: Asking | VerbAnswer): value is VerbAnswer => 'exit' in value

type Verb = (house: House, asking: Asking, request: VerbRequest) => Promise<VerbAnswer>

const importVerb: Verb = async (house, asking, request) => {
  const read = parseImportRequest(request)
  if (isRefusal(read)) return read
  if (request.preview) {
    const preview = await previewBrought(house, asking, read)
    return importAnswer(preview.counts, preview.problems)
  }
  const performed = await takeBrought(house, asking, read)
  if (performed.refused)
    return performed.trouble
      ? badUsage(Object.values(performed.trouble).join(' '))
      : refusal(performed.findings)
  const [batch] = performed.change.put.importBatch ?? []
  return batch
    ? importAnswer(batch.counts, performed.change.put.importProblem ?? [])
    : badUsage('The file held nothing that could be taken.')
}

async function sitesOf(
  house: House,
  clinicId: ClinicId,
  { site }: VerbRequest,
): Promise<Site[] | VerbAnswer> {
  const all = await asClinic(
    house.database,
    clinicId,
    (tx) => selectFacts(tx, clinicId, { name: 'site', where: everywhere }),
    'read',
  )
  const asked = sitesAsked(all, site)
  return typeof asked === 'string' ? badUsage(asked) : asked
}

/** The day that is asked about, as it is at a site. */
function dayAt({ zone }: Site, { day }: VerbRequest, now: Instant): Day | VerbAnswer {
  if (day === undefined) return dayOf(now, zone)
  return parseDay(day) ?? badUsage(`${day} is no day, so nothing was looked up. Write it as YYYY-MM-DD.`)
}

const boardVerb: Verb = async (house, { clinicId }, request) => {
  const sites = await sitesOf(house, clinicId, request)
  if ('exit' in sites) return sites
  const { at: now } = await readNow(house, clinicId)
  const [site] = sites
  if (!site) throw new Error('Bug: a clinic without a site was answered')
  const day = dayAt(site, request, now)
  if (typeof day !== 'string') return day
  const window = { kind: 'day', siteId: site.id, day } as const
  const { revision, world } = await house.hub.snapshot(clinicId, window)
  return { body: boardAnswer(boardFor(world, { ...window, now }), { revision, zone: site.zone }), exit: 0 }
}

/** Each site's day at the steriliser, as its screen shows it. */
const forecastVerb: Verb = async (house, { clinicId }, request) => {
  const sites = await sitesOf(house, clinicId, request)
  if ('exit' in sites) return sites
  const { at: now } = await readNow(house, clinicId)
  const told: SiteForecast[] = []
  for (const site of sites) {
    const day = dayAt(site, request, now)
    if (typeof day !== 'string') return day
    const window = { kind: 'sterility', siteId: site.id, day } as const
    const { world, revision } = await house.hub.snapshot(clinicId, window)
    told.push(forecastAt(world, { site, day, now, revision }))
  }
  return forecastAnswer(told)
}

/** Twice: once for what the name means, once with all that hangs on the packs it reaches. */
const recallVerb: Verb = async (house, { clinicId, memberId }, request) => {
  const { at, zone } = await readNow(house, clinicId)
  const today = dayOf(at, zone)
  const sterilisers = await sterilisersOf(house, clinicId)
  const named = await readFor(house, clinicId, { reach: { allPacks: true, sterilisers }, today })
  const asker = named.world.member.find((member) => member.id === memberId)
  // It names patients, so it is for those who may read of them.
  if (!asker || !can(asker.roles, 'clinical:read')) {
    return refusal([{ rule: 'person/not-allowed', level: 'stop', about: `member:${memberId}` }])
  }
  const from = findRecallFrom(named.world, request)
  if (typeof from === 'string') return badUsage(from)
  const loads = suspectLoads(named.world, from).map((load) => load.id)
  const { world, revision } = await readFor(house, clinicId, { reach: { allPacks: true, loads }, today })
  const whole = { ...world, load: named.world.load, indicator: named.world.indicator }
  return recallAnswer(whole, request, { zone, revision, now: at })
}

const sterilisersOf = async (house: House, clinicId: ClinicId): Promise<SteriliserId[]> => {
  const all = await asClinic(
    house.database,
    clinicId,
    (tx) => selectFacts(tx, clinicId, { name: 'steriliser', where: everywhere }),
    'read',
  )
  return all.map(({ id }) => id)
}

/** What a question needs, with every steriliser, and the revision it stands at. One moment, so opened for reading. */
const readFor = (house: House, clinicId: ClinicId, { reach, today }: { reach: Reach; today: Day }) =>
  asClinic(
    house.database,
    clinicId,
    async (tx) => {
      const revision = await readRevision(tx, clinicId)
      const world = await readReach(tx, clinicId, { reach, today })
      const steriliser = await selectFacts(tx, clinicId, { name: 'steriliser', where: everywhere })
      return { revision, world: { ...world, steriliser } }
    },
    'read',
  )

const VERBS: Record<string, Verb> = {
  import: importVerb,
  board: boardVerb,
  forecast: forecastVerb,
  recall: recallVerb,
}

/** Answers a verb on an open house: the same rules and the same `perform` as every screen. */
export async function answerVerb(house: House, request: VerbRequest): Promise<VerbAnswer> {
  const verb = Object.hasOwn(VERBS, request.verb) ? VERBS[request.verb] : undefined
  if (!verb) return badUsage(`There is no verb ${request.verb}. Run \`weirboard\` alone to see them all.`)
  const asking = await findAsking(house, request)
  return isAnswer(asking) ? asking : verb(house, asking, request)
}
