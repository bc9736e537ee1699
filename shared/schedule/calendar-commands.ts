import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting, removing } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { CalendarAddressId, ImportSourceId } from '../ids.ts'
import { id } from '../inputs.ts'
import { NOTATIONS } from '../teeth/notation-names.ts'
import type { CalendarAddress, ImportSource } from './import-batch.ts'

const ADDRESS = /^(?:https?|webcal):\/\/[^\s/@]+(?:\/\S*)?$/i
const host = z
  .string()
  .trim()
  .toLowerCase()
  .regex(/^[a-z0-9.-]+$/)

const followInput = z.object({
  /** The source's name: a known one, or one that begins with this. */
  source: z.string().trim().min(1).max(120),
  notation: z.enum(NOTATIONS),
  address: z.string().trim().max(2000),
  hosts: z.array(host).max(10).default([]),
  everyMinutes: z.int().min(5).max(1440),
})

function decideFollow(
  world: World,
  input: z.infer<typeof followInput>,
  { clinicId, newId, by, now }: CommandContext,
): Decision {
  const { source: name, notation, ...rest } = input
  if (!ADDRESS.test(input.address))
    return refuse<Finding>({ rule: 'import/address-unread', level: 'stop', about: 'calendar' })
  const known = world.importSource.find((each) => each.name === name)
  const source: ImportSource = {
    ...(known ?? { clinicId, id: newId<ImportSourceId>(), name, mapping: {}, dateOrder: null }),
    notation,
  }
  const standing = world.calendarAddress.find(({ sourceId }) => sourceId === source.id)
  const followed: CalendarAddress = {
    clinicId,
    id: standing?.id ?? newId<CalendarAddressId>(),
    sourceId: source.id,
    ...rest,
    by: by.id,
    at: now,
  }
  return ok({
    change: joinChanges(putting('importSource', source), putting('calendarAddress', followed)),
    findings: [],
  })
}

const reach = () => ({ calendars: true }) as const

/** Calendars that are fetched by themselves: which hosts may be asked is the manager's to say. */
export const CALENDAR_COMMANDS = {
  'calendar.follow': commandRule({
    kind: 'calendar.follow',
    needs: 'clinic:set',
    input: followInput,
    reach,
    decide: decideFollow,
  }),
  'calendar.leave': commandRule({
    kind: 'calendar.leave',
    needs: 'clinic:set',
    input: z.object({
      calendarId: id<CalendarAddressId>(),
    }),
    reach,
    decide: (world, { calendarId }) => {
      const known = findFact(world, 'calendarAddress', calendarId)
      return ok({
        change: known ? removing('calendarAddress', known.id) : putting('calendarAddress'),
        findings: [],
      })
    },
  }),
}
