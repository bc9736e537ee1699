import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { ImportSourceId, MemberId, OperatoryId } from '../ids.ts'
import { NOTATIONS } from '../teeth/notation-names.ts'
import { type ImportSource, NAMED, nameKey } from './import-batch.ts'
import { findUnknown } from './placing.ts'

const uuid = <Id>() => z.uuid().transform((text) => text.toLowerCase() as Id)
const short = z.string().max(500)

const mapping = z.object({
  /** Null for the one of this name, or for one that has not brought a file yet. */
  sourceId: uuid<ImportSourceId>().nullable(),
  sourceName: z.string().trim().min(1).max(120).optional(),
  columns: z.record(short, short).default({}),
  /** What the source's names mean here; null forgets one. */
  names: z
    .array(z.object({ kind: z.enum(NAMED), name: short.min(1), id: uuid<string>().nullable() }))
    .max(200)
    .default([]),
  notation: z.enum(NOTATIONS).optional(),
  dateOrder: z.enum(['ymd', 'dmy', 'mdy']).nullable().optional(),
})
type Mapping = z.infer<typeof mapping>

function decideMap(world: World, input: Mapping, { clinicId, newId }: CommandContext): Decision {
  const source = findSource(world, input) ?? newSource(input, { clinicId, newId })
  const about = `source:${input.sourceId ?? input.sourceName ?? ''}`
  if (source === null) return refuse<Finding>({ rule: 'import/problem-unknown', level: 'stop', about })
  const unknown = input.names.flatMap((named) => findWrong(world, named, about))
  if (unknown.length > 0) return refuse(...unknown)
  const learned = { ...source.mapping, ...input.columns }
  for (const { kind, name, id } of input.names) {
    if (id === null) delete learned[nameKey(kind, name)]
    else learned[nameKey(kind, name)] = id
  }
  return ok({
    change: putting('importSource', {
      ...source,
      mapping: learned,
      notation: input.notation ?? source.notation,
      dateOrder: input.dateOrder === undefined ? source.dateOrder : input.dateOrder,
    }),
    findings: [],
  })
}

const findSource = (world: World, { sourceId, sourceName }: Mapping): ImportSource | undefined =>
  sourceId === null
    ? world.importSource.find(({ name }) => name === sourceName)
    : findFact(world, 'importSource', sourceId)

function newSource(
  { sourceId, sourceName }: Mapping,
  { clinicId, newId }: Pick<CommandContext, 'clinicId' | 'newId'>,
): ImportSource | null {
  if (sourceId !== null || sourceName === undefined) return null
  const id = newId<ImportSourceId>()
  return { clinicId, id, name: sourceName, notation: 'ask', mapping: {}, dateOrder: null }
}

/** A name means an operatory that is in use, or somebody who works here and may treat. */
function findWrong(world: World, { kind, name, id }: Mapping['names'][number], about: string): Finding[] {
  if (id === null) return []
  if (!findFact(world, kind === 'operatory' ? 'operatory' : 'member', id)) {
    return [{ rule: 'import/name-unknown', level: 'stop', about, name }]
  }
  return findUnknown(
    world,
    kind === 'operatory' ? { operatoryId: id as OperatoryId } : { dentistId: id as MemberId },
  )
}

/** What a source's columns and names mean, remembered for its next file. */
export const NAME_COMMANDS = {
  'import.map': commandRule({
    kind: 'import.map',
    needs: 'day:import',
    input: mapping,
    reach: ({ sourceId }) =>
      sourceId === null ? { sources: true } : { source: { id: sourceId, externalIds: [] } },
    decide: decideMap,
  }),
}
