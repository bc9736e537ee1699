import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { closureOf, filesUnder, type Import, importsOf, ROOT, textOf } from './tree.ts'

const SHARED = filesUnder('shared')
const told = (from: string, { to }: Import): string => `${from} → ${to}`
const ours = (path: string): Import[] => importsOf(path).filter((each) => each.ours)

/** Faults among the imports of files: those the rule does not allow. */
const faults = (files: readonly string[], allows: (to: Import, from: string) => boolean): string[] =>
  files.flatMap((from) =>
    importsOf(from)
      .filter((each) => !allows(each, from))
      .map((each) => told(from, each)),
  )

describe('imports run one way', () => {
  test('shared opens itself alone, and three small packages in their one place', () => {
    const where: Record<string, RegExp> = {
      zod: /commands\.ts$|^shared\/(command|inputs|schedule\/incoming)\.ts$/,
      'temporal-polyfill': /^shared\/schedule\/local-time\.ts$/,
      '@noble/hashes/sha2.js': /^shared\/base\/digest\.ts$/,
      '@noble/hashes/utils.js': /^shared\/base\/digest\.ts$/,
      canonicalize: /^shared\/base\/canonical\.ts$/,
    }
    expect(
      faults(SHARED, ({ to, ours, typeOnly }, from) =>
        ours ? to.startsWith('shared/') : typeOnly || (where[to]?.test(from) ?? false),
      ),
    ).toEqual([])
  })

  test('app opens shared, itself and the server’s trpc only', () => {
    expect(
      faults(
        filesUnder('app'),
        ({ to, ours }) => !ours || /^(app|shared)\//.test(to) || to.startsWith('server/trpc/'),
      ),
    ).toEqual([])
  })

  test('db knows the facts, not the rules', () => {
    expect(faults(filesUnder('db'), ({ to, ours }) => !ours || /^(db|shared)\//.test(to))).toEqual([])
  })

  test('server opens neither screens nor tests', () => {
    expect(faults(filesUnder('server'), ({ to, ours }) => !ours || !/^(app|tests)\//.test(to))).toEqual([])
  })

  test('the seed opens neither screens, tables nor tests', () => {
    expect(faults(filesUnder('seed'), ({ to, ours }) => !ours || !/^(app|db|tests)\//.test(to))).toEqual([])
  })

  test('nothing outside tests opens a test', () => {
    const files = ['app', 'server', 'db', 'shared', 'seed'].flatMap((folder) => filesUnder(folder))
    expect(faults(files, ({ to }) => !to.startsWith('tests/'))).toEqual([])
  })
})

const FACT_FILES = new Set(
  [
    'teeth/tooth',
    'teeth/mouth-chart',
    'teeth/notation-names',
    'people/clinic',
    'people/patient',
    'people/policy-set',
    'people/role',
    'procedures/work',
    'isolation/isolation-facts',
    'isolation/guide-facts',
    'anaesthesia/anaesthetic',
    'allergies/allergy-record',
    'trays/tray',
    'sterility/sterility-facts',
    'schedule/appointment',
    'schedule/import-batch',
  ].map((name) => `shared/${name}.ts`),
)

/** Inside shared a file opens only what stands on its own rung or below. */
const RUNGS: readonly { rung: string; holds: (path: string) => boolean }[] = [
  { rung: 'base', holds: (path) => path.startsWith('shared/base/') },
  { rung: 'facts of the areas', holds: (path) => FACT_FILES.has(path) || path === 'shared/ids.ts' },
  { rung: 'facts, change, window', holds: (path) => /^shared\/(facts|change|window)\.ts$/.test(path) },
  { rung: 'words', holds: (path) => path.startsWith('shared/words/') },
  { rung: 'decide', holds: (path) => /^shared\/(decide|consequences|answer)\.ts$/.test(path) },
  { rung: 'all commands', holds: (path) => path === 'shared/commands.ts' },
  {
    rung: 'commands of the areas',
    holds: (path) => /^shared\/[a-z]+\/([a-z-]*commands|decide|undo)\.ts$/.test(path),
  },
  { rung: 'command', holds: (path) => /^shared\/(command|inputs)\.ts$/.test(path) },
  { rung: 'readiness', holds: (path) => /^shared\/(readiness\/|finding\.ts|rules\.ts)/.test(path) },
  {
    rung: 'isolation to schedule',
    holds: (path) => /^shared\/(isolation|anaesthesia|allergies|trays|sterility|schedule)\//.test(path),
  },
  {
    rung: 'teeth, people, procedures',
    holds: (path) => /^shared\/(teeth|people|procedures|journal)\//.test(path),
  },
]
const BOTTOM_UP = [
  'base',
  'facts of the areas',
  'facts, change, window',
  'teeth, people, procedures',
  'isolation to schedule',
  'readiness',
  'command',
  'commands of the areas',
  'all commands',
  'decide',
  'words',
]
const rungOf = (path: string): string | undefined => RUNGS.find(({ holds }) => holds(path))?.rung
const heightOf = (path: string): number => BOTTOM_UP.indexOf(rungOf(path) ?? '')

describe('the ladder inside shared', () => {
  test('every file stands on a rung', () => {
    expect(SHARED.filter((path) => heightOf(path) < 0)).toEqual([])
  })

  test('no file opens what stands above it', () => {
    const climbing = SHARED.flatMap((from) =>
      ours(from)
        .filter(({ to }) => to.startsWith('shared/') && heightOf(to) > heightOf(from))
        .map((each) => `${told(from, each)}  (${rungOf(from)} opens ${rungOf(each.to)})`),
    )
    expect(climbing).toEqual([])
  })

  test('every import of ours names a file that is there', () => {
    const files = ['app', 'server', 'db', 'shared', 'seed', 'tests'].flatMap((folder) => filesUnder(folder))
    const lost = files.flatMap((from) =>
      ours(from)
        .filter(({ to }) => !to.startsWith('.next') && !existsSync(join(ROOT, to)))
        .map((each) => told(from, each)),
    )
    expect(lost).toEqual([])
  })
})

describe('no file opens itself by a detour', () => {
  test('when it runs: code would run before what it needs', () => {
    const files = ['app', 'server', 'db', 'shared', 'seed'].flatMap((folder) => filesUnder(folder))
    expect(findCycles(files, ({ typeOnly }) => !typeOnly)).toEqual([])
  })

  test('nor by its types, among the screens: what two files need stands in a third', () => {
    expect(findCycles(filesUnder('app'), ({ to }) => to.startsWith('app/'))).toEqual([])
  })
})

/** Circles of files that open each other by the imports that count. */
function findCycles(files: readonly string[], counts: (each: Import) => boolean): string[] {
  const done = new Set<string>()
  const found: string[] = []
  const visit = (file: string, path: readonly string[]): void => {
    const at = path.indexOf(file)
    if (at >= 0) {
      found.push([...path.slice(at), file].join(' → '))
      return
    }
    if (done.has(file) || !/\.tsx?$/.test(file) || !existsSync(join(ROOT, file))) return
    for (const each of ours(file)) if (counts(each)) visit(each.to, [...path, file])
    done.add(file)
  }
  for (const file of files) visit(file, [])
  return found
}

describe('shared is pure', () => {
  test('it reads no clock and no chance, and touches no machine', () => {
    const impure =
      /Date\.now\(|new Date\(\)|Math\.random|crypto\.|process\.(?:env|argv|exit|hrtime|on|cwd|stdout)|performance\.now|setTimeout|fetch\(/
    expect(SHARED.filter((path) => impure.test(withoutComments(textOf(path))))).toEqual([])
  })

  test('no type is silenced', () => {
    const silenced = /\bas any\b|: any\b|<any>|@ts-ignore|@ts-expect-error|@ts-nocheck/
    const files = ['app', 'server', 'db', 'shared', 'seed'].flatMap((folder) => filesUnder(folder))
    expect(files.filter((path) => silenced.test(withoutComments(textOf(path))))).toEqual([])
  })
})

const withoutComments = (text: string): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '')

describe('the board in the browser stays light', () => {
  const HEAVY = /^(zod|temporal-polyfill|rrule|ical\.js|papaparse|@cantoo|highs|drizzle|postgres)/
  test.each(['shared/readiness/board.ts', 'shared/readiness/readiness.ts'])(
    '%s binds no zod, no Temporal and no planner',
    (entry) => {
      const { files, packages } = closureOf(entry)
      expect([...packages].filter(([name]) => HEAVY.test(name))).toEqual([])
      expect(
        [...files].filter((file) => /isolation\/(plan|plan-for|sheet|arch|steps)\.ts$/.test(file)),
      ).toEqual([])
      expect([...files].filter((file) => file.endsWith('commands.ts'))).toEqual([])
    },
  )

  test('no screen of the board binds them either', () => {
    const heavy = filesUnder('app/board/_parts').flatMap((entry) => {
      const { files, packages } = closureOf(entry)
      return [
        ...[...packages]
          .filter(([name]) => HEAVY.test(name))
          .map(([name, by]) => `${entry}: ${name} by ${by}`),
        ...[...files]
          .filter((file) => /isolation\/(plan|plan-for)\.ts$/.test(file))
          .map((file) => `${entry}: ${file}`),
      ]
    })
    expect(heavy).toEqual([])
  })
})
