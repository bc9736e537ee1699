import { defineConfig } from 'vitest/config'

const DATA = [
  'tests/db/**/*.test.ts',
  'tests/server/{commands,exchange,realtime,trpc,sign-in}/**/*.test.ts',
  'tests/seed/**/*.test.ts',
]
const HOUSE = ['tests/house/**/*.test.ts']

/** `core` needs nothing, `data` a private PostgreSQL, `house` reads the tree itself. */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: [...DATA, ...HOUSE, '**/node_modules/**'],
          testTimeout: 30_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'data',
          include: DATA,
          globalSetup: 'tests/support/postgres-setup.ts',
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: 1,
        },
      },
      { extends: true, test: { name: 'house', include: HOUSE, testTimeout: 60_000 } },
    ],
  },
})
