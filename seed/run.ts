import { must } from '#shared/base/assert.ts'
import { digestOfText } from '#shared/base/digest.ts'
import { applyChange, type Change } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import { decide, findCommandRule } from '#shared/decide.ts'
import { emptyWorld, findFact, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { DAY, DEMO_MOMENT } from './acts.ts'
import { FOUNDER, PEOPLE } from './people.ts'
import { SETUP } from './setup.ts'
import {
  inOrder,
  localDayOf,
  momentOf,
  type Perform,
  type Step,
  startTelling,
  type Telling,
  type Told,
  tell,
} from './telling.ts'

/** The whole story in order: the day before, and the day itself. */
export const STORY: readonly Step[] = inOrder([...SETUP, ...DAY])
const isSeed = (step: Step): boolean => momentOf(step.day, step.time) <= DEMO_MOMENT

/** What stands when the demo clock starts. */
export const SEED: readonly Step[] = STORY.filter(isSeed)
/** The rest of the day as timed steps: played, it is a normal day. */
export const dayScript: readonly Step[] = STORY.filter((step) => !isSeed(step))

/** Fills an empty clinic with the invented one, command by command, each at its own moment. Gives the story so far. */
export async function seedInventedClinic(perform: Perform, founder: MemberId): Promise<Telling> {
  const telling = startTelling(founder)
  for (const step of SEED) await tell(telling, step, perform)
  return telling
}

/** A version 8 UUID (RFC 9562: custom) of a text: the same text, the same id. */
export function idOf(text: string): string {
  const hex = digestOfText(text)
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`
}

export const INVENTED_CLINIC = idOf('invented clinic') as ClinicId
export const INVENTED_FOUNDER = idOf('invented founder') as MemberId

const founder: Member = {
  clinicId: INVENTED_CLINIC,
  id: INVENTED_FOUNDER,
  ...PEOPLE[FOUNDER],
  roles: [...PEOPLE[FOUNDER].roles],
  active: true,
  releasesLoads: false,
  drawsFirst: null,
}

/** Performs in memory alone, by the same rules, with ids that are the same every time. */
export function performInMemory(): Perform & { world: () => World } {
  let world = emptyWorld()
  let made = 0
  const perform = async (told: Told): Promise<Change> => {
    const decision = decideTold(world, told, () => idOf(`invented ${made++}`))
    if (!decision.ok) throw new Error(refusalOf(told, decision.reasons))
    world = applyChange(world, decision.value.change)
    return decision.value.change
  }
  return Object.assign(perform, { world: () => world })
}

const refusalOf = ({ kind, input }: Told, reasons: readonly Finding[]): string =>
  `The story broke a rule: ${kind} ${JSON.stringify(input)}: ${JSON.stringify(reasons)}`

/** What comes of a told command in a world, in memory. */
export function decideTold(world: World, told: Told, newId: () => string): Decision {
  const rule = must(findCommandRule(told.kind), `there is a command ${told.kind}`)
  return decide(
    world,
    { kind: told.kind, input: rule.input.parse(told.input) },
    {
      clinicId: INVENTED_CLINIC,
      now: told.at,
      today: localDayOf(told.at),
      by: findFact(world, 'member', told.by) ?? founder,
      station: told.station,
      newId: <Id>() => newId() as Id,
      journal: null,
    },
  )
}
