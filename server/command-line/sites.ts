import type { Site } from '#shared/people/clinic.ts'

/** The sites that are asked about: the one named by `--site`, by its name or id, else all; a sentence where there is none. */
export function sitesAsked(sites: readonly Site[], asked: string | undefined): Site[] | string {
  if (sites.length === 0) return 'This clinic has no site yet. Add one in the settings.'
  if (asked === undefined) return [...sites]
  const named = sites.filter(({ id, name }) => id === asked || name.toLowerCase() === asked.toLowerCase())
  const [one] = named
  if (!one) {
    const names = sites.map(({ name }) => name).join(', ')
    return `No site is called ${asked}, so nothing was looked up. Name one of: ${names}.`
  }
  return named.length === 1
    ? named
    : `${named.length} sites are called ${asked}, and the wrong one would mislead. Give its id.`
}
