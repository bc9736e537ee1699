import type { Seen } from '#app/_live/seen.ts'
import { LEVELS } from '#shared/base/rule.ts'
import type { Finding } from '#shared/finding.ts'
import { can } from '#shared/people/role.ts'
import { isAskedAlready } from '#shared/readiness/twins.ts'

/** What the shelf lacks is told to those who keep it, never to who treats. */
const isOfShelf = ({ rule }: Finding): boolean => rule === 'clamp/none-in-stock'

/** All that the plan page lists for the one who looks: gravest first, the same finding once. */
export function findingsFor({
  readiness: { open },
  isolation,
  member,
}: Pick<Seen, 'readiness' | 'isolation' | 'member'>): Finding[] {
  const asked = (isolation?.findings ?? []).filter(({ rule }) => !isAskedAlready(rule, open))
  const theirs = [...open, ...asked].filter((each) => !isOfShelf(each) || can(member.roles, 'stock:count'))
  const once = new Map(theirs.map((finding) => [`${finding.rule} ${finding.about}`, finding]))
  return [...once.values()].sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level))
}
