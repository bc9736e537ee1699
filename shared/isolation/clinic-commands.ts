import { z } from 'zod'
import { must } from '../base/assert.ts'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import { type MemberId, parseId } from '../ids.ts'
import { FIELD_CLASSES, type PolicySet } from '../people/policy-set.ts'
import { can } from '../people/role.ts'
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

const dentistPicks = z.object({
  dentistId: z.custom<MemberId>((value) => typeof value === 'string' && parseId(value) !== null, 'not an id'),
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
    decide: (world, { clamps }) => change(world, { clamps }),
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
