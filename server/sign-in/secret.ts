import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Environment } from '../environment.ts'

/** What signs the sign-in cookies: the setting, else one made once and kept in the data folder for its user alone. */
export function keepSecret({ SIGN_IN_SECRET, DATA_FOLDER }: Environment): string {
  if (SIGN_IN_SECRET) return SIGN_IN_SECRET
  const file = join(DATA_FOLDER, 'sign-in-secret')
  if (existsSync(file)) return readFileSync(file, 'utf8').trim()
  mkdirSync(DATA_FOLDER, { recursive: true, mode: 0o700 })
  const secret = randomBytes(32).toString('hex')
  writeFileSync(file, secret, { mode: 0o600 })
  return secret
}
