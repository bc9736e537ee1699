import { z } from 'zod'
import { AGENTS, LIMIT_PROFILE_IDS } from '../anaesthesia/anaesthetic.ts'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { MemberId, PolicySetId, SiteId } from '../ids.ts'
import { clockTime, id } from '../inputs.ts'
import {
  ANCHOR_HOLES,
  EVERYDAY_GRADES,
  FIELD_POLICY_IDS,
  FLOSS_PATHS,
  FRAME_SIDES,
  HOLE_SCHEMES,
  LOWER_FRONTS_MM,
  SEQUENCES,
  SHEET_MATERIALS,
  SPACING_MEASURES,
} from '../isolation/isolation-facts.ts'
import { canonicalZone } from '../schedule/local-time.ts'
import { NOTATIONS } from '../teeth/notation-names.ts'
import type { Clinic, Member, Site } from './clinic.ts'
import { DEFAULT_POLICY_SET, defaultPolicySet } from './default-policy.ts'
import { FIELD_CLASSES, type PolicySet } from './policy-set.ts'
import { ROLES } from './role.ts'

const name = z.string().trim().min(1).max(120)
const minutes = z.int().min(0).max(600)

const siteInput = z.object({ name, zone: z.string(), opensAt: clockTime, closesAt: clockTime })
const founding = z.object({
  name,
  invented: z.boolean(),
  notation: z.enum(NOTATIONS),
  /** Milliseconds by which the invented clinic's clock is moved; a real clinic's is the wall's. */
  clockOffset: z.int().default(0),
  site: siteInput,
  manager: z.object({ name, shortName: name }),
})

/** The first facts of a clinic: itself, one site, the default policy, and the manager who founds it. */
function decideFound(world: World, input: z.infer<typeof founding>, context: CommandContext): Decision {
  const { clinicId, newId, by } = context
  const about = `clinic:${clinicId}`
  if (world.clinic.length > 0) return refuse({ rule: 'clinic/founded-already', level: 'stop', about })
  const zone = canonicalZone(input.site.zone)
  if (zone === null) return refuse({ rule: 'site/zone-unknown', level: 'stop', about, zone: input.site.zone })
  const clinic: Clinic = {
    clinicId,
    id: clinicId,
    name: input.name,
    invented: input.invented,
    notation: input.notation,
    clock: input.invented ? { kind: 'demo', offset: input.clockOffset } : { kind: 'wall' },
  }
  const site: Site = {
    clinicId,
    id: newId<SiteId>(),
    ...input.site,
    zone,
    assistantPlaces: 'not-set',
    startOfDay: null,
  }
  const manager: Member = {
    clinicId,
    id: by.id,
    ...input.manager,
    roles: ['manager'],
    active: true,
    releasesLoads: false,
    drawsFirst: null,
  }
  return ok({
    change: joinChanges(
      putting('clinic', clinic),
      putting('site', site),
      putting('policySet', defaultPolicySet(clinicId, newId<PolicySetId>())),
      putting('member', manager),
    ),
    findings: [],
  })
}

const ASSISTANT_PLACES = ['allowed', 'not-allowed', 'not-set'] as const
const siteSetting = siteInput.extend({
  /** Null: a new site. */
  siteId: id<SiteId>().nullable(),
  assistantPlaces: z.enum(ASSISTANT_PLACES),
})

function decideSite(world: World, input: z.infer<typeof siteSetting>, context: CommandContext): Decision {
  const { siteId, ...given } = input
  const about = `site:${siteId ?? 'new'}`
  const zone = canonicalZone(input.zone)
  if (zone === null) return refuse({ rule: 'site/zone-unknown', level: 'stop', about, zone: input.zone })
  const standing = siteId === null ? undefined : findFact(world, 'site', siteId)
  if (siteId !== null && !standing) return refuse({ rule: 'site/unknown', level: 'stop', about })
  const site: Site = {
    clinicId: context.clinicId,
    id: siteId ?? context.newId<SiteId>(),
    ...given,
    zone,
    startOfDay: standing?.startOfDay ?? null,
  }
  return ok({ change: putting('site', site), findings: [] })
}

const roles = z.array(z.enum(ROLES)).min(1).max(ROLES.length)
const person = z.object({ name, shortName: name, roles, releasesLoads: z.boolean().default(false) })

const addPerson = (
  _: World,
  input: z.infer<typeof person>,
  { clinicId, newId }: CommandContext,
): Decision => {
  const member: Member = { clinicId, id: newId<MemberId>(), ...input, active: true, drawsFirst: null }
  return ok({ change: putting('member', member), findings: [] })
}

const changingPerson = z.object({
  memberId: id<MemberId>(),
  name: name.optional(),
  shortName: name.optional(),
  roles: roles.optional(),
  releasesLoads: z.boolean().optional(),
  active: z.boolean().optional(),
})

/** A clinic keeps at least one manager who works there. */
function decidePerson(world: World, input: z.infer<typeof changingPerson>): Decision {
  const about = `member:${input.memberId}`
  const member = findFact(world, 'member', input.memberId)
  if (!member) return refuse({ rule: 'person/unknown', level: 'stop', about })
  const changed: Member = {
    ...member,
    name: input.name ?? member.name,
    shortName: input.shortName ?? member.shortName,
    roles: input.roles ?? member.roles,
    releasesLoads: input.releasesLoads ?? member.releasesLoads,
    active: input.active ?? member.active,
  }
  const others = world.member.filter((each) => each.id !== member.id)
  if (![...others, changed].some(isManager))
    return refuse({ rule: 'person/last-manager', level: 'stop', about })
  return ok({ change: putting('member', changed), findings: [] })
}
const isManager = (member: Member): boolean => member.active && member.roles.includes('manager')

const spacing = z.object({ measure: z.enum(SPACING_MEASURES), mm: z.number().min(0.5).max(30) })

const placing = z.object({
  grade: z.enum(EVERYDAY_GRADES),
  sequence: z.enum(SEQUENCES),
  frame: z.enum(FRAME_SIDES),
  flossCm: z.int().min(20).max(100),
  flossPath: z.enum(FLOSS_PATHS),
  lowerFrontMm: z.literal(LOWER_FRONTS_MM).nullable().default(null),
})

const picks = z.object({
  isolation: z.object({
    field: z.record(z.enum(FIELD_CLASSES), z.enum(FIELD_POLICY_IDS)),
    holeScheme: z.enum(HOLE_SCHEMES),
    anchorHole: z.enum(ANCHOR_HOLES),
    includeThirdMolar: z.enum(['never', 'distal-surface-only', 'always']),
    sheetMaterial: z.enum(SHEET_MATERIALS),
    untiedClampAllowed: z.boolean(),
    widerEnd: z.boolean().default(false),
    spacing: z
      .object({ wanted: spacing.nullable(), least: spacing, most: spacing.nullable() })
      .nullable()
      .default(null),
    placing: placing.nullable().default(null),
  }),
  anaesthesia: z.object({
    adultProfile: z.enum(LIMIT_PROFILE_IDS),
    childProfile: z.enum(LIMIT_PROFILE_IDS),
    combine: z.enum(['lower-of-two', 'fractions']),
    recheckMinutes: minutes,
    weightMonths: z.int().min(1).max(120).nullable().default(null),
    adultWeightMonths: z.int().min(1).max(240).nullable().default(null),
    notForBlocks: z.array(z.enum(AGENTS)).max(AGENTS.length).nullable().default(null),
  }),
  allergies: z.object({
    noneKnownMonths: z.int().min(0).max(240),
    latexUnknownKit: z.enum(['non-latex', 'ask-first']),
  }),
  trays: z.object({ claimQuietMinutes: minutes, layOutMinutes: minutes }),
  sterility: z.object({
    packAge: z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('event-related') }),
      z.object({ kind: z.literal('dated'), days: z.int().min(1).max(3650) }),
      z.object({ kind: z.literal('unset') }),
    ]),
    sporeFailure: z.enum(['hold', 'warn']),
  }),
  schedule: z.object({ turnoverMinutes: minutes, lateAmberMinutes: minutes, latePromptMinutes: minutes }),
  word: z.object({ liveMinutes: minutes, twoStepForStudents: z.boolean() }),
})

/** What has commands of its own stands as it stood. */
const KEPT = { help: null, clamps: null, ofDentists: null, lines: null }

function decidePolicy(world: World, input: z.infer<typeof picks>, context: CommandContext): Decision {
  const [standing] = world.policySet
  const id = standing?.id ?? context.newId<PolicySetId>()
  // The punch is measured, and how long a set takes, each by a command of its own.
  const isolation = { ...(standing?.isolation ?? DEFAULT_POLICY_SET.isolation), ...input.isolation }
  const sterility = { ...input.sterility, turnaround: standing?.sterility.turnaround ?? null }
  const policySet: PolicySet = {
    clinicId: context.clinicId,
    id,
    ...KEPT,
    ...standing,
    ...input,
    isolation,
    sterility,
  }
  return ok({ change: putting('policySet', policySet), findings: [] })
}

const nothingMore = () => ({})

export const CLINIC_COMMANDS = {
  'clinic.found': commandRule({
    kind: 'clinic.found',
    needs: 'clinic:set',
    input: founding,
    reach: nothingMore,
    decide: decideFound,
  }),
  'site.set': commandRule({
    kind: 'site.set',
    needs: 'clinic:set',
    input: siteSetting,
    reach: nothingMore,
    decide: decideSite,
  }),
  'person.add': commandRule({
    kind: 'person.add',
    needs: 'clinic:set',
    input: person,
    reach: nothingMore,
    decide: addPerson,
  }),
  'person.change': commandRule({
    kind: 'person.change',
    needs: 'clinic:set',
    input: changingPerson,
    reach: nothingMore,
    decide: decidePerson,
  }),
  'person.deactivate': commandRule({
    kind: 'person.deactivate',
    needs: 'clinic:set',
    input: z.object({ memberId: id<MemberId>() }),
    reach: nothingMore,
    decide: (world, { memberId }) => decidePerson(world, { memberId, active: false }),
  }),
  'policy.set': commandRule({
    kind: 'policy.set',
    needs: 'clinic:set',
    input: picks,
    reach: () => ({ upcoming: true as const }),
    decide: decidePolicy,
  }),
}
