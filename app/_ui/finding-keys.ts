import type { Finding } from '#shared/finding.ts'

/** What a finding is and what it is about: the same through every change of its details. */
export const matterOf = ({ rule, about }: Pick<Finding, 'rule' | 'about'>): string => `${rule} ${about}`

/** Findings of a list, each under a key of its own: of two about one matter the second is told apart. */
export function keyed<F extends Pick<Finding, 'rule' | 'about'>>(
  findings: readonly F[],
): { key: string; finding: F }[] {
  const seen = new Map<string, number>()
  return findings.map((finding) => {
    const matter = matterOf(finding)
    const nth = (seen.get(matter) ?? 0) + 1
    seen.set(matter, nth)
    return { key: `${matter} ${nth}`, finding }
  })
}
