import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { type Browser, chromium } from '@playwright/test'
import { build } from 'esbuild'
import { ROOT } from './processes.ts'

/** The one named, else the system's, else the test library's own. */
const CHROMIUM = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/google-chrome'].find(
  (path) => path && existsSync(path),
)

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    ...(CHROMIUM ? { executablePath: CHROMIUM } : {}),
    args: ['--no-sandbox', '--disable-gpu'],
  })

/** A file of this folder as a script that a page can run. */
export async function scriptOf(file: string): Promise<string> {
  const built = await build({
    entryPoints: [join(ROOT, 'tests/bench', file)],
    bundle: true,
    minify: true,
    write: false,
    format: 'iife',
    target: 'es2022',
  })
  return built.outputFiles[0]?.text ?? ''
}
