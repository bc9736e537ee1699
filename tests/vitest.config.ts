import { defineConfig } from 'vitest/config'

const DATA = [
  'tests/db/**/*.test.ts',
  'tests/server/{commands,exchange,realtime,trpc,sign-in}/**/*.test.ts',
  'tests/seed/**/*.test.ts',
  // How long the event loop is held up tells nothing while others want the same cores.
  'tests/server/imports/preview.test.ts',
]
const HOUSE = ['tests/house/**/*.test.ts']

/** What reads, writes, compares or says a time: the same in whatever zone the machine stands. */
const ZONED = [
  'tests/cases/**/*.test.ts',
  'tests/server/{imports,exports}/**/*.test.ts',
  'tests/shared/{base,schedule,readiness}/**/*.test.ts',
  'tests/shared/anaesthesia/{commands,numbness}.test.ts',
  'tests/shared/sterility/{commands,pack,recall,spore-test}.test.ts',
  'tests/shared/teeth/mouth.test.ts',
  'tests/app/{live,offers,plan-parts,shown,time-words}.test.ts',
]
const ZONED_DATA = ['tests/server/exchange/**/*.test.ts']
/** Nothing in them is a time, or they start processes in all zones themselves. */
const UNZONED = [
  'tests/server/exports/{label-sheet,labels,punch-template,tray-card}.test.ts',
  'tests/server/imports/{fhir-validators,preview}.test.ts',
  'tests/shared/readiness/{consequences,kept}.test.ts',
]
const ZONES = ['America/New_York', 'Asia/Tokyo', 'Australia/Lord_Howe']
/** Left to itself the runner keeps one core free: of two that is half. */
const PURE = { maxWorkers: '100%' }
/** Tests that share a server run one after the other, when the others are through. */
const ON_SERVER = {
  globalSetup: 'tests/support/postgres-setup.ts',
  testTimeout: 120_000,
  hookTimeout: 120_000,
  maxWorkers: 1,
  sequence: { groupOrder: 1 },
}
/** Fuzzed inputs and generated days are tried whole in UTC, and a fiftieth of them in each further zone. */
const inZone = (TZ: string) => ({
  env: { TZ, WEIRBOARD_SHARE: '0.02' },
  setupFiles: ['tests/support/in-zone.ts'],
})

/**
 * `core` needs nothing, `data` a private PostgreSQL, `house` reads the tree itself. They stand in UTC; `zone …` and
 * `zone data` are the same tests again where the machine's own zone could tell.
 */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    env: { TZ: 'UTC' },
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: [...DATA, ...HOUSE, '**/node_modules/**'],
          testTimeout: 30_000,
          ...PURE,
        },
      },
      {
        extends: true,
        test: {
          name: 'data',
          include: DATA,
          ...ON_SERVER,
        },
      },
      { extends: true, test: { name: 'house', include: HOUSE, testTimeout: 60_000, ...PURE } },
      ...ZONES.map((zone) => ({
        extends: true as const,
        test: {
          name: `zone ${zone}`,
          include: ZONED,
          exclude: [...UNZONED, '**/node_modules/**'],
          testTimeout: 30_000,
          ...PURE,
          ...inZone(zone),
        },
      })),
      {
        extends: true,
        test: {
          name: 'zone data',
          include: ZONED_DATA,
          ...ON_SERVER,
          ...inZone('Australia/Lord_Howe'),
        },
      },
    ],
  },
})
