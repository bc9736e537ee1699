import { encode } from 'uqr'
import { dayOf } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { LoadId, PackId } from '#shared/ids.ts'
import type { Load, PackKind } from '#shared/sterility/sterility-facts.ts'

/** A square code as one path: a module is one unit of length, its quiet zone of four modules counted in. */
export interface CodePicture {
  /** Modules along one side, quiet zone on both sides counted in. */
  size: number
  /** SVG path data: the dark modules, in runs along each row. */
  path: string
}

/** ISO/IEC 18004: four light modules around the symbol (COMMON). */
const QUIET = 4

/**
 * The code of a pack as a QR symbol (ISO/IEC 18004). It holds the opaque code alone: no patient, no date, no load.
 * Error correction Q: a quarter of a wrinkled or wetted label may be lost.
 */
export function makeCodePicture(code: string): CodePicture {
  const { size, runs } = makeCodeRuns(code)
  return { size, path: runs.map(({ x, y, length }) => `M${x} ${y}h${length}v1h-${length}z`).join('') }
}

/** Dark modules beside each other in one row. */
export interface CodeRun {
  x: number
  y: number
  length: number
}

/** The same as runs of dark modules, for a printer's ink. */
export function makeCodeRuns(code: string): { size: number; runs: CodeRun[] } {
  const { size, data } = encode(code, { ecc: 'Q', border: QUIET })
  return { size, runs: data.flatMap(runsOf) }
}

function runsOf(row: readonly boolean[], y: number): CodeRun[] {
  const runs: CodeRun[] = []
  for (let x = 0; x < row.length; x++) {
    if (!row[x]) continue
    const from = x
    while (row[x + 1]) x++
    runs.push({ x: from, y, length: x + 1 - from })
  }
  return runs
}

/** What a label says: the code as picture and letters, and what a person looks for on a shelf. */
export interface PackLabel {
  packId: PackId
  code: string
  picture: CodePicture
  kind: PackKind
  /** The mark of the set that is wrapped in it; null where none is recorded. */
  mark: string | null
  load: string
  steriliser: string
  /** The day it was sterilised; before the release the day its load began. */
  day: string
}

/** Labels of a load's packs that are not used up, in order of their codes; none of a failed load: nothing of it is sterile. */
export function labelsOf(world: World, loadId: LoadId): PackLabel[] {
  const load = findFact(world, 'load', loadId)
  if (!load || load.life.kind === 'failed') return []
  return world.pack
    .filter((pack) => pack.loadId === loadId && (pack.life.kind === 'shelf' || pack.life.kind === 'reserved'))
    .sort((a, b) => (a.code < b.code ? -1 : 1))
    .map(({ id, code, kind, setId, sterilised }) => ({
      packId: id,
      code,
      picture: makeCodePicture(code),
      kind,
      mark: findFact(world, 'instrumentSet', setId)?.mark ?? null,
      load: load.number,
      steriliser: findFact(world, 'steriliser', load.steriliserId)?.name ?? '',
      day: sterilised ?? beganOn(world, load),
    }))
}

function beganOn(world: World, load: Load): string {
  const steriliser = findFact(world, 'steriliser', load.steriliserId)
  const site = findFact(world, 'site', steriliser?.siteId ?? null)
  return site ? dayOf(load.started, site.zone) : ''
}
