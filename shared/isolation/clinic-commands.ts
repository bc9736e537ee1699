import { z } from 'zod'
import { must } from '../base/assert.ts'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { MemberId } from '../ids.ts'
import { id } from '../inputs.ts'
import { FIELD_CLASSES, type PolicySet } from '../people/policy-set.ts'
import { can } from '../people/role.ts'
import { judgePunch } from './holes.ts'
import { CLAMP_FAMILIES, FIELD_POLICY_IDS, STOCK_TEETH } from './isolation-facts.ts'

const change = (world: World, part: Partial<PolicySet>): Decision =>
  ok({
    change: putting('policySet', { ...must(world.policySet[0], 'a clinic has its picks'), ...part }),
    findings: [],
  })

const stock = z.object({
  clamps: z
    .array(
      z.object({
        mark: z.string().trim().min(1).max(40),
        family: z.enum(CLAMP_FAMILIES),
        teeth: z.array(z.enum(STOCK_TEETH)).min(1),
        jaw: z.enum(['upper', 'lower', 'either']),
        metal: z.boolean(),
        count: z.int().min(0).max(999),
      }),
    )
    .max(200)
    .nullable(),
})

/** A list that comes anew keeps when each mark was last looked at. */
function decideStock(world: World, { clamps }: z.infer<typeof stock>): Decision {
  const stood = world.policySet[0]?.clamps ?? []
  const lookedAt = (mark: string) => stood.find((clamp) => clamp.mark === mark)?.looked ?? null
  return change(world, {
    clamps: clamps?.map((clamp) => ({ ...clamp, looked: lookedAt(clamp.mark) })) ?? null,
  })
}

function decideLooked(world: World, { mark }: { mark: string }, { by, now }: CommandContext): Decision {
  const clamps = world.policySet[0]?.clamps ?? []
  if (!clamps.some((clamp) => clamp.mark === mark)) {
    return refuse({ rule: 'clamp/not-listed', level: 'stop', about: 'clamps', mark })
  }
  const looked = { by: by.id, at: now }
  return change(world, {
    clamps: clamps.map((clamp) => (clamp.mark === mark ? { ...clamp, looked } : clamp)),
  })
}

const punch = z.object({
  /** Diameter of each size, size 1 first. */
  plateMicrometres: z.array(z.int().min(100).max(10_000)).min(1).max(12),
  /** Null: nobody has measured it. */
  lengthMm: z.number().min(50).max(400).nullable(),
  /** Said by whoever sets it where a figure lies outside the standard. */
  measured: z.boolean(),
})

/** A figure outside the standard is asked for once more; said to be measured, it is taken and told. */
function decidePunch(world: World, input: z.infer<typeof punch>): Decision {
  const { plateMicrometres, lengthMm, measured } = input
  const outside = judgePunch({ plateMicrometres, lengthMm })
  if (outside.length > 0 && !measured) {
    return refuse(
      ...outside.map((note) => ({ ...note, rule: 'punch/not-measured' as const, level: 'stop' as const })),
    )
  }
  const policy = must(world.policySet[0], 'a clinic has its picks')
  const isolation = { ...policy.isolation, plateMicrometres, punchLengthMm: lengthMm }
  return ok({ change: putting('policySet', { ...policy, isolation }), findings: outside })
}

const dentistPicks = z.object({
  dentistId: id<MemberId>(),
  /** Classes left out follow the clinic; none named takes the dentist's own picks back. */
  field: z.partialRecord(z.enum(FIELD_CLASSES), z.enum(FIELD_POLICY_IDS)),
})

function decidePicks(
  world: World,
  { dentistId, field }: z.infer<typeof dentistPicks>,
  _context: CommandContext,
): Decision {
  const member = findFact(world, 'member', dentistId)
  if (!member || !can(member.roles, 'word:give')) {
    return refuse({ rule: 'policy/not-a-dentist', level: 'stop', about: `member:${dentistId}` })
  }
  const others = (world.policySet[0]?.ofDentists ?? []).filter((each) => each.dentistId !== dentistId)
  const own = Object.keys(field).length === 0 ? [] : [{ dentistId, field }]
  return change(world, { ofDentists: [...others, ...own] })
}

export const ISOLATION_CLINIC_COMMANDS = {
  /** The clinic's own clamps, as a whole list; null: none is listed, and none is ranked. */
  'clamps.list': commandRule({
    kind: 'clamps.list',
    needs: 'clinic:set',
    input: stock,
    reach: () => ({}),
    decide: decideStock,
  }),
  /** No rust, crack or bend was seen on the clamps of this mark. */
  'clamp.looked-at': commandRule({
    kind: 'clamp.looked-at',
    needs: 'stock:count',
    input: z.object({ mark: z.string().min(1).max(40) }),
    reach: () => ({}),
    decide: decideLooked,
  }),
  /** The clinic's own punch: what its sizes cut, held against ISO 16635-1. */
  'punch.set': commandRule({
    kind: 'punch.set',
    needs: 'clinic:set',
    input: punch,
    reach: () => ({ upcoming: true as const }),
    decide: decidePunch,
  }),
  /** A dentist's own field policies where they differ from the clinic's; plans still to come follow. */
  'policy.of-dentist': commandRule({
    kind: 'policy.of-dentist',
    needs: 'clinic:set',
    input: dentistPicks,
    reach: () => ({ upcoming: true as const }),
    decide: decidePicks,
  }),
}
