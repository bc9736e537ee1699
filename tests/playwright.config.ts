import { defineConfig } from '@playwright/test'

/** Flags that keep the browser quiet without a network. */
const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** Browser stories against the production build, each on a clinic of its own. */
export default defineConfig({
  testDir: './screens',
  globalSetup: './screens/seeded.ts',
  outputDir: '../.tests/screens',
  fullyParallel: false,
  workers: 1,
  timeout: 90_000,
  expect: { timeout: 10_000 },
  reporter: [['list'], ['json', { outputFile: '../.tests/screens.json' }]],
  use: {
    actionTimeout: 10_000,
    viewport: { width: 1280, height: 900 },
    trace: 'retain-on-failure',
    launchOptions: {
      args: QUIET,
      ...(process.env.CHROMIUM ? { executablePath: process.env.CHROMIUM } : {}),
    },
  },
})
