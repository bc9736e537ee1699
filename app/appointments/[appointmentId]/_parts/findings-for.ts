import type { Seen } from '#app/_live/seen.ts'
import { matterOf } from '#app/_ui/finding-keys.ts'
import { LEVELS } from '#shared/base/rule.ts'
import type { Finding } from '#shared/finding.ts'
import { can } from '#shared/people/role.ts'
import { findingKey } from '#shared/readiness/override.ts'
import { isAskedAlready } from '#shared/readiness/twins.ts'

/** What the shelf lacks is told to those who keep it, never to who treats. */
const isOfShelf = ({ rule }: Finding): boolean => rule === 'clamp/none-in-stock'

/**
 * All that the plan page lists for the one who looks: gravest first, the same finding once. Two of one rule that
 * differ, two places that were felt, are two; what the planner asks of a matter that was judged already is not.
 */
export function findingsFor({
  readiness: { open },
  isolation,
  member,
}: Pick<Seen, 'readiness' | 'isolation' | 'member'>): Finding[] {
  const judged = new Set(open.map(matterOf))
  const asked = (isolation?.findings ?? []).filter(
    (finding) => !isAskedAlready(finding.rule, open) && !judged.has(matterOf(finding)),
  )
  const theirs = [...open, ...asked].filter((each) => !isOfShelf(each) || can(member.roles, 'stock:count'))
  const once = new Map(theirs.map((finding) => [findingKey(finding), finding]))
  return [...once.values()].sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level))
}
