import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import type { Load } from '#shared/sterility/sterility-facts.ts'
import type { Ask, Step, Telling } from './telling.ts'
import { laterBy } from './telling.ts'

const STERILISER = 'Steam 1'
/** 132 °C for 15 minutes: the least for wrapped instruments by gravity (CDC 2008, table 7: READ), and some more. */
const READING = { deciCelsius: 1340, seconds: 960 }
const CYCLE_MINUTES = 36

export const steriliserOf = ({ world }: Telling) =>
  must(
    world.steriliser.find(({ name }) => name === STERILISER),
    'there is a steriliser',
  )
const loadOf = ({ world }: Telling, number: string): Load =>
  must(
    world.load.find((load) => load.number === number),
    `there is a load ${number}`,
  )

export const addSteriliser = ({ world }: Telling): Ask[] => [
  {
    kind: 'steriliser.add',
    input: { siteId: must(world.site[0], 'there is a site').id, name: STERILISER, type: 'gravity' },
  },
]

/** As the clinic measured it, minutes of each step: 75 together. */
export const measureTurnaround = (): Ask[] => [
  {
    kind: 'turnaround.set',
    input: { turnaround: { soak: 10, clean: 12, dry: 5, pack: 4, cycle: CYCLE_MINUTES, cool: 8 } },
  },
]

interface Cycle {
  day: Day
  time: string
  number: string
  /** How many sets go in at most. */
  takes: number
  /** With the week's spore test in it. */
  spore?: boolean
}

/** One cycle from dirty sets to sterile packs on the shelf: wrapped, run, read, released. */
export function cycle({ day, time, number, takes, spore = false }: Cycle): Step[] {
  const at = (minutes: number, asks: Step['asks']): Step => ({
    day,
    time: laterBy(time, minutes),
    by: 'zielak',
    asks,
  })
  const steriliserId = (telling: Telling) => steriliserOf(telling).id
  const loadId = (telling: Telling) => loadOf(telling, number).id
  return [
    at(0, (telling) => [
      {
        kind: 'load.start',
        input: { steriliserId: steriliserId(telling), number, programme: 'wrapped-instruments' },
      },
    ]),
    at(0, (telling) => wrap(telling, number, takes)),
    at(0, (telling) =>
      (spore ? ['chemical', 'spore'] : ['chemical']).map((kind) => ({
        kind: 'indicator.place',
        input: { steriliserId: steriliserId(telling), loadId: loadId(telling), kind },
      })),
    ),
    at(CYCLE_MINUTES, (telling) => [{ kind: 'load.end', input: { loadId: loadId(telling), ...READING } }]),
    at(CYCLE_MINUTES, (telling) => readIndicator(telling, number)),
    at(CYCLE_MINUTES + 1, (telling) => [
      { kind: 'load.release', input: { steriliserId: steriliserId(telling), loadId: loadId(telling) } },
    ]),
  ]
}

function wrap(telling: Telling, number: string, takes: number): Ask[] {
  const dirty = telling.world.instrumentSet.filter(({ place }) => place.kind === 'dirty').slice(0, takes)
  return dirty.map((set) => ({
    kind: 'pack.make',
    input: {
      steriliserId: steriliserOf(telling).id,
      loadId: loadOf(telling, number).id,
      kind: set.kind,
      setId: set.id,
      place: 'clean side, shelf 1',
    },
  }))
}

function readIndicator(telling: Telling, number: string): Ask[] {
  const { id } = loadOf(telling, number)
  const indicator = must(
    telling.world.indicator.find((each) => each.loadId === id && each.kind === 'chemical'),
    `load ${number} has its indicator`,
  )
  return [
    {
      kind: 'indicator.read',
      input: { steriliserId: indicator.steriliserId, indicatorId: indicator.id, result: 'pass' },
    },
  ]
}

/** Spore tests that were grown overnight are negative: no growth, and the control grew. */
export const readSpores = (day: Day, time: string): Step => ({
  day,
  time,
  by: 'zielak',
  asks: ({ world }) =>
    world.indicator
      .filter(({ kind, life }) => kind === 'spore' && life.kind === 'pending')
      .map(({ id, steriliserId }) => ({
        kind: 'indicator.read',
        input: { steriliserId, indicatorId: id, result: 'pass' },
      })),
})
