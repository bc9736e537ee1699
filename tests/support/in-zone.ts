import { NOON } from './zone.ts'

/** Stands in front of every file of a project with a zone: one that did not take would prove nothing. */
const { TZ = '' } = process.env
const { timeZone } = Intl.DateTimeFormat().resolvedOptions()
const noon = new Date(2026, 0, 15, 12).toISOString()
if (timeZone !== TZ || noon !== NOON[TZ])
  throw new Error(`This was to run in ${TZ}, and runs in ${timeZone} where noon is ${noon}.`)
