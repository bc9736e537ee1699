import { dayOf, type Zone } from '../base/moment.ts'
import { refuse } from '../base/result.ts'
import type { Change } from '../change.ts'
import type { CommandContext, Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { LoadId, PackId, SteriliserId } from '../ids.ts'
import type { Load, Pack, Steriliser } from './sterility-facts.ts'

/** What a command of this area is decided on. */
export interface Bench {
  world: World
  context: CommandContext
}

export const done = (change: Change, findings: Finding[] = []): Decision => ({
  ok: true,
  value: { change, findings },
})

export function onSteriliser(
  { world }: Bench,
  id: SteriliserId,
  decide: (steriliser: Steriliser) => Decision,
): Decision {
  const steriliser = findFact(world, 'steriliser', id)
  return steriliser
    ? decide(steriliser)
    : refuse({ rule: 'steriliser/not-found', level: 'stop', about: `steriliser:${id}`, id })
}

export function onLoad({ world }: Bench, id: LoadId, decide: (load: Load) => Decision): Decision {
  const load = findFact(world, 'load', id)
  return load ? decide(load) : refuse({ rule: 'load/not-found', level: 'stop', about: `load:${id}`, id })
}

export function onPack({ world }: Bench, id: PackId, decide: (pack: Pack) => Decision): Decision {
  const pack = findFact(world, 'pack', id)
  return pack ? decide(pack) : refuse({ rule: 'pack/not-found', level: 'stop', about: `pack:${id}`, id })
}

export const loadNotNow = (load: Load): Decision =>
  refuse({
    rule: 'load/not-now',
    level: 'stop',
    about: `load:${load.id}`,
    load: load.number,
    state: load.life.kind,
  })

/** Releasing takes a person who is trained and named for it, whatever their role. */
export const asReleaser = ({ context }: Bench, decide: () => Decision): Decision =>
  context.by.releasesLoads
    ? decide()
    : refuse({
        rule: 'load/releaser-not-named',
        level: 'stop',
        about: `member:${context.by.id}`,
        by: context.by.id,
      })

export const zoneOf = ({ world }: Bench, steriliser: Steriliser): Zone | null =>
  findFact(world, 'site', steriliser.siteId)?.zone ?? null

export const dayAt = (bench: Bench, steriliser: Steriliser) => {
  const zone = zoneOf(bench, steriliser)
  return zone === null ? bench.context.today : dayOf(bench.context.now, zone)
}
