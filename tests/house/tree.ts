import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize, relative } from 'node:path'

/** The house as a house test reads it: its own files, and who imports whom. */
export const ROOT = new URL('../..', import.meta.url).pathname

const SKIPPED = new Set(['node_modules', '.git', '.next', '.data', '.tests', '.ci', 'fixtures', 'migrations'])

export function filesUnder(folder: string, ends: readonly string[] = ['.ts', '.tsx']): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) return SKIPPED.has(entry.name) ? [] : filesUnder(path, ends)
    return ends.some((end) => entry.name.endsWith(end)) ? [path] : []
  })
}

export const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8')

export interface Import {
  /** A path from the root for our own files, the specifier for a package. */
  to: string
  ours: boolean
  /** Erased when compiled: it binds no code. */
  typeOnly: boolean
}

const IMPORT = /^\s*(import|export)\s+(type\s+)?(?:[^'"();]*?\sfrom\s+)?'([^']+)'/gm
const DYNAMIC = /\bimport\('([^']+)'\)/g

/** Every import and re-export of a file, static and dynamic. */
export function importsOf(path: string): Import[] {
  const text = textOf(path)
  return [
    ...[...text.matchAll(IMPORT)].map(([, , type, to = '']) =>
      importOf(path, { to, typeOnly: type !== undefined }),
    ),
    ...[...text.matchAll(DYNAMIC)].map(([, to = '']) => importOf(path, { to, typeOnly: false })),
  ]
}

function importOf(from: string, { to, typeOnly }: { to: string; typeOnly: boolean }): Import {
  if (to.startsWith('#')) return { to: to.slice(1), ours: true, typeOnly }
  if (!to.startsWith('.')) return { to, ours: false, typeOnly }
  return { to: relative(ROOT, normalize(join(ROOT, dirname(from), to))), ours: true, typeOnly }
}

/** Everything a file binds when it runs: our files and packages, through value imports alone. */
export function closureOf(path: string): { files: Set<string>; packages: Map<string, string> } {
  const files = new Set<string>()
  const packages = new Map<string, string>()
  const visit = (file: string): void => {
    if (files.has(file)) return
    files.add(file)
    if (!/\.tsx?$/.test(file) || !existsSync(join(ROOT, file))) return
    for (const { to, ours, typeOnly } of importsOf(file)) {
      if (typeOnly) continue
      if (ours) visit(to)
      else packages.set(to, file)
    }
  }
  visit(path)
  return { files, packages }
}
